// The band across the top that says whether the structure is to be treated as live.
#pragma once

#include "ui/touch/touch.hpp"

#include <string_view>

namespace crossarm::ui {

enum class BandState { TreatAsLive, PermitInForce };

/// Across the whole screen at the pen, 4.5 mm bold: red with a toothed lower edge when to be treated as live,
/// blue with a straight double edge when a permit is in force. `fact` is the line that changes (earths on,
/// holder, since when). Never green, never the word for "no danger". Logged as "band".
///
/// With `stop` not empty, a key with these words stands in it at the right, black on yellow, at least 24 mm
/// wide and a target high: one touch, no hold, because a stop too many harms nobody. Logged as "stop_work".
/// True when it is touched.
bool band(Touch& touch, BandState state, std::string_view words, std::string_view fact = {},
          std::string_view stop = {});

} // namespace crossarm::ui
