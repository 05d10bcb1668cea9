// Every guard in one list, and those that ask the same of many acts.
#include "checklist/visit/permit_guards.hpp"

#include "checklist/visit/permit_facts.hpp"

#include <array>

namespace crossarm::visit::permit {

namespace {

MayRefuse known_person(const Wished& w) {
    // Whoever sees the danger stops the work, be it before anybody took the tablet.
    const bool stops_unnamed = w.by.empty() && as<acts::Suspended>(w) != nullptr;
    return stops_unnamed || w.powers.known.contains(w.by) ? MayRefuse()
                                                          : refuse("permit.no.unknown_person", "");
}

MayRefuse prepared_first(const Wished& w) {
    return w.state.prepared || is_one_of<acts::Prepared, acts::Briefed>(w)
               ? MayRefuse()
               : refuse("permit.no.not_prepared", "prepare");
}

// What only winds down stays allowed, so that no state, not even one that should never have come about, is
// without a way to the end.
MayRefuse not_cancelled(const Wished& w) {
    const bool winds_down =
        is_one_of<acts::LineEndOff, acts::EarthEndOff, acts::PointUnlocked, acts::SignedOff, acts::ToolsIn,
                  acts::Briefed, acts::LeadDecided, acts::Suspended, acts::Transferred, acts::TakenBack,
                  acts::HandedBack>(w);
    return !w.state.cancelled || winds_down ? MayRefuse() : refuse("permit.no.cancelled", "");
}

MayRefuse authorised(const Wished& w) {
    const bool asks = is_one_of<acts::Prepared, acts::Issued, acts::Resumed, acts::Transferred,
                                acts::Extended, acts::TakenBack, acts::Cancelled>(w);
    return !asks || w.powers.may_issue.contains(w.by) ? MayRefuse() : refuse("permit.no.may_not_issue", "");
}

MayRefuse sheet_stands(const Wished& w) {
    const auto* end_on = as<acts::EarthEndOn>(w);
    const auto* line_on = as<acts::LineEndOn>(w);
    const Earth* earth = line_on != nullptr ? earth_of(w.state, line_on->earth) : nullptr;
    const bool on_sheet = is_one_of<acts::Prepared, acts::PointAdded, acts::PointOpened, acts::PointLocked,
                                    acts::PointUnlocked, acts::SuppliesAsked, acts::DetectorProved,
                                    acts::ConductorTested, acts::LivePartNoted, acts::ZoneMarked>(w) ||
                          (end_on != nullptr && end_on->kind == EarthKind::Control) ||
                          (earth != nullptr && earth->kind == EarthKind::Control);
    return on_sheet && any_accepted(w.state) ? refuse("permit.no.sheet_stands", "accept") : MayRefuse();
}

MayRefuse regular(const Wished& w) {
    const bool asks =
        is_one_of<acts::Issued, acts::Accepted, acts::Resumed, acts::Extended, acts::SignedOn>(w);
    return asks && w.state.irregular > 0 ? refuse("permit.no.irregular", "") : MayRefuse();
}

constexpr std::array kGeneral = {
    Guard{"known_person", known_person},   Guard{"prepared_first", prepared_first},
    Guard{"not_cancelled", not_cancelled}, Guard{"authorised", authorised},
    Guard{"sheet_stands", sheet_stands},   Guard{"regular", regular},
};

std::vector<Guard> all() {
    std::vector<Guard> list;
    for (const auto& some : {general_guards(), isolation_guards(), earth_guards(), holding_guards(),
                             people_guards(), ending_guards(), signing_guards()}) {
        list.insert(list.end(), some.begin(), some.end());
    }
    return list;
}

} // namespace

std::span<const Guard> general_guards() {
    return kGeneral;
}

std::span<const Guard> guards() {
    static const std::vector<Guard> list = all();
    return list;
}

std::optional<Refusal> refusal(const Wished& wished) {
    return refusal(wished, guards());
}

std::optional<Refusal> refusal(const Wished& wished, std::span<const Guard> guards) {
    for (const Guard& guard : guards) {
        if (auto refused = guard.refuses(wished)) {
            return refused;
        }
    }
    return std::nullopt;
}

} // namespace crossarm::visit::permit
