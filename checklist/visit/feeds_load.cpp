// Readings for the rules of joints, load and voltage.
#include "checklist/rules/joints.hpp"
#include "checklist/rules/loading.hpp"
#include "checklist/visit/adapters.hpp"
#include "checklist/visit/feed_helpers.hpp"

#include <cmath>

namespace crossarm::visit {

Fed feed_joints(const Feed& feed) {
    const model::LimitSet* limits = feed.limits.for_subject("joint.rise");
    if (limits == nullptr) {
        return no_limits("joint.rise");
    }
    const std::string& part = feed.checkpoint.part;
    const model::Value* currents = value_at(feed.state, part + ".current");
    const std::optional<double> ambient = number_at(feed.state, part + ".ambient");
    const std::vector<double> hot = numbers_of(feed.answer.finding.value);
    const std::vector<double> amps = currents == nullptr ? std::vector<double>() : numbers_of(*currents);
    if (hot.size() != 3 || amps.size() != 3 || !ambient) {
        return std::nullopt;
    }
    const model::Nameplate& plate = feed.structure.plate;
    const bool is_hv = part.starts_with("hv");
    rules::PhaseJoints joints;
    for (std::size_t i = 0; i < 3; ++i) {
        joints.joint_C[i] = hot[i];
        joints.current_A[i] = amps[i];
    }
    joints.ambient_C = *ambient;
    joints.rated_A = is_hv ? plate.rating_kVA / (std::sqrt(3.0) * plate.hv_kV)
                           : plate.rating_kVA * 1000.0 / (std::sqrt(3.0) * plate.lv_V);
    const auto phases = rules::rise_by_phase(joints, *limits);
    return worst_of({phases.begin(), phases.end()});
}

namespace {

bool is_picked(const Feed& feed, const char* checkpoint, const char* option) {
    const model::Value* value = value_at(feed.state, checkpoint);
    const auto* choice = value == nullptr ? nullptr : std::get_if<model::Choice>(value);
    return choice != nullptr && choice->picked == std::vector<std::string>{option};
}

// The load after closing is carried by the unit that this visit put in the old one's place.
bool is_new_unit_up(const Feed& feed) {
    return is_picked(feed, "tank.set", "bolted") && is_picked(feed, "plate.goes", "instead");
}

} // namespace

Fed feed_load(const Feed& feed) {
    const model::LimitSet* limits = feed.limits.for_subject("loading.share");
    if (limits == nullptr) {
        return no_limits("loading.share");
    }
    const std::vector<double> amps = numbers_of(feed.answer.finding.value);
    if (amps.size() != 4) {
        return std::nullopt;
    }
    rules::LoadReadings readings;
    readings.current_A = {amps[0], amps[1], amps[2]};
    readings.neutral_A = amps[3];
    readings.rating_kVA = feed.structure.plate.rating_kVA;
    readings.lv_V = feed.structure.plate.lv_V;
    if (feed.checkpoint.stage == "restore" && is_new_unit_up(feed)) {
        readings.rating_kVA = number_at(feed.state, "plate.rating").value_or(readings.rating_kVA);
        readings.lv_V = number_at(feed.state, "plate.lv").value_or(readings.lv_V);
    }
    return rules::load(readings, *limits);
}

Fed feed_unbalance(const Feed& feed) {
    const model::LimitSet* limits = feed.limits.for_subject("voltage.unbalance");
    if (limits == nullptr) {
        return no_limits("voltage.unbalance");
    }
    const std::vector<double> line_V = numbers_of(feed.answer.finding.value);
    if (line_V.size() != 3) {
        return std::nullopt;
    }
    return rules::voltage_unbalance({line_V[0], line_V[1], line_V[2]}, *limits);
}

} // namespace crossarm::visit
