// Entries of a short made-up visit, for tests that need something to keep.
#pragma once

#include "checklist/model/entry.hpp"
#include "checklist/model/timestamp.hpp"

#include <string>
#include <vector>

namespace crossarm::tests {

constexpr model::Timestamp kMorning{1'773'461'527'250, 330}; // 2026-03-14T09:42:07.250+05:30

[[nodiscard]] inline model::Body opened(const std::string& structure = "QM-0107") {
    return model::Opened{structure, "upkeep", std::string(64, 'a'), 3};
}

[[nodiscard]] inline model::Body found(const std::string& checkpoint, model::Grade grade,
                                       const std::string& note = "") {
    return model::Found{model::Finding{"tank", checkpoint, grade, "", note}, std::nullopt};
}

[[nodiscard]] inline model::Body signed_off(const std::string& head) {
    return model::Signed{head, "all seen"};
}

} // namespace crossarm::tests
