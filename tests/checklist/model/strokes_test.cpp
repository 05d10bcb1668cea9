// Drawn lines as text: both ways, within bounds, and small.
#include "checklist/model/strokes.hpp"
#include "tests/support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <random>

using namespace crossarm::model;

namespace {

// A scribble like a name: loops that run on to the right, a sample every 0.5 mm or so.
Strokes scribble(std::mt19937& random, std::size_t lines, std::size_t points) {
    std::uniform_int_distribution<int> jitter(-3, 3);
    Strokes strokes;
    for (std::size_t l = 0; l < lines; ++l) {
        StrokeLine line;
        for (std::size_t i = 0; i < points; ++i) {
            const double t = static_cast<double>(i) * 0.15;
            line.push_back({400 + static_cast<int>(12 * t + 60 * std::cos(t)) % 400 + jitter(random),
                            150 + static_cast<int>(90 * std::sin(t)) + jitter(random)});
        }
        strokes.lines.push_back(line);
    }
    return strokes;
}

double off(StrokePoint at, const StrokeLine& line) {
    double least = 1e9;
    for (std::size_t i = 1; i < line.size(); ++i) {
        const double dx = line[i].x - line[i - 1].x;
        const double dy = line[i].y - line[i - 1].y;
        const double length2 = dx * dx + dy * dy;
        const double share =
            length2 == 0
                ? 0
                : std::clamp(((at.x - line[i - 1].x) * dx + (at.y - line[i - 1].y) * dy) / length2, 0.0, 1.0);
        least =
            std::min(least, std::hypot(at.x - line[i - 1].x - share * dx, at.y - line[i - 1].y - share * dy));
    }
    return least;
}

} // namespace

TEST_CASE("strokes are written and read back as they were") {
    const Strokes strokes{{{{0, 0}, {12, 30}, {4000, 4000}}, {{7, 8}}}};
    CHECK(to_text(strokes) == "0,0 12,30 4000,4000;7,8");
    const auto read = parse_strokes("0,0 12,30 4000,4000;7,8", "here");
    REQUIRE(read.ok());
    CHECK(*read == strokes);
    std::mt19937 random(11);
    for (int i = 0; i < 200; ++i) {
        const Strokes drawn = thinned(scribble(random, 1 + random() % 6, 1 + random() % 200));
        const auto again = parse_strokes(to_text(drawn), "here");
        REQUIRE(again.ok());
        CHECK(*again == drawn);
    }
}

TEST_CASE("what is no drawing is refused with a reason") {
    struct Case {
        std::string text;
        const char* what;
    };
    std::string many = "1,1";
    for (int i = 0; i < 400; ++i) {
        many += " 1,1";
    }
    std::string lines = "1,1";
    for (int i = 0; i < 100; ++i) {
        lines += ";1,1";
    }
    const Case cases[] = {
        {"", "nothing is drawn"},
        {"1,1;", "the strokes break off"},
        {"1,1 ", "the strokes break off"},
        {";1,1", "line 1 ends in no point"},
        {"1,1;;2,2", "line 2 ends in no point"},
        {"1,1 ;2,2", "line 1 ends in no point"},
        {"1,1  2,2", "\"\" is no point of a pad of 4000 tenths of a millimetre"},
        {"1", "\"1\" is no point of a pad of 4000 tenths of a millimetre"},
        {"1,", "\"1,\" is no point of a pad of 4000 tenths of a millimetre"},
        {"1,2,3", "\"1,2,3\" is no point of a pad of 4000 tenths of a millimetre"},
        {"-1,2", "\"-1,2\" is no point of a pad of 4000 tenths of a millimetre"},
        {"4001,2", "\"4001,2\" is no point of a pad of 4000 tenths of a millimetre"},
        {"01,2", "\"01,2\" is no point of a pad of 4000 tenths of a millimetre"},
        {"+1,2", "\"+1,2\" is no point of a pad of 4000 tenths of a millimetre"},
        {"1.5,2", "\"1.5,2\" is no point of a pad of 4000 tenths of a millimetre"},
        {"99999999999999999999,2",
         "\"99999999999999999999\" is no point of a pad of 4000 tenths of a millimetre"},
        {"nan,inf", "\"nan,inf\" is no point of a pad of 4000 tenths of a millimetre"},
        {many, "there are more than 400 points"},
        {lines, "there are more than 100 lines"},
    };
    for (const Case& c : cases) {
        INFO(c.text.substr(0, 40));
        const auto read = parse_strokes(c.text, "entry 12");
        REQUIRE_FALSE(read.ok());
        CHECK(read.problem().where == "entry 12");
        CHECK(read.problem().what == c.what);
    }
}

TEST_CASE("a signature is thinned to less than 4 kB and keeps its shape") {
    std::mt19937 random(5);
    for (int i = 0; i < 50; ++i) {
        const Strokes drawn = scribble(random, 1 + random() % 5, 100 + random() % 1500);
        const Strokes thin = thinned(drawn);
        CHECK(points_of(thin) <= kMostStrokePoints);
        CHECK(to_text(thin).size() < 4096);
        REQUIRE(thin.lines.size() == drawn.lines.size());
        for (std::size_t l = 0; l < thin.lines.size(); ++l) {
            CHECK(thin.lines[l].front() == drawn.lines[l].front());
            CHECK(thin.lines[l].back() == drawn.lines[l].back());
        }
        // With a tolerance of its own no point that was left out lies farther off than that.
        const StrokeLine one = thinned(drawn.lines.front(), 5);
        for (const StrokePoint point : drawn.lines.front()) {
            CHECK(off(point, one) <= 5.0 + 1e-9);
        }
    }
    // The largest thing there can be still fits.
    Strokes most;
    for (std::size_t i = 0; i < kMostStrokeLines; ++i) {
        most.lines.push_back(StrokeLine(500, {4000, 4000}));
    }
    CHECK(to_text(thinned(most)).size() < 4096);
}

TEST_CASE("a dot, nothing and a short line are too little") {
    CHECK(too_little_drawn({}));
    CHECK(too_little_drawn({{{{500, 500}}}}));
    CHECK(too_little_drawn({{{{0, 0}, {199, 0}}}}));
    CHECK_FALSE(too_little_drawn({{{{0, 0}, {200, 0}}}}));
    CHECK_FALSE(too_little_drawn({{{{0, 0}, {100, 0}}, {{0, 10}, {100, 10}}}}));
    CHECK(length_mm({{{{0, 0}, {30, 40}}}}) == Approx(5.0));
}
