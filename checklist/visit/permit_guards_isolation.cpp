// Guards of the isolation: preparing, points, supplies, proving dead, live parts and the zone.
#include "checklist/visit/check_value.hpp"
#include "checklist/visit/permit_facts.hpp"
#include "checklist/visit/permit_guards.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace crossarm::visit::permit {

namespace {

const char* step_of(Side side) {
    return side == Side::Hv ? "proof_hv" : "proof_lv";
}

MayRefuse prepare_before_issue(const Wished& w) {
    return as<acts::Prepared>(w) != nullptr && !w.state.parties.empty()
               ? refuse("permit.no.issued_already", "issue")
               : MayRefuse();
}
MayRefuse prepare_texts(const Wished& w) {
    const auto* a = as<acts::Prepared>(w);
    return a != nullptr && (is_blank(a->number) || is_blank(a->work) || is_blank(a->limits))
               ? refuse("permit.no.prepare_texts", "prepare")
               : MayRefuse();
}

MayRefuse point_before_issue(const Wished& w) {
    return as<acts::PointAdded>(w) != nullptr && !w.state.parties.empty()
               ? refuse("permit.no.issued_already", "issue")
               : MayRefuse();
}
MayRefuse point_new(const Wished& w) {
    const auto* a = as<acts::PointAdded>(w);
    return a != nullptr && point_of(w.state, a->point) != nullptr
               ? refuse("permit.no.point_known", "points", {{"point", a->point}})
               : MayRefuse();
}
MayRefuse point_texts(const Wished& w) {
    const auto* a = as<acts::PointAdded>(w);
    return a != nullptr && (is_blank(a->point) || is_blank(a->device) || is_blank(a->place))
               ? refuse("permit.no.point_texts", "points")
               : MayRefuse();
}
MayRefuse open_closed_point(const Wished& w) {
    const auto* a = as<acts::PointOpened>(w);
    const Point* point = a != nullptr ? point_of(w.state, a->point) : nullptr;
    return a != nullptr && (point == nullptr || point->open)
               ? refuse("permit.no.point_open_already", "points", {{"point", a->point}})
               : MayRefuse();
}
MayRefuse open_position(const Wished& w) {
    const auto* a = as<acts::PointOpened>(w);
    return a != nullptr && is_blank(a->position) ? refuse("permit.no.position", "points") : MayRefuse();
}
MayRefuse lock_open_point(const Wished& w) {
    const auto* a = as<acts::PointLocked>(w);
    const Point* point = a != nullptr ? point_of(w.state, a->point) : nullptr;
    return a != nullptr && (point == nullptr || !point->open || point->locked)
               ? refuse("permit.no.point_not_open", "points", {{"point", a->point}})
               : MayRefuse();
}
MayRefuse lock_texts(const Wished& w) {
    const auto* a = as<acts::PointLocked>(w);
    return a != nullptr && (is_blank(a->lock) || is_blank(a->label) || is_blank(a->key_held_by))
               ? refuse("permit.no.lock_texts", "points")
               : MayRefuse();
}
MayRefuse unlock_locked_point(const Wished& w) {
    const auto* a = as<acts::PointUnlocked>(w);
    const Point* point = a != nullptr ? point_of(w.state, a->point) : nullptr;
    return a != nullptr && (point == nullptr || !point->locked)
               ? refuse("permit.no.point_not_locked", "locks", {{"point", a->point}})
               : MayRefuse();
}
MayRefuse unlock_last(const Wished& w) {
    if (as<acts::PointUnlocked>(w) == nullptr) {
        return std::nullopt;
    }
    const bool mends = w.state.parties.empty() && !w.state.cancelled && earths_on(w.state) == 0;
    return mends ? MayRefuse() : bars_supply(w.state, false);
}

MayRefuse supplies_points(const Wished& w) {
    return as<acts::SuppliesAsked>(w) != nullptr ? no_points(w.state) : MayRefuse();
}
MayRefuse supplies_answers(const Wished& w) {
    const auto* a = as<acts::SuppliesAsked>(w);
    const auto answered = [](const std::string& text) {
        return text == "none" || text == "locked_off" || text == "earthed";
    };
    return a != nullptr && !(answered(a->generators) && answered(a->solar) && answered(a->ring))
               ? refuse("permit.no.supplies_answers", "supplies")
               : MayRefuse();
}
MayRefuse supplies_asked_of(const Wished& w) {
    const auto* a = as<acts::SuppliesAsked>(w);
    return a != nullptr && is_blank(a->asked_of) ? refuse("permit.no.asked_of", "supplies") : MayRefuse();
}

const Side* side_proved(const Wished& w) {
    if (const auto* a = as<acts::DetectorProved>(w)) {
        return &a->side;
    }
    const auto* a = as<acts::ConductorTested>(w);
    return a != nullptr ? &a->side : nullptr;
}
MayRefuse proof_points(const Wished& w) {
    return side_proved(w) != nullptr ? no_points(w.state) : MayRefuse();
}
MayRefuse proof_supplies(const Wished& w) {
    return side_proved(w) != nullptr ? no_supplies(w.state) : MayRefuse();
}
// An earth on the conductors would keep any detector silent.
MayRefuse proof_unearthed(const Wished& w) {
    const Side* side = side_proved(w);
    return side != nullptr && line_end_on(w.state, *side) ? refuse("permit.no.proof_earthed", "earths")
                                                          : MayRefuse();
}
MayRefuse proof_detector(const Wished& w) {
    const auto* a = as<acts::DetectorProved>(w);
    return a != nullptr && is_blank(a->detector) ? refuse("permit.no.detector", step_of(a->side))
                                                 : MayRefuse();
}
MayRefuse proof_conductor(const Wished& w) {
    const auto* a = as<acts::ConductorTested>(w);
    return a != nullptr && std::ranges::find(conductors(a->side), a->conductor) == conductors(a->side).end()
               ? refuse("permit.no.conductor", step_of(a->side))
               : MayRefuse();
}
MayRefuse proof_detector_first(const Wished& w) {
    const auto* a = as<acts::ConductorTested>(w);
    if (a == nullptr) {
        return std::nullopt;
    }
    const Proof& proof = proof_of(w.state, a->side);
    return !proof.before || proof.after ? refuse("permit.no.detector_first", step_of(a->side)) : MayRefuse();
}
MayRefuse proof_conductors_first(const Wished& w) {
    const auto* a = as<acts::DetectorProved>(w);
    if (a == nullptr || !a->after) {
        return std::nullopt;
    }
    const Proof& proof = proof_of(w.state, a->side);
    return !proof.before || proof.after || proof.without_indication.size() < conductors(a->side).size()
               ? refuse("permit.no.conductors_first", step_of(a->side))
               : MayRefuse();
}
MayRefuse proof_same_detector(const Wished& w) {
    const auto* a = as<acts::DetectorProved>(w);
    return a != nullptr && a->after && a->detector != proof_of(w.state, a->side).detector
               ? refuse("permit.no.same_detector", step_of(a->side))
               : MayRefuse();
}

MayRefuse live_part(const Wished& w) {
    const auto* a = as<acts::LivePartNoted>(w);
    return a != nullptr && (is_blank(a->what) || !std::isfinite(a->distance_m) || a->distance_m <= 0.0)
               ? refuse("permit.no.live_part", "zone")
               : MayRefuse();
}
MayRefuse zone_text(const Wished& w) {
    const auto* a = as<acts::ZoneMarked>(w);
    return a != nullptr && is_blank(a->how) ? refuse("permit.no.zone_text", "zone") : MayRefuse();
}

constexpr std::array kIsolation = {
    Guard{"prepare_before_issue", prepare_before_issue},
    Guard{"prepare_texts", prepare_texts},
    Guard{"point_before_issue", point_before_issue},
    Guard{"point_new", point_new},
    Guard{"point_texts", point_texts},
    Guard{"open_closed_point", open_closed_point},
    Guard{"open_position", open_position},
    Guard{"lock_open_point", lock_open_point},
    Guard{"lock_texts", lock_texts},
    Guard{"unlock_locked_point", unlock_locked_point},
    Guard{"unlock_last", unlock_last},
    Guard{"supplies_points", supplies_points},
    Guard{"supplies_answers", supplies_answers},
    Guard{"supplies_asked_of", supplies_asked_of},
    Guard{"proof_points", proof_points},
    Guard{"proof_supplies", proof_supplies},
    Guard{"proof_unearthed", proof_unearthed},
    Guard{"proof_detector", proof_detector},
    Guard{"proof_conductor", proof_conductor},
    Guard{"proof_detector_first", proof_detector_first},
    Guard{"proof_conductors_first", proof_conductors_first},
    Guard{"proof_same_detector", proof_same_detector},
    Guard{"live_part", live_part},
    Guard{"zone_text", zone_text},
};

} // namespace

std::span<const Guard> isolation_guards() {
    return kIsolation;
}

} // namespace crossarm::visit::permit
