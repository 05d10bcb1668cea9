// Times with offset (RFC 3339) and ids (RFC 9562), against the vectors printed in those documents.
#include "checklist/model/ids.hpp"
#include "checklist/model/timestamp.hpp"
#include "checklist/model/units.hpp"
#include "tests/support/catch.hpp"

#include <array>
#include <random>
#include <string>
#include <vector>

using namespace crossarm::model;

TEST_CASE("the examples of RFC 3339 section 5.8 read as the moments they are (from memory)") {
    CHECK(parse_timestamp("1985-04-12T23:20:50.52Z", "x")->utc_ms == 482'196'050'520);
    CHECK(parse_timestamp("1996-12-19T16:39:57-08:00", "x")->utc_ms ==
          parse_timestamp("1996-12-20T00:39:57Z", "x")->utc_ms);
    // The leap second is taken as the second after it: no clock of ours can hold it.
    CHECK(parse_timestamp("1990-12-31T23:59:60Z", "x")->utc_ms ==
          parse_timestamp("1990-12-31T15:59:60-08:00", "x")->utc_ms);
    CHECK(parse_timestamp("1990-12-31T23:59:60Z", "x")->utc_ms == 662'688'000'000);
    CHECK(parse_timestamp("1937-01-01T12:00:27.87+00:20", "x")->utc_ms == -1'041'337'172'130);
}

TEST_CASE("what is no RFC 3339 time is refused") {
    for (const char* text :
         {"", "2026-03-14", "2026-03-14 09:42:00Z", "2026-03-14T09:42Z", "2026-02-29T00:00:00Z",
          "2026-03-14T24:00:00Z", "2026-03-14T09:42:00", "2026-03-14T09:42:00+5:30", "2026-03-14T09:42:00.Z",
          "2026-03-14T09:42:00Zx", "26-03-14T09:42:00Z"}) {
        INFO(text);
        CHECK_FALSE(parse_timestamp(text, "x").ok());
    }
}

TEST_CASE("times read back as they were written, with their offset") {
    std::mt19937_64 random(1);
    for (int i = 0; i < 2000; ++i) {
        const Timestamp at{static_cast<std::int64_t>(random() % 4'000'000'000'000ULL) - 1'000'000'000'000,
                           static_cast<std::int16_t>(static_cast<int>(random() % 1680) - 840)};
        CHECK(*parse_timestamp(to_text(at), "x") == at);
    }
    CHECK(to_text(Timestamp{1'773'461'527'250, 330}) == "2026-03-14T09:42:07.250+05:30");
    CHECK(for_people(Timestamp{1'773'461'527'250, 330}) == "Sat 14 Mar 2026, 09:42");
    CHECK(to_text(day_of(Timestamp{1'773'461'527'250, -600})) == "2026-03-13");
}

TEST_CASE("calendar days from 1900 to 2199 read back, leap years included") {
    for (std::int32_t day = parse_date("1900-01-01", "x")->days; day <= parse_date("2199-12-31", "x")->days;
         ++day) {
        REQUIRE(parse_date(to_text(Date{day}), "x")->days == day);
    }
    CHECK(parse_date("2000-02-29", "x").ok());
    CHECK_FALSE(parse_date("2100-02-29", "x").ok());
}

TEST_CASE("the UUIDv7 of RFC 9562 A.6 is made from its own time and random bits") {
    // 017F22E2-79B0-7CC3-98C4-DC0C0C07398F: 2022-02-22T14:22:22-05:00, rand_a CC3, rand_b 18C4DC0C0C07398F
    // (read).
    const auto id = parse_id("017F22E2-79B0-7CC3-98C4-DC0C0C07398F", "x");
    REQUIRE(id.ok());
    CHECK(to_text(*id) == "017f22e2-79b0-7cc3-98c4-dc0c0c07398f");
    std::uint64_t ms = 0;
    for (std::size_t i = 0; i < 6; ++i) {
        ms = ms * 256 + id->bytes[i];
    }
    CHECK(ms == static_cast<std::uint64_t>(parse_timestamp("2022-02-22T14:22:22-05:00", "x")->utc_ms));
    IdMaker maker;
    const Id made = maker.make(ms, {});
    CHECK(std::equal(made.bytes.begin(), made.bytes.begin() + 6, id->bytes.begin()));
    CHECK((made.bytes[6] >> 4U) == 7);
    CHECK((made.bytes[8] >> 6U) == 2);
}

TEST_CASE("ids of one maker only go up, also when the clock goes back or stands") {
    std::mt19937 random(5);
    IdMaker maker;
    Id last;
    std::uint64_t now = 1'790'000'000'000;
    for (int i = 0; i < 20'000; ++i) {
        now += random() % 3;
        now -= random() % 4;
        std::array<std::uint8_t, 10> bytes{};
        for (std::uint8_t& byte : bytes) {
            byte = static_cast<std::uint8_t>(random());
        }
        const Id id = maker.make(now, bytes);
        REQUIRE(last < id);
        last = id;
    }
}

TEST_CASE("what is no UUID is refused") {
    for (const char* text :
         {"", "017F22E2", "017F22E2-79B0-7CC3-98C4-DC0C0C07398", "017F22E2x79B0-7CC3-98C4-DC0C0C07398F",
          "017F22E2-79B0-7CC3-98C4-DC0C0C07398G"}) {
        CHECK_FALSE(parse_id(text, "x").ok());
    }
}

TEST_CASE("every unit's code reads back, and numbers are written for people") {
    for (int i = 0; i <= static_cast<int>(Unit::KiloAmpere); ++i) {
        const Unit unit = static_cast<Unit>(i);
        CHECK(unit_of(code(unit)) == unit);
    }
    CHECK_FALSE(unit_of("kv").has_value());
    CHECK(for_people(Quantity{41.20, Unit::Kilovolt}) == "41.2\xC2\xA0kV");
    CHECK(for_people(Quantity{-3.0, Unit::Celsius}) == "\xE2\x88\x92"
                                                       "3\xC2\xA0°C");
    CHECK(for_people(Quantity{-0.001, Unit::One}, 1) == "0");
}
