// What is asked for each act on the permit.
#include "ui/screens/chrome.hpp"
#include "ui/screens/confirm_fields.hpp"
#include "ui/screens/permit_forms.hpp"

#include <algorithm>
#include <array>

namespace crossarm::ui {

namespace {

namespace permit = visit::permit;

class Fields {
public:
    Fields(const View& view, const FormOf& form, const FormDraft& draft)
        : view_(view), permit_(view.at_hand->permit), form_(form), draft_(draft) {}

    std::vector<FormField> of_act() {
        const std::string& act = form_.act;
        if (act == "prepared") {
            prepared();
        } else if (act.starts_with("point_")) {
            point();
        } else if (act == "supplies_asked") {
            supplies();
        } else if (act == "detector_proved" || act == "conductor_tested") {
            proof();
        } else if (act == "earth_end_on") {
            earth();
        } else if (act == "live_part_noted" || act == "zone_marked") {
            zone();
        } else if (act == "tools_out" || act == "tools_in") {
            add("count", Ask::Number).limits = {
                .decimals = 0, .digits = 3, .hard_low = 1.0, .hard_high = 500.0};
        } else if (act == "briefed" || act == "signed_on" || act == "signed_off") {
            people();
        } else if (act == "lead_decided") {
            lead();
        } else {
            holding();
        }
        return std::move(fields_);
    }

private:
    FormField& add(const std::string& name, Ask ask) {
        FormField field;
        field.name = name;
        field.question = view_.words.say("permit.ask." + name);
        field.ask = ask;
        fields_.push_back(std::move(field));
        return fields_.back();
    }
    // Options whose words stand under permit.answer.<group>.
    void offer(FormField& field, const std::string& group, std::initializer_list<const char*> names) const {
        for (const char* name : names) {
            field.options.push_back({name, view_.words.say("permit.answer." + group + "." + name)});
        }
    }
    void ask_person(const std::string& name, const std::set<std::string>& among,
                    const std::set<std::string>& but = {}) {
        FormField& field = add(name, Ask::Choice);
        for (const model::Person& person : view_.reg.people) {
            if (among.contains(person.id) && !but.contains(person.id)) {
                field.options.push_back({person.id, person.name});
            }
        }
    }
    void ask_pin(const std::string& person) { fields_.push_back(pin_field(view_, person)); }
    void sign(const std::string& person) { fields_.push_back(signature_field(view_, person)); }

