// The limit sets and the verdict words as they are shipped.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/model/words.hpp"
#include "tests/support/shipped.hpp"

#include <string>

namespace crossarm::testing {

/// assets/limits/<id>.json; fails the test when it cannot be read.
inline model::LimitSet limit_set(const std::string& id) {
    return tests::shipped_limits(id);
}

/// Every assets/words/en/verdicts_*.json together.
inline model::Words verdict_words() {
    return tests::shipped_words();
}

} // namespace crossarm::testing
