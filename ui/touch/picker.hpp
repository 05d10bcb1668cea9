// One of a long list: a scroll area of rows in the whole room.
#pragma once

#include "ui/touch/choice.hpp"

namespace crossarm::ui {

/// The index touched in this frame, if any. Items are "name/<option name>".
[[nodiscard]] std::optional<std::size_t> picker(Touch& touch, std::string_view name,
                                                std::span<const Option> options,
                                                std::optional<std::size_t> chosen = std::nullopt);

} // namespace crossarm::ui
