// What a rule answers: a verdict, or the reason why there is none.
#pragma once

#include "checklist/model/verdict.hpp"

#include <cmath>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace crossarm::rules {

using Outcome = std::variant<model::Verdict, model::NoVerdict>;

/// A refusal with its reason; `key` names the sentence, `values` fill its places.
[[nodiscard]] inline model::NoVerdict
no_verdict(std::string_view subject, std::string_view key,
           std::vector<std::pair<std::string, model::Phrase::Value>> values = {}) {
    return {std::string(subject), {std::string(key), std::move(values)}};
}

/// Finite and within both ends. False for NaN.
[[nodiscard]] inline bool within(double x, double low, double high) {
    return std::isfinite(x) && x >= low && x <= high;
}

} // namespace crossarm::rules
