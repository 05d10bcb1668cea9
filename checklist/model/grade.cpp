#include "checklist/model/grade.hpp"

#include <array>

namespace crossarm::model {

namespace {

constexpr std::array<std::string_view, 4> kGrades = {"sound", "watch", "repair", "danger"};
constexpr std::array<std::string_view, 4> kWhens = {"before_supply_returns", "within_7_days",
                                                    "within_30_days", "at_next_visit"};

} // namespace

std::string_view name(Grade grade) {
    return kGrades[static_cast<std::size_t>(grade)];
}

std::optional<Grade> grade_of(std::string_view text) {
    for (std::size_t i = 0; i < kGrades.size(); ++i) {
        if (kGrades[i] == text) {
            return static_cast<Grade>(i);
        }
    }
    return std::nullopt;
}

std::string_view name(When when) {
    return kWhens[static_cast<std::size_t>(when)];
}

std::optional<When> when_of(std::string_view text) {
    for (std::size_t i = 0; i < kWhens.size(); ++i) {
        if (kWhens[i] == text) {
            return static_cast<When>(i);
        }
    }
    return std::nullopt;
}

} // namespace crossarm::model
