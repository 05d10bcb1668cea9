#include "ui/screens/session.hpp"

#include "checklist/visit/clock_facts.hpp"
#include "checklist/visit/haste.hpp"
#include "ui/screens/bundle_out.hpp"
#include "ui/screens/label_out.hpp"
#include "ui/screens/permit_out.hpp"
#include "ui/screens/round_lines.hpp"

#include <algorithm>

namespace crossarm::ui {

namespace {

void work_out(const View& view, AtHand& at_hand) {
    const visit::Ground ground = view.ground();
    const std::string stage =
        at_hand.stage < view.protocol().stages.size() ? view.protocol().stages[at_hand.stage].id : "";
    at_hand.missing =
        visit::missing_for_stage(visit::setting_of(ground, at_hand.state), at_hand.state, stage);
    at_hand.missing_for_signing = visit::missing_for_signing(ground, at_hand.state);
    for (std::vector<visit::Missing>* list : {&at_hand.missing, &at_hand.missing_for_signing}) {
        for (visit::Missing& one : *list) {
            one.why = with_names(view.reg, std::move(one.why));
        }
    }
    at_hand.undecided = visit::undecided_dangers(view.protocol(), at_hand.state, at_hand.assessed);
    at_hand.may_break_off = visit::may_break_off(ground, at_hand.state);
    at_hand.unseen = static_cast<int>(std::ranges::count_if(
        at_hand.missing, [](const visit::Missing& one) { return one.why.key == "missing.unseen"; }));
    at_hand.locks.clear();
    for (const model::Checkpoint& checkpoint : view.protocol().checkpoints) {
        if (auto refusal = visit::why_not(ground, at_hand.state, at_hand.undecided, checkpoint.id)) {
            refusal->why = with_names(view.reg, std::move(refusal->why));
            at_hand.locks.emplace(checkpoint.id, std::move(*refusal));
        }
    }
    for (const model::Part& part : view.protocol().parts) {
        at_hand.parts[part.id] =
            visit::standing(view.protocol(), *at_hand.structure, at_hand.state, at_hand.assessed, part.id);
    }
}

visit::Band band_of(const View& view, const AtHand& at_hand) {
    const visit::Setting setting = visit::setting_of(view.ground(), at_hand.state);
    return visit::band(at_hand.state.permit, setting.rules, setting.now);
}

} // namespace

model::Phrase with_names(const model::Register& reg, model::Phrase phrase) {
    for (auto& [place, value] : phrase.values) {
        const auto* text = std::get_if<std::string>(&value);
        if (const model::Person* person = text == nullptr ? nullptr : reg.person(*text)) {
            value = person->name;
        }
    }
    return phrase;
}

const visit::Answer* answer_at(const View& view, const std::string& checkpoint) {
    return view.at_hand ? visit::answer_at(view.at_hand->state, checkpoint) : nullptr;
}

const visit::Assessed* assessed_at(const View& view, const std::string& checkpoint) {
    if (!view.at_hand) {
        return nullptr;
    }
    const auto found = std::ranges::find(view.at_hand->assessed, checkpoint, &visit::Assessed::checkpoint);
    return found == view.at_hand->assessed.end() ? nullptr : &*found;
}

Session::Session(Supplies supplies)
    : supplies_(std::move(supplies)), view_{.reg = supplies_.reg,
                                            .of_visit = &supplies_.protocols.front(),
                                            .limits = supplies_.limits,
                                            .words = supplies_.words,
                                            .office = supplies_.office,
                                            .day_pack = supplies_.day_pack,
                                            .bundles_folder = supplies_.bundles_folder,
                                            .now = supplies_.clock(),
                                            .who = {},
                                            .round = {},
                                            .at_hand = std::nullopt,
                                            .notice = {},
                                            .notice_checkpoint = {},
                                            .notice_step = {},
                                            .told = {},
                                            .just_kept = false},
      way_{Place{}} {
    refresh_pins();
    refresh_round();
    take_up_work();
}

// After a start: the visit in which people were at work, when there is one.
void Session::take_up_work() {
    for (const RoundLine& line : view_.round) {
        if (line.visit && !line.is_signed) {
            load_visit(line.structure);
            if (view_.at_hand && view_.at_hand->permit.works()) {
                return;
            }
        }
    }
    view_.at_hand.reset();
}

void Session::say(const model::Problem& problem) {
    view_.notice = model::to_text(problem);
}

void Session::refresh_round() {
    view_.round = round_lines(supplies_.reg, supplies_.store.visits(), supplies_.store.outbox());
}

const model::Protocol* Session::protocol_of(const std::string& id) const {
    const auto found = std::ranges::find(supplies_.protocols, id, &model::Protocol::id);
    return found == supplies_.protocols.end() ? nullptr : &*found;
}

void Session::load_visit(const std::string& structure) {
    const auto line = std::ranges::find(view_.round, structure, &RoundLine::structure);
    if (line == view_.round.end() || !line->visit) {
        view_.at_hand.reset();
        const model::Protocol* due = line == view_.round.end() ? nullptr : protocol_of(line->kind);
        view_.of_visit = due == nullptr ? &supplies_.protocols.front() : due;
        return;
    }
    drafts_.list_view = false;
    drafts_.break_off = false;
    AtHand at_hand;
    at_hand.visit = *line->visit;
    at_hand.structure = supplies_.reg.structure(structure);
    view_.at_hand = std::move(at_hand);
    refresh();
}

void Session::look_at_clock() {
    view_.now = supplies_.clock();
    // A permit runs out by itself: what the band says and what is locked follow the clock.
    if (view_.at_hand && band_of(view_, *view_.at_hand) != view_.at_hand->band) {
        rework();
    }
}

void Session::rework() {
    AtHand& at_hand = *view_.at_hand;
    at_hand.band = band_of(view_, at_hand);
    at_hand.permit =
        permit_view(at_hand.state.permit, *at_hand.structure, supplies_.limits, supplies_.reg, view_.now);
    at_hand.stage = visit::current_stage(view_.setting(), at_hand.state);
    work_out(view_, at_hand);
}

void Session::refresh() {
    AtHand& at_hand = *view_.at_hand;
    view_.now = supplies_.clock();
    const auto entries = supplies_.store.entries(at_hand.visit);
    if (!entries) {
        say(entries.problem());
        view_.at_hand.reset();
        return;
    }
    at_hand.state = visit::fold(*entries, visit::permit::rules_from(supplies_.limits, *at_hand.structure));
    const model::Protocol* protocol = protocol_of(at_hand.state.protocol);
    if (protocol == nullptr) {
        say({supplies_.office, "this tablet has no protocol " + at_hand.state.protocol,
             "put the program's newest assets on it"});
        view_.at_hand.reset();
        return;
    }
    view_.of_visit = protocol;
    at_hand.assessed =
        visit::assess(view_.protocol(), *at_hand.structure, supplies_.reg, supplies_.limits, at_hand.state);
    at_hand.facts = visit::haste(view_.protocol(), supplies_.reg, *entries);
    for (visit::Fact& fact : visit::clock_facts(*entries, view_.now)) {
        at_hand.facts.push_back(std::move(fact));
    }
    at_hand.head = supplies_.store.head(at_hand.visit);
    at_hand.bundle = supplies_.store.bundle_of(at_hand.visit);
    rework();
}

void Session::go(const Place& place) {
    // A visit under whose permit people work stays at hand: band and stop key are about it on every screen.
    const bool works = view_.at_hand && view_.at_hand->permit.works();
    if (place.screen == Screen::Round) {
        way_.assign(1, Place{});
        if (!works) {
            view_.at_hand.reset();
        }
        refresh_round();
        return;
    }
    if (!place.structure.empty() && (!view_.at_hand || view_.at_hand->structure->id != place.structure)) {
        if (works) {
            view_.notice = supplies_.words.say(
                model::Phrase{"round.work_goes_on", {{"structure", view_.at_hand->structure->id}}});
            return;
        }
        load_visit(place.structure);
    }
    // Going to a place one came from goes back to it, so that the way never winds.
    const auto before = std::ranges::find(way_, place);
    if (before != way_.end()) {
        way_.erase(before + 1, way_.end());
    } else {
        way_.push_back(place);
    }
    drafts_.belong_to(place.checkpoint);
}

void Session::mean(const visit::Intent& intent, const std::string& who,
                   const std::vector<std::string>& confirmed) {
    const bool opens = std::holds_alternative<visit::OpenVisit>(intent);
    const visit::State nothing_yet;
    const visit::State& state = view_.at_hand && !opens ? view_.at_hand->state : nothing_yet;
    // One moment for the decision and for the entries that it makes.
    const model::Timestamp now = supplies_.clock();
    view_.now = now;
    const visit::Decided decided = visit::decide(view_.ground(), state, intent, who);
    if (const auto* refusal = std::get_if<visit::Refusal>(&decided)) {
        view_.notice = supplies_.words.say(with_names(supplies_.reg, refusal->why));
        view_.notice_checkpoint = refusal->checkpoint;
        view_.notice_step = refusal->step;
        return;
    }
    if (!are_confirmed(intent, who, confirmed)) {
        return;
    }
    const auto& bodies = std::get<std::vector<model::Body>>(decided);
    const model::Id visit_id =
        opens || !view_.at_hand ? supplies_.store.new_visit(now) : view_.at_hand->visit;
    if (!bodies.empty()) {
        const auto kept = supplies_.store.append(visit_id, bodies, now, who);
        if (!kept) {
            say(kept.problem());
            return;
        }
        view_.just_kept = true;
    }
    if (const auto* open = std::get_if<visit::OpenVisit>(&intent)) {
        refresh_round();
        load_visit(open->structure);
    } else if (!bodies.empty()) {
        refresh();
    }
    if (view_.at_hand) { // when it could not be read back the notice says so, and the round is shown
        after_keeping(intent);
    }
}

// Where the finger is taken once its meaning is on the disk.
void Session::after_keeping(const visit::Intent& intent) {
    drafts_.belong_to("");
    // From a form back to the step, the briefing or the list it was opened from.
    const bool leaves_form =
        std::holds_alternative<visit::DecideDanger>(intent) ||
        (std::holds_alternative<visit::ActOnPermit>(intent) && !way_.back().checkpoint.empty());
    if (const auto* record = std::get_if<visit::Record>(&intent)) {
        const std::string& checkpoint = record->finding.checkpoint;
        const visit::Answer* answer = answer_at(view_, checkpoint);
        const model::Option* option =
            answer == nullptr ? nullptr
                              : visit::picked_option(*view_.protocol().checkpoint(checkpoint), *answer);
        const bool must_be_read =
            assessed_at(view_, checkpoint) != nullptr || (option != nullptr && !option->stops.empty());
        if (!must_be_read) {
            go_on();
        }
    } else if (leaves_form) {
        go_back();
    } else if (std::holds_alternative<visit::SignVisit>(intent)) {
        while (way_.size() > 1 && way_.back().screen == Screen::SignOff) {
            way_.pop_back();
        }
        go({Screen::HandOver, view_.at_hand->structure->id, "", ""});
    } else if (std::holds_alternative<visit::BreakOff>(intent)) {
        drafts_.break_off = false;
    } else if (std::holds_alternative<visit::FinishStage>(intent)) {
        drafts_.list_view = false; // the next stage begins in its own view
    }
    drafts_.belong_to(way_.back().checkpoint);
}

void Session::go_back() {
    if (way_.size() > 1) {
        way_.pop_back();
    }
    if (way_.back().screen == Screen::Round) {
        go(Place{});
    }
    drafts_.belong_to(way_.back().checkpoint);
}

// In a read-then-do stage the next open step comes by itself; elsewhere back to where the list is.
void Session::go_on() {
    const Place here = way_.back();
    if (!view_.at_hand || here.screen != Screen::Checkpoint) {
        return;
    }
    go_back();
    const model::Checkpoint* at = view_.protocol().checkpoint(here.checkpoint);
    const model::Stage* stage = view_.protocol().stage(at->stage);
    if (stage == nullptr || stage->order != model::Order::ReadThenDo) {
        return;
    }
    for (const model::Checkpoint& next : view_.protocol().checkpoints) {
        if (next.stage == at->stage && next.needed && answer_at(view_, next.id) == nullptr &&
            visit::is_asked(next, *view_.at_hand->structure, view_.at_hand->state)) {
            if (!view_.at_hand->locks.contains(next.id)) {
                go({Screen::Checkpoint, here.structure, "", next.id});
            }
            return;
        }
    }
}

void Session::write_bundle() {
    if (!view_.at_hand) {
        return;
    }
    if (const auto written = write_out(supplies_.store, view_, supplies_.clock()); !written) {
        say(written.problem());
        return;
    }
    refresh();
}

void Session::tell_written(const model::Result<std::string>& written, const char* told) {
    if (!written) {
        say(written.problem());
        return;
    }
    view_.told = supplies_.words.say(model::Phrase{told, {{"file", *written}}});
}

void Session::clear_notices() {
    view_.notice.clear();
    view_.notice_checkpoint.clear();
    view_.notice_step.clear();
    view_.pin_notice.clear();
    view_.told.clear();
    view_.just_kept = false;
}

void Session::carry_out_one(const Wish& wish) {
    if (const auto* to = std::get_if<GoTo>(&wish)) {
        go(to->place);
    } else if (std::holds_alternative<GoBack>(wish)) {
        go_back();
    } else if (std::holds_alternative<GoOn>(wish)) {
        go_on();
    } else if (const auto* person = std::get_if<TakeOver>(&wish)) {
        take_over(*person);
    } else if (const auto* fresh = std::get_if<SetPin>(&wish)) {
        set_pin(*fresh);
    } else if (const auto* meant = std::get_if<Mean>(&wish)) {
        mean(meant->intent, view_.who, {});
    } else if (const auto* confirmed = std::get_if<MeanWithPins>(&wish)) {
        mean_with_pins(*confirmed);
    } else if (std::holds_alternative<WriteLabel>(wish) && view_.at_hand) {
        tell_written(write_sample_label(view_), "told.label");
    } else if (std::holds_alternative<WritePermit>(wish) && view_.at_hand) {
        tell_written(write_permit_page(view_), "told.permit");
    } else if (std::holds_alternative<WriteBundle>(wish)) {
        write_bundle();
    } else if (std::holds_alternative<SayHandedOver>(wish) && view_.at_hand && view_.at_hand->bundle) {
        const store::OutboxRow& row = *view_.at_hand->bundle;
        if (const auto marked =
                supplies_.store.mark_bundle(row.digest, store::HandOver::HandedOver, row.file);
            !marked) {
            say(marked.problem());
        }
        refresh();
    }
}

bool Session::carry_out(Wishes wishes) {
    const Place before = way_.back();
    for (Wish& wish : wishes) {
        if (const auto fault = supplies_.store.fault()) {
            say(*fault); // what is on the screen was true before the fault; nothing after it is
            return false;
        }
        clear_notices();
        carry_out_one(wish);
        wipe_pins(wish);
    }
    return !(before == way_.back());
}

} // namespace crossarm::ui
