// Numbers of a made-up upkeep visit and the rule that one of them feeds, with protocol and limits as shipped.
#pragma once

#include "checklist/model/protocol.hpp"
#include "checklist/visit/rule_feeds.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <map>
#include <optional>
#include <regex>
#include <set>
#include <string>
#include <vector>

namespace crossarm::tests {

inline const std::filesystem::path kAssets = std::filesystem::path(CROSSARM_SOURCE_DIR) / "assets";

inline const model::Protocol& upkeep() {
    static const model::Protocol protocol = [] {
        auto read = model::read_protocol(text_of_file(kAssets / "protocols/upkeep.json"), "upkeep.json");
        REQUIRE(read.ok());
        return *read;
    }();
    return protocol;
}

inline const model::LimitLibrary& library() {
    static const model::LimitLibrary all = [] {
        model::LimitLibrary out;
        std::set<std::filesystem::path> files(std::filesystem::directory_iterator(kAssets / "limits"),
                                              std::filesystem::directory_iterator{});
        for (const std::filesystem::path& file : files) {
            out.sets.push_back(shipped_limits(file.stem().string()));
        }
        const std::string text = text_of_file(kAssets / "chosen_limits.json");
        const std::regex pair("\"([^\"]+)\": *\"([^\"]+)\"");
        for (std::sregex_iterator it(text.begin(), text.end(), pair), end; it != end; ++it) {
            out.chosen.emplace_back((*it)[1], (*it)[2]);
        }
        return out;
    }();
    return all;
}

// 100 kVA, 11 kV/433 V: 133.3 A on the LV side and 5.25 A on the HV side at full load.
inline model::Structure hundred_kVA() {
    model::Structure out;
    out.id = "QM-0101";
    out.plate.rating_kVA = 100.0;
    out.plate.oil_litres = 150.0;
    return out;
}

using Numbers = std::map<std::string, std::vector<double>>;
using Choices = std::map<std::string, std::string>;

struct FedVisit {
    Numbers numbers;
    Choices choices;
    model::Structure at = hundred_kVA();
    model::Register reg = {};
    model::LimitLibrary limits = library();
};

inline model::Unit unit_of(const model::Checkpoint& checkpoint) {
    if (const auto* several = std::get_if<model::NumbersInput>(&checkpoint.input)) {
        return several->unit;
    }
    return std::get<model::NumberInput>(checkpoint.input).unit;
}

inline model::Value numbers_value(const model::Checkpoint& checkpoint, const std::vector<double>& numbers) {
    const model::Unit unit = unit_of(checkpoint);
    if (std::holds_alternative<model::NumberInput>(checkpoint.input)) {
        return model::Quantity{numbers.at(0), unit};
    }
    REQUIRE(std::get<model::NumbersInput>(checkpoint.input).names.size() == numbers.size());
    model::Readings readings;
    for (const double number : numbers) {
        readings.values.push_back({number, unit});
    }
    return readings;
}

inline std::optional<rules::Outcome> fed(const std::string& id, const FedVisit& visit) {
    visit::State state;
    const auto put = [&](const std::string& checkpoint, model::Value value) {
        visit::Answer answer;
        answer.at = model::Timestamp{1'795'600'800'000, 330}; // 25 Nov 2026
        answer.finding = {"", checkpoint, std::move(value), "", ""};
        state.answers[checkpoint] = answer;
    };
    for (const auto& [checkpoint, numbers] : visit.numbers) {
        INFO(checkpoint);
        REQUIRE(upkeep().checkpoint(checkpoint) != nullptr);
        put(checkpoint, numbers_value(*upkeep().checkpoint(checkpoint), numbers));
    }
    for (const auto& [checkpoint, option] : visit.choices) {
        put(checkpoint, model::Choice{{option}});
    }
    const model::Checkpoint& checkpoint = *upkeep().checkpoint(id);
    return visit::feed_rule(checkpoint.feeds,
                            {checkpoint, state.answers.at(id), state, visit.at, visit.reg, visit.limits});
}

inline model::Verdict verdict_at(const std::string& id, const FedVisit& visit) {
    INFO(id);
    const auto outcome = fed(id, visit);
    REQUIRE(outcome);
    return verdict_in(*outcome);
}

inline std::string refusal_at(const std::string& id, const FedVisit& visit) {
    INFO(id);
    const auto outcome = fed(id, visit);
    REQUIRE(outcome);
    return refusal_in(*outcome);
}

} // namespace crossarm::tests
