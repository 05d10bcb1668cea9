#include "ui/screens/permit_step.hpp"

#include "ui/screens/chrome.hpp"
#include "ui/screens/permit_sheet.hpp"

#include <algorithm>

namespace crossarm::ui {

namespace {

namespace permit = visit::permit;
using permit::Holding;

using Forms = std::vector<FormOf>;

bool holds(const permit::Party& party) {
    return party.holding == Holding::Accepted || party.holding == Holding::Suspended;
}

void add_points(const PermitView& permit, Forms& forms) {
    for (const permit::Point& point : permit.state.points) {
        if (!point.open) {
            forms.push_back({"point_opened", point.id});
        } else if (!point.locked) {
            forms.push_back({"point_locked", point.id});
        }
    }
    forms.push_back({"point_added", ""});
}

void add_proof(const permit::Proof& proof, permit::Side side, Forms& forms) {
    const std::string name = side == permit::Side::Hv ? "hv" : "lv";
    bool all = true;
    if (proof.before && !proof.after) {
        for (const std::string_view conductor : permit::conductors(side)) {
            if (!proof.without_indication.contains(conductor)) {
                forms.push_back({"conductor_tested", name + "/" + std::string(conductor)});
                all = false;
            }
        }
        if (all) {
            forms.push_back({"detector_proved", name + "/after"});
        }
    }
    forms.push_back({"detector_proved", name});
}

void add_earths(const PermitView& permit, std::string_view step, Forms& forms) {
    for (const permit::Earth& earth : permit.state.earths) {
        const bool working = earth.kind == permit::EarthKind::Working;
        if ((step == "working_earths" && !working) || (step == "control_earths" && working)) {
            continue;
        }
        if (earth.line_end) {
            forms.push_back({"line_end_off", earth.id});
        } else if (earth.earth_end) {
            forms.push_back({"line_end_on", earth.id});
            forms.push_back({"earth_end_off", earth.id});
        }
    }
    if (step != "control_earths") {
        forms.push_back({"earth_end_on", ""});
    }
}

void add_party(const permit::Party& party, Forms& forms) {
    switch (party.holding) {
    case Holding::Issued:
        forms.insert(forms.end(), {{"accepted", party.id},
                                   {"extended", party.id},
                                   {"suspended", party.id},
                                   {"taken_back", party.id}});
        break;
    case Holding::Accepted:
        forms.insert(forms.end(), {{"signed_on", party.id},
                                   {"tools_out", party.id},
                                   {"tools_in", party.id},
                                   {"suspended", party.id},
                                   {"extended", party.id},
                                   {"handed_back", party.id}});
        break;
    case Holding::Suspended:
        forms.insert(forms.end(), {{"resumed", party.id},
                                   {"transferred", party.id},
                                   {"extended", party.id},
                                   {"tools_in", party.id},
                                   {"handed_back", party.id}});
        break;
    case Holding::HandedBack:
    case Holding::TakenBack:
        break;
    }
}

void add_people(const PermitView& permit, Forms& forms) {
    for (const permit::Party& party : permit.state.parties) {
        if (party.holding == Holding::Accepted) {
            forms.push_back({"signed_on", party.id});
        }
    }
    for (const auto& [person, party] : permit.state.on) {
        forms.push_back({"signed_off", person});
    }
}

std::string parties_for_people(const View& view) {
    std::string lines;
    for (const permit::Party& party : view.at_hand->permit.state.parties) {
        lines += (lines.empty() ? "" : "\n") + party_for_people(view, party);
    }
    return lines.empty() ? view.words.say("permit.line.no_party") : lines;
}

std::string_view party_named(std::string_view step) {
    return step.starts_with("party:") ? step.substr(6) : std::string_view{};
}

} // namespace

std::vector<FormOf> forms_at(const View& view, std::string_view step) {
    const PermitView& permit = view.at_hand->permit;
    Forms forms;
    if (const permit::Party* party = permit.party(party_named(step))) {
        add_party(*party, forms);
    } else if (step == "prepare") {
        forms.push_back({"prepared", ""});
    } else if (step == "points") {
        add_points(permit, forms);
    } else if (step == "locks") {
        for (const permit::Point& point : permit.state.points) {
            if (point.locked) {
                forms.push_back({"point_unlocked", point.id});
            }
        }
    } else if (step == "supplies") {
        forms.push_back({"supplies_asked", ""});
    } else if (step == "proof_hv") {
        add_proof(permit.state.hv, permit::Side::Hv, forms);
    } else if (step == "proof_lv") {
        add_proof(permit.state.lv, permit::Side::Lv, forms);
    } else if (step.ends_with("earths")) {
        add_earths(permit, step, forms);
    } else if (step == "zone") {
        forms.insert(forms.end(), {{"live_part_noted", ""}, {"zone_marked", ""}});
    } else if (step == "issue") {
        forms.push_back({"issued", ""});
    } else if (step == "people") {
        add_people(permit, forms);
    } else if (step == "cancel") {
        forms.push_back({"cancelled", ""});
    } else if (step == "lead") {
        forms.push_back({"lead_decided", ""});
    } else {
        for (const permit::Party& one : permit.state.parties) {
            if (step == "accept" && (one.holding == Holding::Issued || one.holding == Holding::Suspended)) {
                add_party(one, forms);
            } else if (step == "tools" && holds(one)) {
                forms.insert(forms.end(), {{"tools_out", one.id}, {"tools_in", one.id}});
            } else if (step == "hand_back" && holds(one)) {
                forms.push_back({"handed_back", one.id});
            }
        }
    }
    return forms;
}

std::string facts_at(const View& view, std::string_view step) {
    const PermitView& permit = view.at_hand->permit;
    if (const permit::Party* party = permit.party(party_named(step))) {
        return party_for_people(view, *party);
    }
    if (step == "points" || step == "locks") {
        return points_for_people(view);
    }
    if (step == "supplies") {
        return supplies_for_people(view);
    }
    if (step == "proof_hv" || step == "proof_lv") {
        return proof_for_people(view, step == "proof_hv" ? permit::Side::Hv : permit::Side::Lv);
    }
    if (step.ends_with("earths")) {
        return earths_for_people(view);
    }
    if (step == "zone") {
        return zone_for_people(view);
    }
    if (step == "prepare" || step == "issue" || step == "cancel") {
        return permit.state.prepared ? sheet_for_people(view) : std::string();
    }
    return parties_for_people(view);
}

std::string step_title(const View& view, std::string_view step) {
    if (const std::string_view party = party_named(step); !party.empty()) {
        return say(view, "permit.party_title", {{"party", std::string(party)}});
    }
    return view.words.say("permit.step." + std::string(step));
}

} // namespace crossarm::ui
