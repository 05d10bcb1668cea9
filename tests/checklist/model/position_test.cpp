#include "checklist/model/position.hpp"

#include "tests/support/catch.hpp"

#include <cmath>
#include <string>
#include <vector>

using namespace crossarm::model;

TEST_CASE("positions as people write them") {
    struct Case {
        std::string text;
        std::optional<Position> position;
    };
    const Position place{-47.0 - 6.0 / 60.0 - 44.2 / 3600.0, -121.0 - 24.0 / 60.0 - 14.4 / 3600.0};
    const std::vector<Case> cases = {
        {"-47.11228, -121.404", Position{-47.11228, -121.404}},
        {"-47.11228 -121.404", Position{-47.11228, -121.404}},
        {"+47.5,8.25", Position{47.5, 8.25}},
        {" 47.5 S , 8.25 W ", Position{-47.5, -8.25}},
        {"N 47.5° E 8.25°", Position{47.5, 8.25}},
        {"47°06'44.2\"S 121°24'14.4\"W", place},
        {"47° 06′ 44.2″ S, 121° 24′ 14.4″ W", place},
        {"-47°06'44.2\" -121°24'14.4\"", place},
        {"47°30' 8°15'E", Position{47.5, 8.25}},
        {"0, 0", Position{0, 0}},
        {"-0°30', 10°", Position{-0.5, 10}},
        {"90, -180", Position{90, -180}},
        {"", {}},
        {"Lane side by the weir", {}},
        {"47.5", {}},
        {"47.5, 8.25, 12", {}},
        {"91, 8", {}},
        {"47, 181", {}},
        {"47°60'S 8°W", {}},
        {"47°30'60\"S 8°W", {}},
        {"-47.5 S, 8 E", {}},
        {"47.5 E, 8 N", {}},
        {"nan, 8", {}},
        {"inf, 8", {}},
        {"1e1, 8", {}},
        {"47,5, 8,25", {}},
        {"47.5 x 8", {}},
        {"--47, 8", {}},
    };
    for (const Case& one : cases) {
        INFO(one.text);
        const auto read = parse_position(one.text);
        REQUIRE(read.has_value() == one.position.has_value());
        if (read) {
            CHECK(read->latitude == Approx(one.position->latitude).margin(1e-12));
            CHECK(read->longitude == Approx(one.position->longitude).margin(1e-12));
        }
    }
}

TEST_CASE("great-circle distances") {
    // A worked example that is in wide use for the haversine formula (Movable Type Scripts, "Calculate
    // distance, bearing and more between latitude/longitude points"; value and radius of 6 371 km from
    // memory): 968.9 km.
    const auto south = parse_position("50°03'59\"N, 005°42'53\"W");
    const auto north = parse_position("58°38'38\"N, 003°04'12\"W");
    REQUIRE((south && north));
    CHECK(distance_m(*south, *north) / 1000.0 == Approx(968.9).margin(0.05));
    // A task that many programs have answered (Rosetta Code, "Haversine formula", from memory): 2 887.26 km
    // on a sphere of 6 372.8 km.
    CHECK(distance_m({36.12, -86.67}, {33.94, -118.40}) / 6'371'008.8 * 6372.8 ==
          Approx(2887.26).margin(0.005));
    // The sea mile of 1 852 m is about a minute of arc; the earth's half circumference is about 20 000 km
    // (the metre's first definition).
    CHECK(distance_m({0, 0}, {1.0 / 60.0, 0}) == Approx(1852.0).epsilon(0.001));
    CHECK(distance_m({90, 0}, {-90, 0}) == Approx(20e6).epsilon(0.002));
    CHECK(distance_m({10, 179.999}, {10, -179.999}) < 220.0);
    CHECK(distance_m({-47.1, -121.4}, {-47.1, -121.4}) == 0.0);
}
