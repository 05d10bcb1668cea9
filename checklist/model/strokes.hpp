// What a finger drew on the signature pad, small enough to travel in an entry.
#pragma once

#include "checklist/model/result.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::model {

/// Tenths of a millimetre of the real glass, from the pad's top left, y downwards.
struct StrokePoint {
    int x = 0;
    int y = 0;
    bool operator==(const StrokePoint&) const = default;
};
/// From finger down to finger up; one point is a dot.
using StrokeLine = std::vector<StrokePoint>;

/// The lines in the order drawn.
struct Strokes {
    std::vector<StrokeLine> lines;
    bool operator==(const Strokes&) const = default;
};

inline constexpr int kMostStrokeTenths = 4000;        ///< no pad is larger: 400 mm
inline constexpr std::size_t kMostStrokePoints = 400; ///< of all lines: at most 4 kB of text
inline constexpr std::size_t kMostStrokeLines = 100;
inline constexpr double kLeastDrawnMm = 20.0; ///< less is no signature. Common practice, no source.

[[nodiscard]] std::size_t points_of(const Strokes& strokes);
/// Length of all lines, mm; dots have none.
[[nodiscard]] double length_mm(const Strokes& strokes);
/// Nothing, a dot, or lines that are together shorter than kLeastDrawnMm.
[[nodiscard]] bool too_little_drawn(const Strokes& strokes);

/// The line without the points that lie within `tolerance` tenths of a millimetre of what is left. The first
/// and the last point stay.
[[nodiscard]] StrokeLine thinned(const StrokeLine& line, double tolerance);
/// At most kMostStrokePoints of them, with the smallest tolerance from 0.2 mm upwards that gives that. Lines
/// beyond kMostStrokeLines are a caller's bug and stop.
[[nodiscard]] Strokes thinned(const Strokes& strokes);

/// "x,y x,y;x,y ...": points parted by spaces, lines by semicolons. Strokes that parse_strokes would refuse
/// are a caller's bug and stop.
[[nodiscard]] std::string to_text(const Strokes& strokes);
/// Reads exactly what to_text writes. Problem: nothing drawn, not such a text, a coordinate outside 0 to
/// kMostStrokeTenths, too many points or lines.
[[nodiscard]] Result<Strokes> parse_strokes(std::string_view text, std::string_view where);

} // namespace crossarm::model
