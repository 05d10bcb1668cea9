// One of several, by touching it. Nothing is chosen beforehand.
#pragma once

#include "ui/look/marks.hpp"
#include "ui/touch/touch.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace crossarm::ui {

struct Option {
    std::string name; ///< last part of its path
    std::string label;
    std::optional<Mark> mark = std::nullopt;
    std::string second = {};
    std::string why_disabled = {};
};

/// As many side by side as fit with whole words and at least `least_width_mm` each, the rows equally high.
/// The index touched in this frame, if any. Items are "name/<option name>".
[[nodiscard]] std::optional<std::size_t> choice(Touch& touch, std::string_view name,
                                                std::span<const Option> options,
                                                std::optional<std::size_t> chosen = std::nullopt,
                                                float least_width_mm = 40.0F);

} // namespace crossarm::ui
