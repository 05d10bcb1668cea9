#include "checklist/visit/rule_feeds.hpp"

#include "checklist/rules/breather.hpp"
#include "checklist/rules/bushings.hpp"
#include "checklist/rules/joints.hpp"
#include "checklist/rules/oil_breakdown.hpp"
#include "checklist/rules/vegetation.hpp"

#include <array>
#include <cmath>

namespace crossarm::visit {

namespace {

using rules::Outcome;

const model::Value* value_at(const State& state, const std::string& checkpoint) {
    const auto found = state.answers.find(checkpoint);
    return found == state.answers.end() ? nullptr : &found->second.finding.value;
}

std::optional<double> number_at(const State& state, const std::string& checkpoint) {
    const model::Value* value = value_at(state, checkpoint);
    const auto* quantity = value == nullptr ? nullptr : std::get_if<model::Quantity>(value);
    return quantity == nullptr ? std::nullopt : std::optional(quantity->value);
}

std::string picked_at(const State& state, const std::string& checkpoint) {
    const model::Value* value = value_at(state, checkpoint);
    const auto* choice = value == nullptr ? nullptr : std::get_if<model::Choice>(value);
    return choice == nullptr || choice->picked.empty() ? std::string() : choice->picked.front();
}

std::vector<double> numbers_of(const model::Value& value) {
    std::vector<double> out;
    if (const auto* readings = std::get_if<model::Readings>(&value)) {
        for (const model::Quantity& one : readings->values) {
            out.push_back(one.value);
        }
    } else if (const auto* quantity = std::get_if<model::Quantity>(&value)) {
        out.push_back(quantity->value);
    }
    return out;
}

// A rule cannot speak without a limit set: that is said, never taken for Sound.
Outcome no_limits(std::string_view subject) {
    return rules::no_verdict(subject, "no.limits", {{"subject", std::string(subject)}});
}

std::optional<Outcome> feed_breakdown(const Feed& feed) {
    const model::LimitSet* limits = feed.limits.for_subject("oil.in_service");
    const model::LimitSet* shots = feed.limits.for_subject("oil.shots");
    if (limits == nullptr || shots == nullptr) {
        return no_limits("oil.breakdown");
    }
    return rules::breakdown({numbers_of(feed.answer.finding.value), number_at(feed.state, "oil.temperature")},
                            *limits, *shots);
}

std::optional<Outcome> feed_gel(const Feed& feed) {
    const model::LimitSet* limits = feed.limits.for_subject("breather.gel");
    if (limits == nullptr) {
        return no_limits("breather.gel");
    }
    const auto* spent = std::get_if<model::Quantity>(&feed.answer.finding.value);
    if (spent == nullptr) {
        return std::nullopt;
    }
    return rules::gel({spent->value, picked_at(feed.state, "breather.gel_kind"),
                       picked_at(feed.state, "breather.gel_from") == "top"},
                      *limits);
}

std::optional<Outcome> feed_damage(const Feed& feed) {
    const model::LimitSet* limits = feed.limits.for_subject("bushings.damage");
    if (limits == nullptr) {
        return no_limits("bushings.damage");
    }
    return rules::damage({picked_at(feed.state, feed.checkpoint.id)}, *limits);
}

rules::ClearanceReadings clearance_of(const Feed& feed, double clearance_m) {
    rules::ClearanceReadings out;
    out.clearance_m = clearance_m;
    out.voltage_kV = feed.structure.plate.hv_kV;
    return out;
}

std::optional<Outcome> feed_clearance(const Feed& feed) {
    const model::LimitSet* limits = feed.limits.for_subject("vegetation.clearance");
    const auto* gap = std::get_if<model::Quantity>(&feed.answer.finding.value);
    if (limits == nullptr) {
        return no_limits("vegetation.clearance");
    }
    return gap == nullptr ? std::nullopt
                          : std::optional(rules::clearance(clearance_of(feed, gap->value), *limits));
}

std::optional<Outcome> feed_trim(const Feed& feed) {
    const model::LimitSet* limits = feed.limits.for_subject("vegetation.clearance");
    const model::LimitSet* growth = feed.limits.for_subject("vegetation.growth");
    const auto* gap = std::get_if<model::Quantity>(&feed.answer.finding.value);
    if (limits == nullptr || growth == nullptr) {
        return no_limits("vegetation.trim");
    }
    if (gap == nullptr) {
        return std::nullopt;
    }
    rules::TrimReadings readings;
    readings.now = clearance_of(feed, gap->value);
    readings.growth_class = picked_at(feed.state, "trees.species");
    return rules::next_trim(readings, *limits, *growth);
}

Outcome worst_of(const std::array<Outcome, 3>& phases) {
    // A refusal on one phase must not hide a verdict on another; with no verdict at all the first refusal
    // speaks.
    const model::Verdict* worst = nullptr;
    for (const Outcome& phase : phases) {
        const auto* verdict = std::get_if<model::Verdict>(&phase);
        if (verdict != nullptr && (worst == nullptr || verdict->grade > worst->grade)) {
            worst = verdict;
        }
    }
    for (const Outcome& phase : phases) {
        const bool refused = std::holds_alternative<model::NoVerdict>(phase);
        if (refused && (worst == nullptr || worst->grade == model::Grade::Sound)) {
            return phase;
        }
    }
    return *worst;
}

std::optional<Outcome> feed_joints(const Feed& feed) {
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
    return worst_of(rules::rise_by_phase(joints, *limits));
}

struct Adapter {
    std::string_view rule;
    std::optional<Outcome> (*feed)(const Feed&);
};

constexpr std::array kAdapters = {
    Adapter{"oil.breakdown", feed_breakdown}, Adapter{"breather.gel", feed_gel},
    Adapter{"bushing.damage", feed_damage},   Adapter{"vegetation.clearance", feed_clearance},
    Adapter{"vegetation.trim", feed_trim},    Adapter{"joint.rise", feed_joints},
};

} // namespace

std::optional<Outcome> feed_rule(std::string_view rule, const Feed& feed) {
    for (const Adapter& adapter : kAdapters) {
        if (adapter.rule == rule) {
            return adapter.feed(feed);
        }
    }
    return std::nullopt;
}

std::vector<std::string> rule_names() {
    std::vector<std::string> out;
    for (const Adapter& adapter : kAdapters) {
        out.emplace_back(adapter.rule);
    }
    return out;
}

} // namespace crossarm::visit
