#include "ui/screens/permit_forms.hpp"

#include "ui/screens/chrome.hpp"

#include <algorithm>
#include <charconv>
#include <functional>
#include <map>

namespace crossarm::ui {

namespace {

namespace acts = model::permit;

// What an act is made from.
struct Given {
    const View& view;
    const PermitView& permit;
    const FormOf& form;
    const FormDraft& draft;

    [[nodiscard]] std::string at(std::string_view field) const { return draft.answer(field); }
    [[nodiscard]] acts::Side side() const {
        return at("side") == "lv" || form.subject.starts_with("lv") ? acts::Side::Lv : acts::Side::Hv;
    }
    [[nodiscard]] std::string after_slash() const {
        const std::size_t slash = form.subject.find('/');
        return slash == std::string::npos ? std::string() : form.subject.substr(slash + 1);
    }
    [[nodiscard]] double number(std::string_view field) const {
        const std::string text = at(field);
        double value = 0;
        std::from_chars(text.data(), text.data() + text.size(), value);
        return value;
    }
    [[nodiscard]] model::Timestamp until() const {
        return {view.now.utc_ms + static_cast<std::int64_t>(number("hours")) * 3'600'000,
                view.now.offset_minutes};
    }
    [[nodiscard]] acts::Signing signing() const { return {permit.sheet_digest, at("signature")}; }
};

// "HV2" when there is an HV1.
std::string next_point(const Given& g) {
    const char* beginning = g.side() == acts::Side::Hv ? "HV" : "LV";
    int number = 1;
    while (g.permit.point(beginning + std::to_string(number)) != nullptr) {
        ++number;
    }
    return beginning + std::to_string(number);
}

std::string next_party(const Given& g) {
    char letter = 'A';
    while (letter < 'Z' && g.permit.party(std::string(1, letter)) != nullptr) {
        ++letter;
    }
    return std::string(1, letter);
}

using Make = std::function<acts::Act(const Given&)>;

const std::map<std::string, Make, std::less<>>& makers() {
    static const std::map<std::string, Make, std::less<>> all = {
        {"prepared",
         [](const Given& g) { return acts::Prepared{g.at("number"), g.at("work"), g.at("limits")}; }},
        {"point_added",
         [](const Given& g) {
             return acts::PointAdded{next_point(g), g.at("device"), g.at("place"), g.side()};
         }},
        {"point_opened", [](const Given& g) { return acts::PointOpened{g.form.subject, g.at("position")}; }},
        {"point_locked",
         [](const Given& g) {
             return acts::PointLocked{g.form.subject, g.at("lock"), g.at("label"), g.at("key_held_by")};
         }},
        {"point_unlocked", [](const Given& g) { return acts::PointUnlocked{g.form.subject}; }},
        {"supplies_asked",
         [](const Given& g) {
             return acts::SuppliesAsked{g.at("generators"), g.at("solar"), g.at("ring"), g.at("asked_of")};
         }},
        {"detector_proved",
         [](const Given& g) {
             const bool after = g.after_slash() == "after";
             const auto& proof = g.side() == acts::Side::Hv ? g.permit.state.hv : g.permit.state.lv;
             return acts::DetectorProved{g.side(), after ? proof.detector : g.at("detector"), after,
                                         g.at("indicated") == "yes"};
         }},
        {"conductor_tested",
         [](const Given& g) { return acts::ConductorTested{g.side(), g.after_slash(), g.at("result")}; }},
        {"earth_end_on",
         [](const Given& g) {
             const bool working = g.at("kind") == "working";
             return acts::EarthEndOn{
                 g.at("earth"),   working ? acts::EarthKind::Working : acts::EarthKind::Control,
                 g.side(),        g.at("party"),
                 g.at("place"),   g.at("fixed_by"),
                 g.number("size")};
         }},
        {"line_end_on", [](const Given& g) { return acts::LineEndOn{g.form.subject}; }},
        {"line_end_off", [](const Given& g) { return acts::LineEndOff{g.form.subject}; }},
        {"earth_end_off", [](const Given& g) { return acts::EarthEndOff{g.form.subject}; }},
        {"live_part_noted",
         [](const Given& g) { return acts::LivePartNoted{g.at("what"), g.number("distance")}; }},
        {"zone_marked", [](const Given& g) { return acts::ZoneMarked{g.at("how")}; }},
        {"briefed", [](const Given& g) { return acts::Briefed{g.form.subject}; }},
        {"issued",
         [](const Given& g) {
             return acts::Issued{next_party(g), g.at("holder"), g.until(), g.at("second"), g.signing()};
         }},
        {"accepted", [](const Given& g) { return acts::Accepted{g.form.subject, g.signing()}; }},
        {"suspended", [](const Given& g) { return acts::Suspended{g.form.subject, g.at("reason")}; }},
        {"resumed", [](const Given& g) { return acts::Resumed{g.form.subject}; }},
        {"transferred", [](const Given& g) { return acts::Transferred{g.form.subject, g.at("holder")}; }},
        {"extended", [](const Given& g) { return acts::Extended{g.form.subject, g.until()}; }},
        {"taken_back", [](const Given& g) { return acts::TakenBack{g.form.subject}; }},
        {"signed_on", [](const Given& g) { return acts::SignedOn{g.form.subject, g.at("person")}; }},
        {"signed_off", [](const Given& g) { return acts::SignedOff{g.form.subject, g.at("reason")}; }},
        {"tools_out",
         [](const Given& g) { return acts::ToolsOut{g.form.subject, static_cast<int>(g.number("count"))}; }},
        {"tools_in",
         [](const Given& g) { return acts::ToolsIn{g.form.subject, static_cast<int>(g.number("count"))}; }},
        {"lead_decided",
         [](const Given& g) {
             const bool tools = g.at("matter") == "tools_not_found";
             return acts::LeadDecided{g.at("matter"), tools ? g.at("party") : g.at("side"), g.at("reason")};
         }},
        {"handed_back",
         [](const Given& g) { return acts::HandedBack{g.form.subject, g.at("remarks"), g.signing()}; }},
        {"cancelled", [](const Given& g) { return acts::Cancelled{g.at("second"), g.signing()}; }},
    };
    return all;
}

} // namespace

FormOf form_of(std::string_view text) {
    const std::size_t colon = text.find(':');
    return {std::string(text.substr(0, colon)),
            colon == std::string_view::npos ? std::string() : std::string(text.substr(colon + 1))};
}

std::string to_text(const FormOf& form) {
    return form.subject.empty() ? form.act : form.act + ":" + form.subject;
}

std::optional<model::permit::Act> act_of(const View& view, const FormOf& form, const FormDraft& draft) {
    const auto make = makers().find(form.act);
    if (make == makers().end() || !is_answered(fields_of(view, form, draft), draft)) {
        return std::nullopt;
    }
    return make->second(Given{view, view.at_hand->permit, form, draft});
}

std::string title_of(const View& view, const FormOf& form) {
    const std::size_t slash = form.subject.find('/');
    const std::string about = form.act == "briefed" || form.act == "signed_off" ? view.name_of(form.subject)
                              : slash == std::string::npos                      ? form.subject
                                                           : form.subject.substr(slash + 1);
    std::string key = "permit.act." + form.act;
    if (form.act == "detector_proved") {
        key += about == "after" ? "_after" : "_before";
    }
    return say(view, key, {{"about", about}});
}

bool shows_sheet(const FormOf& form) {
    return form.act == "issued" || form.act == "accepted" || form.act == "handed_back" ||
           form.act == "cancelled";
}

FormConfirm confirm_of(const View& view, const FormOf& form) {
    const bool held = shows_sheet(form) || form.act == "lead_decided";
    if (!held) {
        return {.label = view.words.say("permit.confirm.record")};
    }
    return {.label = say(view, "permit.confirm." + form.act, {{"number", view.at_hand->permit.state.number}}),
            .consequence = view.words.say("permit.consequence." + form.act)};
}

} // namespace crossarm::ui
