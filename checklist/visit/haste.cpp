#include "checklist/visit/haste.hpp"

#include "checklist/model/position.hpp"
#include "checklist/visit/state.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>
#include <tuple>

namespace crossarm::visit {

namespace {

using model::Phrase;
using model::Quantity;
using model::Unit;

constexpr const char* kPositionCheckpoint = "arrive.position";
constexpr double kUnknown = std::numeric_limits<double>::infinity();

/// A standing answer, with the time since the entry before it on the same tablet.
struct Timed {
    Answer answer;
    double since_s = kUnknown;
};
using Run = std::vector<Timed>; ///< of one tablet, in the order of its entries

std::vector<Run> runs_of(const State& state, const std::vector<model::Entry>& entries) {
    std::map<std::string, std::map<std::int64_t, model::Timestamp>> times;
    for (const model::Entry& entry : entries) {
        times[entry.device][entry.seq] = entry.at;
    }
    std::map<std::string, std::map<std::int64_t, Answer>> standing;
    const auto add = [&](const Answer& answer) { standing[answer.device][answer.seq] = answer; };
    for (const auto& [checkpoint, answer] : state.answers) {
        add(answer);
    }
    for (const Conflict& conflict : state.conflicts) {
        std::ranges::for_each(conflict.answers, add);
    }
    std::vector<Run> runs;
    for (const auto& [device, answers] : standing) {
        const auto& at = times[device];
        Run run;
        for (const auto& [seq, answer] : answers) {
            const auto here = at.find(seq);
            double since_s = kUnknown;
            if (here != at.end() && here != at.begin()) {
                const auto passed_ms = here->second.utc_ms - std::prev(here)->second.utc_ms;
                since_s = passed_ms < 0 ? kUnknown : static_cast<double>(passed_ms) / 1000.0;
            }
            run.push_back({answer, since_s});
        }
        runs.push_back(std::move(run));
    }
    return runs;
}

using Place = Run::const_iterator;

double median_s(Place first, Place last) {
    std::vector<double> times;
    std::transform(first, last, std::back_inserter(times), [](const Timed& one) { return one.since_s; });
    std::ranges::sort(times);
    const std::size_t half = times.size() / 2;
    return times.size() % 2 == 1 ? times[half] : (times[half - 1] + times[half]) / 2.0;
}

/// Why something could not be seen is not compared: it is the same answer.
model::Value plain(const model::Value& value) {
    return std::holds_alternative<model::OutOfReach>(value) ? model::Value(model::OutOfReach{}) : value;
}

/// How often the commonest answer stands there.
std::size_t most_alike(Place first, Place last) {
    std::size_t most = 0;
    for (Place one = first; one != last; ++one) {
        const model::Value value = plain(one->answer.finding.value);
        most = std::max(most, static_cast<std::size_t>(std::count_if(first, last, [&](const Timed& other) {
                            return plain(other.answer.finding.value) == value;
                        })));
    }
    return most;
}

bool is_quick(Place first, Place last) {
    return median_s(first, last) < kQuickAnswer_s;
}

bool is_alike(Place first, Place last) {
    return static_cast<double>(most_alike(first, last)) >= kAlikeShare * static_cast<double>(last - first);
}

std::vector<model::Id> ids_of(Place first, Place last) {
    std::vector<model::Id> ids;
    std::transform(first, last, std::back_inserter(ids), [](const Timed& one) { return one.answer.entry; });
    return ids;
}

/// The longest stretches of `run` that begin with at least kLeastRun answers for which `holds`, and go on as
/// long as it does for the last so many.
template<typename Holds, typename Tell>
void look_for_stretches(const Run& run, Holds holds, Tell tell) {
    constexpr auto kLeast = static_cast<std::ptrdiff_t>(kLeastRun);
    for (Place first = run.begin(); run.end() - first >= kLeast;) {
        Place last = first + kLeast;
        if (!holds(first, last)) {
            ++first;
            continue;
        }
        while (last != run.end() && holds(last + 1 - kLeast, last + 1)) {
            ++last;
        }
        tell(first, last);
        first = last;
    }
}

std::string count_of(Place first, Place last) {
    return std::to_string(last - first);
}

void look_for_quick(const Run& run, std::vector<Fact>& facts) {
    look_for_stretches(run, is_quick, [&](Place first, Place last) {
        facts.push_back({Phrase{"fact.quick",
                                {{"count", count_of(first, last)},
                                 {"median", Quantity{median_s(first, last), Unit::Second}},
                                 {"first", model::for_people(first->answer.at)}}},
                         ids_of(first, last)});
    });
}

void look_for_alike(const Run& run, std::vector<Fact>& facts) {
    look_for_stretches(run, is_alike, [&](Place first, Place last) {
        facts.push_back({Phrase{"fact.alike",
                                {{"count", count_of(first, last)},
                                 {"alike", std::to_string(most_alike(first, last))},
                                 {"first", model::for_people(first->answer.at)}}},
                         ids_of(first, last)});
    });
}

int decimals_of(const model::Checkpoint& checkpoint) {
    if (const auto* number = std::get_if<model::NumberInput>(&checkpoint.input)) {
        return number->decimals;
    }
    const auto* numbers = std::get_if<model::NumbersInput>(&checkpoint.input);
    return numbers == nullptr ? 0 : numbers->decimals;
}

int weight_of_copy(const model::Checkpoint& checkpoint, const model::Value& value) {
    const bool has_decimals = decimals_of(checkpoint) > 0;
    if (std::holds_alternative<Quantity>(value)) {
        return has_decimals ? 1 : 0;
    }
    const auto* readings = std::get_if<model::Readings>(&value);
    if (readings == nullptr || readings->values.size() < 3 ||
        std::ranges::all_of(readings->values,
                            [&](const Quantity& one) { return one == readings->values.front(); })) {
        return 0;
    }
    return has_decimals ? 3 : 1;
}

void look_for_copies(const model::Protocol& protocol, const model::Register& reg, const State& state,
                     std::vector<Fact>& facts) {
    int weight = 0;
    std::string which;
    std::vector<model::Id> about;
    for (const model::Checkpoint& checkpoint : protocol.checkpoints) {
        const Answer* answer = answer_at(state, checkpoint.id);
        const auto earlier = reg.earlier_of(state.structure, checkpoint.id);
        if (answer == nullptr || earlier.empty() || !(earlier.back().value == answer->finding.value)) {
            continue;
        }
        const int here = weight_of_copy(checkpoint, answer->finding.value);
        if (here > 0) {
            weight += here;
            which += (which.empty() ? "" : ", ") + checkpoint.title;
            about.push_back(answer->entry);
        }
    }
    if (weight >= kCopiesTold) {
        facts.push_back({Phrase{"fact.copied", {{"which", which}}}, about});
    }
}

void look_for_distance(const model::Register& reg, const State& state, std::vector<Fact>& facts) {
    const Answer* answer = answer_at(state, kPositionCheckpoint);
    const model::Structure* structure = reg.structure(state.structure);
    const auto* text = answer == nullptr ? nullptr : std::get_if<model::Remark>(&answer->finding.value);
    const auto here = text == nullptr ? std::nullopt : model::parse_position(text->text);
    if (structure == nullptr || !here) {
        return;
    }
    const double away_m = model::distance_m(*here, {structure->latitude, structure->longitude});
    if (away_m > kFarFromStructure_m) {
        facts.push_back(
            {Phrase{"fact.far", {{"distance", Quantity{std::round(away_m), Unit::Metre}}}}, {answer->entry}});
    }
}

} // namespace

std::vector<Fact> haste(const model::Protocol& protocol, const model::Register& reg,
                        const std::vector<model::Entry>& entries) {
    const State state = fold(entries);
    std::vector<Fact> facts;
    for (const Run& run : runs_of(state, entries)) {
        look_for_quick(run, facts);
        look_for_alike(run, facts);
    }
    look_for_copies(protocol, reg, state, facts);
    look_for_distance(reg, state, facts);
    return facts;
}

} // namespace crossarm::visit
