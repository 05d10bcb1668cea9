// The band across the top that says whether the structure is to be treated as live.
#pragma once

#include "ui/touch/touch.hpp"

#include <string_view>

namespace crossarm::ui {

enum class BandState { TreatAsLive, PermitInForce };

/// Across the whole screen at the pen, 4.5 mm bold: red with a toothed lower edge when to be treated as live,
/// blue with a straight double edge when a permit is in force. `fact` is the line that changes (earths on,
/// holder, since when). Never green, never the word for "no danger". Logged as "band".
void band(Touch& touch, BandState state, std::string_view words, std::string_view fact = {});

} // namespace crossarm::ui
