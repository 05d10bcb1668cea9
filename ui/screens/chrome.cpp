#include "ui/screens/chrome.hpp"

#include "ui/screens/permit_step.hpp"
#include "ui/touch/band.hpp"
#include "ui/touch/button.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/text.hpp"

namespace crossarm::ui {

namespace {

std::string joined(const std::vector<std::string>& parts, const std::string& between = ", ") {
    std::string out;
    for (const std::string& part : parts) {
        out += (out.empty() ? "" : between) + part;
    }
    return out;
}

struct ValueText {
    const View& view;
    const model::Checkpoint* checkpoint;

    [[nodiscard]] int decimals() const {
        if (checkpoint != nullptr) {
            if (const auto* number = std::get_if<model::NumberInput>(&checkpoint->input)) {
                return number->decimals;
            }
            if (const auto* numbers = std::get_if<model::NumbersInput>(&checkpoint->input)) {
                return numbers->decimals;
            }
        }
        return 2;
    }
    std::string operator()(model::Grade grade) const { return view.words.say(grade); }
    std::string operator()(const model::Choice& choice) const {
        std::vector<std::string> parts;
        const auto* input =
            checkpoint == nullptr ? nullptr : std::get_if<model::ChoiceInput>(&checkpoint->input);
        for (const std::string& picked : choice.picked) {
            std::string text = view.name_of(picked);
            if (input != nullptr) {
                for (const model::Option& option : input->options) {
                    text = option.id == picked ? option.title : text;
                }
            }
            parts.push_back(text);
        }
        return joined(parts);
    }
    std::string operator()(const model::Quantity& quantity) const {
        return model::for_people(quantity, decimals());
    }
    std::string operator()(const model::Readings& readings) const {
        std::vector<std::string> parts;
        for (const model::Quantity& one : readings.values) {
            parts.push_back(model::number_for_people(one.value, decimals()));
        }
        const std::string_view unit =
            readings.values.empty() ? "" : model::symbol(readings.values.front().unit);
        return joined(parts) + (unit.empty() ? "" : "\xC2\xA0" + std::string(unit));
    }
    std::string operator()(const model::Remark& remark) const { return remark.text; }
    std::string operator()(const model::OutOfReach& out) const {
        return say(view, "value.out_of_reach", {{"reason", out.reason}});
    }
    std::string operator()(const model::NotFitted&) const { return view.words.say("mark.not_fitted"); }
};

} // namespace

std::string say(const View& view, std::string key,
                std::vector<std::pair<std::string, model::Phrase::Value>> values) {
    return view.words.say(model::Phrase{std::move(key), std::move(values)});
}

std::string say_reason(const View& view, model::Phrase why) {
    for (auto& [place, value] : why.values) {
        if (auto* text = std::get_if<std::string>(&value)) {
            *text = view.name_of(*text);
        }
    }
    return view.words.say(why);
}

std::string value_text(const View& view, const model::Checkpoint* checkpoint, const model::Value& value) {
    return std::visit(ValueText{view, checkpoint}, value);
}

std::optional<Mark> mark_at(const View& view, const std::string& checkpoint) {
    const visit::Answer* answer = answer_at(view, checkpoint);
    if (answer == nullptr) {
        return Mark::Unseen;
    }
    if (std::holds_alternative<model::OutOfReach>(answer->finding.value)) {
        return Mark::OutOfReach;
    }
    if (std::holds_alternative<model::NotFitted>(answer->finding.value)) {
        return Mark::NotFitted;
    }
    const auto grade =
        visit::grade_at(view.protocol(), view.at_hand->state, view.at_hand->assessed, checkpoint);
    return grade ? std::optional(mark_of(*grade)) : std::nullopt;
}

std::string_view state_key(store::HandOver state) {
    switch (state) {
    case store::HandOver::Written:
        return "hand_over.state.written";
    case store::HandOver::HandedOver:
        return "hand_over.state.handed_over";
    case store::HandOver::Received:
        return "hand_over.state.received";
    }
    return "";
}

std::string hand_over_text(const View& view, const RoundLine& line) {
    if (!line.visit) {
        return view.words.say("round.not_begun");
    }
    if (!line.bundle) {
        return view.words.say(line.is_signed ? "round.signed" : "round.kept");
    }
    return view.words.say(state_key(*line.bundle));
}

Place to_step(const View& view, const std::string& step) {
    return step == "brief" ? Place{Screen::Briefing, view.at_hand->structure->id, "", ""}
                           : Place{Screen::Permit, view.at_hand->structure->id, step, ""};
}

namespace {

// Earths on and who holds it; why it is to be treated as live, or what was decided.
std::string band_fact(const View& view, const visit::Band& now) {
    std::vector<std::string> parts;
    if (now.earths_on > 0) {
        parts.push_back(say(view, now.earths_on == 1 ? "band.earths_one" : "band.earths",
                            {{"earths", std::to_string(now.earths_on)}}));
    }
    if (now.in_force()) {
        std::vector<std::string> holders;
        for (const std::string& holder : now.holders) {
            holders.push_back(view.name_of(holder));
        }
        parts.push_back(say(view, "band.holders", {{"holders", joined(holders)}}));
    }
    if (!now.reason.key.empty()) {
        parts.insert(now.in_force() ? parts.end() : parts.begin(),
                     view.words.say(with_names(view.reg, now.reason)));
    }
    return joined(parts, " ");
}

} // namespace

void draw_band(Touch& touch, const View& view, Wishes& wishes) {
    if (!view.at_hand) {
        band(touch, BandState::TreatAsLive, touch.say("band.live"), touch.say("band.no_visit"));
        return;
    }
    const visit::Band& now = view.at_hand->band;
    const std::string stop = view.at_hand->permit.works() ? touch.say("band.stop") : std::string();
    const bool exception = now.kind == visit::Band::Kind::InForceWithException;
    const std::string words = !now.in_force() ? touch.say("band.live")
                                              : say(view, exception ? "band.permit_exception" : "band.permit",
                                                    {{"permit", now.permit}});
    const BandState look = now.in_force() ? BandState::PermitInForce : BandState::TreatAsLive;
    if (band(touch, look, words, band_fact(view, now), stop)) {
        wishes.push_back(
            Mean{visit::ActOnPermit{model::permit::Suspended{"", touch.say("band.stop_reason")}}});
    }
}

void draw_visit_head(Touch& touch, const View& view) {
    const AtHand& at_hand = *view.at_hand;
    heading(touch, at_hand.structure->id + "  " + at_hand.structure->name);
    std::string line;
    if (at_hand.stage < view.protocol().stages.size()) {
        line = say(view, "head.stage",
                   {{"number", std::to_string(at_hand.stage + 1)},
                    {"of", std::to_string(view.protocol().stages.size())},
                    {"stage", view.protocol().stages[at_hand.stage].title}});
        if (const int unseen = at_hand.unseen; unseen > 0) {
            line += "  " + say(view, unseen == 1 ? "head.unseen_one" : "head.unseen",
                               {{"count", std::to_string(unseen)}});
        }
    }
    line += "\n" + say(view, "head.kept",
                       {{"count", std::to_string(at_hand.state.entries)},
                        {"at", model::clock_for_people(at_hand.state.last_at)}});
    text(touch, line, {.role = Role::QuietWords});
}

void draw_notice(Touch& touch, const View& view, Wishes& wishes, std::string_view here) {
    const Scope scope(touch, "notice");
    if (!view.notice.empty()) {
        text(touch, view.notice, {.weight = Weight::Bold, .role = Role::Warning});
        if (!view.notice_step.empty() && view.notice_step != here && view.at_hand) {
            const std::string title = step_title(view, view.notice_step);
            if (button(touch, "take_me", say(view, "notice.take_me", {{"title", title}}))) {
                wishes.push_back(GoTo{to_step(view, view.notice_step)});
            }
        } else if (!view.notice_checkpoint.empty() && view.notice_checkpoint != here && view.at_hand) {
            const model::Checkpoint* at = view.protocol().checkpoint(view.notice_checkpoint);
            if (at != nullptr &&
                button(touch, "take_me", say(view, "notice.take_me", {{"title", at->title}}))) {
                wishes.push_back(
                    GoTo{{Screen::Checkpoint, view.at_hand->structure->id, "", view.notice_checkpoint}});
            }
        }
    } else if (!view.told.empty()) {
        text(touch, view.told, {.weight = Weight::Bold});
    } else if (view.just_kept) {
        text(touch, touch.say("notice.kept"), {.weight = Weight::Bold});
    }
}

void draw_holder(Touch& touch, const View& view, Wishes& wishes) {
    const std::string label = view.who.empty()
                                  ? touch.say("round.nobody")
                                  : say(view, "round.holder", {{"name", view.name_of(view.who)}});
    if (button(touch, "who", label, {.emphasis = view.who.empty() ? Emphasis::Main : Emphasis::Plain})) {
        const std::string structure = view.at_hand ? view.at_hand->structure->id : std::string();
        wishes.push_back(GoTo{{Screen::People, structure, "", ""}});
    }
}

void draw_back(Touch& touch, Wishes& wishes) {
    if (button(touch, "back", touch.say("button.back"))) {
        wishes.push_back(GoBack{});
    }
}

} // namespace crossarm::ui
