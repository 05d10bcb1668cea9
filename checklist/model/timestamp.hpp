// A moment with the UTC offset it was recorded under (RFC 3339).
#pragma once

#include "checklist/model/result.hpp"

#include <compare>
#include <cstdint>
#include <string>
#include <string_view>

namespace crossarm::model {

/// Whole days since 1970-01-01; the calendar date of a due day or of a sample.
struct Date {
    std::int32_t days = 0;
    auto operator<=>(const Date&) const = default;
};

/// Milliseconds since 1970-01-01T00:00:00Z and the offset that the tablet's clock had then.
/// Never used for order: the journal's sequence is (clocks jump).
struct Timestamp {
    std::int64_t utc_ms = 0;
    std::int16_t offset_minutes = 0; ///< -23:59 to +23:59

    bool operator==(const Timestamp&) const = default;
};

/// "2026-03-14T09:42:07.250+05:30"; milliseconds always, "Z" for offset 0.
[[nodiscard]] std::string to_text(Timestamp at);
/// Reads RFC 3339: date, 'T', time, optional fraction (cut to ms), 'Z' or offset; second 60 is taken as
/// the next second. Problem for anything else; `where` names the place in it.
[[nodiscard]] Result<Timestamp> parse_timestamp(std::string_view text, std::string_view where);

/// "2026-03-14"
[[nodiscard]] std::string to_text(Date day);
/// Reads "YYYY-MM-DD", years 1900 to 2199, real calendar days only.
[[nodiscard]] Result<Date> parse_date(std::string_view text, std::string_view where);
/// The calendar day at the place where `at` was recorded.
[[nodiscard]] Date day_of(Timestamp at);
/// For people: "Tue 14 Mar 2026, 09:42" and "14 Mar 2026". Month in letters: 03/04 is ambiguous.
[[nodiscard]] std::string for_people(Timestamp at);
[[nodiscard]] std::string for_people(Date day);
/// The time of day alone, "09:42".
[[nodiscard]] std::string clock_for_people(Timestamp at);

} // namespace crossarm::model