    void prepared() {
        FormField& number = add("number", Ask::Words);
        number.options.push_back(
            {"offered", view_.at_hand->structure->id + "-" + model::to_text(model::day_of(view_.now))});
        offer(add("work", Ask::Words), "work", {view_.protocol().kind.c_str()});
        offer(add("limits", Ask::Words), "limits", {"this_structure"});
    }
    void point() {
        if (form_.act == "point_added") {
            offer(add("side", Ask::Choice), "side", {"hv", "lv"});
            const bool lv = draft_.answer("side") == "lv";
            offer(add("device", Ask::Words), lv ? "device_lv" : "device_hv",
                  lv ? std::initializer_list<const char*>{"breaker", "fuse_switch"}
                     : std::initializer_list<const char*>{"fuses", "switch", "jumpers"});
            offer(add("place", Ask::Words), "place", {"this_structure", "structure_before"});
        } else if (form_.act == "point_opened") {
            offer(add("position", Ask::Words), "position", {"gap_seen", "tubes_out", "tested_open"});
        } else if (form_.act == "point_locked") {
            add("lock", Ask::Words);
            add("label", Ask::Words);
            ask_person("key_held_by", permit_.powers.known);
        }
    }
    void supplies() {
        for (const char* one : {"generators", "solar", "ring"}) {
            offer(add(one, Ask::Choice), "supply", {"none", "locked_off", "earthed"});
        }
        offer(add("asked_of", Ask::Words), "asked_of", {"control_room", "customers"});
    }
    void proof() {
        const bool hv = form_.subject.starts_with("hv");
        const permit::Proof& proof = hv ? permit_.state.hv : permit_.state.lv;
        if (form_.act == "conductor_tested") {
            offer(add("result", Ask::Choice), "result", {"none", "indicated", "not_reached"});
            return;
        }
        if (!form_.subject.ends_with("/after")) {
            FormField& detector = add("detector", Ask::Words);
            for (const std::string& known : {permit_.state.hv.detector, permit_.state.lv.detector}) {
                if (!known.empty()) {
                    detector.options.push_back({known, known});
                }
            }
        }
        FormField& indicated = add("indicated", Ask::Choice);
        indicated.question = say(view_, "permit.ask.indicated", {{"detector", proof.detector}});
        offer(indicated, "indicated", {"yes", "no"});
    }
    void earth() {
        add("earth", Ask::Words);
        offer(add("side", Ask::Choice), "side", {"hv", "lv"});
        offer(add("kind", Ask::Choice), "kind", {"control", "working"});
        if (draft_.answer("kind") == "working") {
            ask_party();
        }
        offer(add("place", Ask::Words), "earth_place", {"this_structure", "line_side", "lv_terminals"});
        FormField& size = add("size", Ask::Choice);
        for (const char* mm2 : {"16", "25", "35", "50", "70", "95"}) {
            size.options.push_back({mm2, std::string(mm2) + "\u00A0mm²"});
        }
        const bool lv = draft_.answer("side") == "lv";
        const double least = lv ? permit_.rules.least_mm2_lv : permit_.rules.least_mm2_hv;
        if (least > 0) {
            size.question = say(view_, "permit.ask.size_least", {{"least", plain_number(least)}});
        }
        ask_person("fixed_by", permit_.powers.known);
    }
    void zone() {
        if (form_.act == "zone_marked") {
            offer(add("how", Ask::Words), "zone", {"tape", "flags"});
            return;
        }
        offer(add("what", Ask::Words), "live_part", {"line_above", "lv_mains", "next_feeder"});
        FormField& distance = add("distance", Ask::Number);
        distance.limits = {.decimals = 1, .digits = 4, .hard_low = 0.1, .hard_high = 500.0};
        distance.unit = "m";
    }
    void ask_party() {
        FormField& field = add("party", Ask::Choice);
        for (const permit::Party& party : permit_.state.parties) {
            field.options.push_back(
                {party.id,
                 say(view_, "permit.party", {{"party", party.id}, {"holder", view_.name_of(party.holder)}})});
        }
    }
    void people() {
        if (form_.act == "briefed") {
            offer(add("own_task", Ask::Choice), "own_task", {"said"});
            ask_pin(form_.subject);
            return;
        }
        if (form_.act == "signed_on") {
            std::set<std::string> off = permit_.powers.known;
            for (const auto& [person, party] : permit_.state.on) {
                off.erase(person);
            }
            ask_person("person", off);
            if (const std::string person = draft_.answer("person"); !person.empty()) {
                ask_pin(person);
            }
            return;
        }
        offer(add("said_by", Ask::Choice), "said_by", {"self", "other"});
        if (draft_.answer("said_by") == "other") {
            offer(add("reason", Ask::Words), "off_reason", {"left", "no_pin"});
            ask_pin(view_.who);
        } else {
            ask_pin(form_.subject);
        }
    }
    void lead() {
        offer(add("matter", Ask::Choice), "matter", {"earth_not_fitted", "tools_not_found"});
        if (draft_.answer("matter") == "tools_not_found") {
            ask_party();
        } else {
            offer(add("side", Ask::Choice), "side", {"hv", "lv"});
        }
        add("reason", Ask::Words);
        ask_pin(view_.who);
    }
    void ask_hours() {
        FormField& hours = add("hours", Ask::Choice);
        for (const int h : {1, 2, 4, 6, 8, 10, 12}) {
            if (static_cast<double>(h) <= permit_.rules.most_hours) {
                const model::Timestamp until{view_.now.utc_ms + h * std::int64_t{3'600'000},
                                             view_.now.offset_minutes};
                hours.options.push_back({std::to_string(h), say(view_, "permit.hours",
                                                                {{"hours", std::to_string(h)},
                                                                 {"at", model::clock_for_people(until)}})});
            }
        }
    }
    void holding() {
        const permit::Party* party = permit_.party(form_.subject);
        const std::string holder = party == nullptr ? "" : party->holder;
        const std::string& act = form_.act;
        if (act == "issued") {
            ask_person("holder", permit_.powers.may_accept, {view_.who});
            ask_hours();
            ask_person("second", permit_.powers.known, {view_.who, draft_.answer("holder")});
            sign(view_.who);
            ask_pin(view_.who);
            ask_second_pin();
        } else if (act == "accepted" || act == "handed_back") {
            if (act == "handed_back") {
                offer(add("remarks", Ask::Words), "remarks", {"clear", "not_finished"});
            }
            sign(holder);
            ask_pin(holder);
        } else if (act == "suspended") {
            offer(add("reason", Ask::Words), "suspend_reason", {"storm", "find", "pause"});
        } else if (act == "transferred") {
            ask_person("holder", permit_.powers.may_accept, {holder, view_.who});
            ask_pin(view_.who);
        } else if (act == "extended") {
            ask_hours();
            ask_pin(view_.who);
        } else if (act == "resumed" || act == "taken_back") {
            ask_pin(view_.who);
        } else if (act == "cancelled") {
            ask_person("second", permit_.powers.known, {view_.who});
            sign(view_.who);
            ask_pin(view_.who);
            ask_second_pin();
        }
    }
    void ask_second_pin() {
        if (const std::string second = draft_.answer("second"); !second.empty()) {
            ask_pin(second);
        }
    }

    const View& view_;
    const PermitView& permit_;
    const FormOf& form_;
    const FormDraft& draft_;
    std::vector<FormField> fields_;
};

} // namespace

std::vector<FormField> fields_of(const View& view, const FormOf& form, const FormDraft& draft) {
    return Fields(view, form, draft).of_act();
}

} // namespace crossarm::ui
