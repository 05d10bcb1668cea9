#include "checklist/model/strokes.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <system_error>
#include <utility>

namespace crossarm::model {

namespace {

constexpr double kLeastTolerance = 2; // tenths of a millimetre

double between(StrokePoint a, StrokePoint b) {
    return std::hypot(static_cast<double>(a.x - b.x), static_cast<double>(a.y - b.y));
}

// From `at` to the nearest point of the straight line between two ends.
double off_line(StrokePoint at, StrokePoint from, StrokePoint to) {
    const double dx = to.x - from.x;
    const double dy = to.y - from.y;
    const double length2 = dx * dx + dy * dy;
    if (length2 == 0) {
        return between(at, from);
    }
    const double share = std::clamp(((at.x - from.x) * dx + (at.y - from.y) * dy) / length2, 0.0, 1.0);
    return std::hypot(at.x - (from.x + share * dx), at.y - (from.y + share * dy));
}

bool inside(StrokePoint point) {
    return point.x >= 0 && point.y >= 0 && point.x <= kMostStrokeTenths && point.y <= kMostStrokeTenths;
}

// Cuts what stands before `mark` off the text.
std::string_view cut_off(std::string_view& text, char mark) {
    const std::size_t at = text.find(mark);
    const std::string_view piece = text.substr(0, at);
    text.remove_prefix(at == std::string_view::npos ? text.size() : at + 1);
    return piece;
}

std::optional<int> coordinate(std::string_view text) {
    int value = 0;
    const char* const begin = text.data();
    const char* const end = begin + text.size();
    const auto read = std::from_chars(begin, end, value);
    const bool one_way_only = text.size() == 1 || !text.starts_with('0'); // no "007"
    if (text.empty() || read.ec != std::errc() || read.ptr != end || !one_way_only) {
        return std::nullopt;
    }
    return value;
}

std::optional<StrokePoint> point_of(std::string_view text) {
    const std::size_t comma = text.find(',');
    if (comma == std::string_view::npos) {
        return std::nullopt;
    }
    const auto x = coordinate(text.substr(0, comma));
    const auto y = coordinate(text.substr(comma + 1));
    return x && y && inside({*x, *y}) ? std::optional(StrokePoint{*x, *y}) : std::nullopt;
}

} // namespace

std::size_t points_of(const Strokes& strokes) {
    std::size_t points = 0;
    for (const StrokeLine& line : strokes.lines) {
        points += line.size();
    }
    return points;
}

double length_mm(const Strokes& strokes) {
    double tenths = 0;
    for (const StrokeLine& line : strokes.lines) {
        for (std::size_t i = 1; i < line.size(); ++i) {
            tenths += between(line[i - 1], line[i]);
        }
    }
    return tenths / 10;
}

bool too_little_drawn(const Strokes& strokes) {
    return length_mm(strokes) < kLeastDrawnMm;
}

StrokeLine thinned(const StrokeLine& line, double tolerance) {
    if (line.size() < 3) {
        return line;
    }
    // Keeps the point that lies farthest off, then looks at both sides of it (Ramer 1972, Douglas and
    // Peucker 1973).
    std::vector<bool> kept(line.size(), false);
    kept.front() = kept.back() = true;
    std::vector<std::pair<std::size_t, std::size_t>> open = {{0, line.size() - 1}};
    while (!open.empty()) {
        const auto [first, last] = open.back();
        open.pop_back();
        std::size_t farthest = first;
        double most = tolerance;
        for (std::size_t i = first + 1; i < last; ++i) {
            if (const double off = off_line(line[i], line[first], line[last]); off > most) {
                most = off;
                farthest = i;
            }
        }
        if (farthest != first) {
            kept[farthest] = true;
            open.emplace_back(first, farthest);
            open.emplace_back(farthest, last);
        }
    }
    StrokeLine out;
    for (std::size_t i = 0; i < line.size(); ++i) {
        if (kept[i]) {
            out.push_back(line[i]);
        }
    }
    return out;
}

Strokes thinned(const Strokes& strokes) {
    require(strokes.lines.size() <= kMostStrokeLines, "more lines were drawn than a signature may have");
    Strokes out;
    double tolerance = kLeastTolerance;
    do {
        out.lines.clear();
        for (const StrokeLine& line : strokes.lines) {
            out.lines.push_back(thinned(line, tolerance));
        }
        tolerance *= 1.5; // in the end two points a line are left, which is few enough
    } while (points_of(out) > kMostStrokePoints);
    return out;
}

std::string to_text(const Strokes& strokes) {
    require(!strokes.lines.empty() && strokes.lines.size() <= kMostStrokeLines &&
                points_of(strokes) <= kMostStrokePoints,
            "strokes that are no signature cannot be written");
    std::string out;
    for (const StrokeLine& line : strokes.lines) {
        require(!line.empty() && std::ranges::all_of(line, inside), "a stroke leaves its pad");
        out += out.empty() ? "" : ";";
        for (std::size_t i = 0; i < line.size(); ++i) {
            out += i == 0 ? "" : " ";
            out += std::to_string(line[i].x) + "," + std::to_string(line[i].y);
        }
    }
    return out;
}

Result<Strokes> parse_strokes(std::string_view text, std::string_view where) {
    const auto refused = [where](std::string what) {
        return Problem{std::string(where), std::move(what),
                       "take the strokes as the signature pad wrote them, \"x,y x,y;x,y x,y\""};
    };
    if (text.empty()) {
        return refused("nothing is drawn");
    }
    if (text.ends_with(';') || text.ends_with(' ')) {
        return refused("the strokes break off");
    }
    Strokes strokes;
    std::size_t points = 0;
    while (!text.empty()) {
        std::string_view line = cut_off(text, ';');
        strokes.lines.emplace_back();
        if (strokes.lines.size() > kMostStrokeLines) {
            return refused("there are more than " + std::to_string(kMostStrokeLines) + " lines");
        }
        if (line.empty() || line.ends_with(' ')) {
            return refused("line " + std::to_string(strokes.lines.size()) + " ends in no point");
        }
        while (!line.empty()) {
            const std::string_view written = cut_off(line, ' ');
            const auto point = point_of(written);
            if (!point) {
                return refused("\"" + std::string(written.substr(0, 20)) + "\" is no point of a pad of " +
                               std::to_string(kMostStrokeTenths) + " tenths of a millimetre");
            }
            if (++points > kMostStrokePoints) {
                return refused("there are more than " + std::to_string(kMostStrokePoints) + " points");
            }
            strokes.lines.back().push_back(*point);
        }
    }
    return strokes;
}

} // namespace crossarm::model
