#include "ui/screens/permit_sheet.hpp"

#include "ui/screens/chrome.hpp"
#include "ui/touch/number_draft.hpp"

namespace crossarm::ui {

namespace {

namespace permit = visit::permit;

const permit::State& state_of(const View& view) {
    return view.at_hand->permit.state;
}

void add_line(std::string& lines, const std::string& line) {
    lines += (lines.empty() ? "" : "\n") + line;
}

const char* key_of(permit::Holding holding) {
    switch (holding) {
    case permit::Holding::Issued:
        return "permit.holding.issued";
    case permit::Holding::Accepted:
        return "permit.holding.accepted";
    case permit::Holding::Suspended:
        return "permit.holding.suspended";
    case permit::Holding::HandedBack:
        return "permit.holding.handed_back";
    case permit::Holding::TakenBack:
        break;
    }
    return "permit.holding.taken_back";
}

} // namespace

std::string points_for_people(const View& view) {
    std::string lines;
    for (const permit::Point& point : state_of(view).points) {
        const char* key = point.locked ? "permit.line.point_locked"
                          : point.open ? "permit.line.point_open"
                                       : "permit.line.point";
        add_line(lines, say(view, key,
                            {{"point", point.id},
                             {"device", point.device},
                             {"place", point.place},
                             {"position", point.position},
                             {"lock", point.lock},
                             {"label", point.label},
                             {"key", view.name_of(point.key_held_by)}}));
    }
    return lines.empty() ? view.words.say("permit.line.no_points") : lines;
}

std::string proof_for_people(const View& view, permit::Side side) {
    const permit::Proof& proof = side == permit::Side::Hv ? state_of(view).hv : state_of(view).lv;
    const std::string which =
        view.words.say(side == permit::Side::Hv ? "permit.answer.side.hv" : "permit.answer.side.lv");
    if (!proof.before) {
        return say(view, "permit.line.not_proved", {{"side", which}});
    }
    std::string tested;
    for (const std::string& conductor : proof.without_indication) {
        tested += (tested.empty() ? "" : ", ") + conductor;
    }
    const char* key = proof.after                        ? "permit.line.proved"
                      : proof.without_indication.empty() ? "permit.line.proved_before"
                                                         : "permit.line.proving";
    return say(view, key,
               {{"side", which},
                {"conductors", tested},
                {"detector", proof.detector},
                {"name", view.name_of(proof.by)},
                {"at", model::clock_for_people(proof.at)}});
}

std::string earths_for_people(const View& view) {
    std::string lines;
    for (const permit::Earth& earth : state_of(view).earths) {
        const char* key = earth.line_end    ? "permit.line.earth_on"
                          : earth.earth_end ? "permit.line.earth_end_on"
                                            : "permit.line.earth_off";
        const bool control = earth.kind == permit::EarthKind::Control;
        add_line(lines,
                 say(view, key,
                     {{"earth", earth.id},
                      {"kind",
                       view.words.say(control ? "permit.answer.kind.control" : "permit.answer.kind.working")},
                      {"side", view.words.say(earth.side == permit::Side::Hv ? "permit.answer.side.hv"
                                                                             : "permit.answer.side.lv")},
                      {"place", earth.place},
                      {"size", plain_number(earth.size_mm2)},
                      {"name", view.name_of(earth.fixed_by)},
                      {"at", model::clock_for_people(earth.at)}}));
    }
    return lines.empty() ? view.words.say("permit.line.no_earths") : lines;
}

std::string zone_for_people(const View& view) {
    std::string lines;
    for (const auto& part : state_of(view).live_parts) {
        add_line(lines, say(view, "permit.line.live_part",
                            {{"what", part.what},
                             {"distance", model::Quantity{part.distance_m, model::Unit::Metre}}}));
    }
    if (lines.empty()) {
        lines = view.words.say("permit.line.no_live_parts");
    }
    add_line(lines, state_of(view).zone.empty()
                        ? view.words.say("permit.line.no_zone")
                        : say(view, "permit.line.zone", {{"how", state_of(view).zone}}));
    return lines;
}

std::string supplies_for_people(const View& view) {
    const auto& supplies = state_of(view).supplies;
    if (!supplies) {
        return view.words.say("permit.line.no_supplies");
    }
    const auto answer = [&view](const std::string& one) {
        return view.words.say("permit.answer.supply." + one);
    };
    return say(view, "permit.line.supplies",
               {{"generators", answer(supplies->generators)},
                {"solar", answer(supplies->solar)},
                {"ring", answer(supplies->ring)},
                {"asked_of", supplies->asked_of}});
}

std::string party_for_people(const View& view, const permit::Party& party) {
    std::string people;
    for (const auto& [person, at] : state_of(view).on) {
        if (at == party.id) {
            people += (people.empty() ? "" : ", ") + view.name_of(person);
        }
    }
    std::string lines = say(view, "permit.line.party",
                            {{"party", party.id},
                             {"state", view.words.say(key_of(party.holding))},
                             {"holder", view.name_of(party.holder)},
                             {"issuer", view.name_of(party.issuer)},
                             {"second", view.name_of(party.second)},
                             {"until", model::for_people(party.until)}});
    add_line(lines, say(view, "permit.line.party_has",
                        {{"people", people.empty() ? view.words.say("permit.line.nobody_on") : people},
                         {"out", std::to_string(party.tools_out)},
                         {"in", std::to_string(party.tools_in)}}));
    if (!party.reason.empty()) {
        add_line(lines, say(view, "permit.line.reason", {{"reason", party.reason}}));
    }
    return lines;
}

std::string sheet_for_people(const View& view) {
    const permit::State& state = state_of(view);
    std::string lines = say(view, "permit.line.head",
                            {{"number", state.number},
                             {"structure", view.at_hand->structure->id},
                             {"name", view.at_hand->structure->name},
                             {"work", state.work},
                             {"limits", state.limits}});
    add_line(lines, points_for_people(view));
    add_line(lines, supplies_for_people(view));
    add_line(lines, proof_for_people(view, permit::Side::Hv));
    add_line(lines, proof_for_people(view, permit::Side::Lv));
    add_line(lines, earths_for_people(view));
    add_line(lines, zone_for_people(view));
    for (const permit::Exception& one : state.exceptions) {
        add_line(lines, say(view, "permit.line.exception",
                            {{"matter", view.words.say("permit.answer.matter." + one.matter)},
                             {"about", one.about},
                             {"reason", one.reason},
                             {"name", view.name_of(one.by)},
                             {"at", model::clock_for_people(one.at)}}));
    }
    add_line(lines,
             say(view, "permit.line.digest", {{"digits", view.at_hand->permit.sheet_digest.substr(0, 16)}}));
    return lines;
}

} // namespace crossarm::ui
