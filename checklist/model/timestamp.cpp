#include "checklist/model/timestamp.hpp"

#include <array>
#include <cstdio>

namespace crossarm::model {

namespace {

constexpr std::int64_t kDayMs = 86'400'000;

struct Civil {
    int year = 1970;
    int month = 1;
    int day = 1;
};

// Days since 1970-01-01 of a proleptic Gregorian date, and back, by counting in eras of 400 years
// (146 097 days) that start in March so that the leap day is the last of the year.
std::int32_t days_from(const Civil& civil) {
    const int y = civil.month <= 2 ? civil.year - 1 : civil.year;
    const int era = (y >= 0 ? y : y - 399) / 400;
    const int year_of_era = y - era * 400;
    const int month_from_march = (civil.month + 9) % 12;
    const int day_of_year = (153 * month_from_march + 2) / 5 + civil.day - 1;
    const int day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
    return era * 146'097 + day_of_era - 719'468;
}

Civil civil_of(std::int32_t days) {
    const std::int64_t shifted = std::int64_t{days} + 719'468;
    const std::int64_t era = (shifted >= 0 ? shifted : shifted - 146'096) / 146'097;
    const int day_of_era = static_cast<int>(shifted - era * 146'097);
    const int year_of_era =
        (day_of_era - day_of_era / 1460 + day_of_era / 36'524 - day_of_era / 146'096) / 365;
    const int day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    const int month_from_march = (5 * day_of_year + 2) / 153;
    Civil out;
    out.day = day_of_year - (153 * month_from_march + 2) / 5 + 1;
    out.month = month_from_march < 10 ? month_from_march + 3 : month_from_march - 9;
    out.year = static_cast<int>(era) * 400 + year_of_era + (out.month <= 2 ? 1 : 0);
    return out;
}

int days_in_month(int year, int month) {
    static constexpr std::array<int, 12> kDays = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return month == 2 && leap ? 29 : kDays[static_cast<std::size_t>(month - 1)];
}

// Reads exactly `count` digits at `pos`; -1 when there are not that many.
int digits(std::string_view text, std::size_t pos, std::size_t count) {
    if (pos + count > text.size()) {
        return -1;
    }
    int out = 0;
    for (std::size_t i = pos; i < pos + count; ++i) {
        if (text[i] < '0' || text[i] > '9') {
            return -1;
        }
        out = out * 10 + (text[i] - '0');
    }
    return out;
}

char at(std::string_view text, std::size_t pos) {
    return pos < text.size() ? text[pos] : '\0';
}

std::string two(int n) {
    return {static_cast<char>('0' + n / 10 % 10), static_cast<char>('0' + n % 10)};
}

const char* month_letters(int month) {
    static constexpr std::array<const char*, 12> kNames = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                           "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    return kNames[static_cast<std::size_t>(month - 1)];
}

std::int64_t floor_div(std::int64_t a, std::int64_t b) {
    return a / b - (a % b < 0 ? 1 : 0);
}

} // namespace

std::string to_text(Date day) {
    const Civil c = civil_of(day.days);
    std::array<char, 32> buffer{};
    std::snprintf(buffer.data(), buffer.size(), "%04d-%02d-%02d", c.year, c.month, c.day);
    return buffer.data();
}

Result<Date> parse_date(std::string_view text, std::string_view where) {
    const int year = digits(text, 0, 4);
    const int month = digits(text, 5, 2);
    const int day = digits(text, 8, 2);
    if (text.size() != 10 || at(text, 4) != '-' || at(text, 7) != '-' || year < 1900 || year > 2199 ||
        month < 1 || month > 12 || day < 1 || day > days_in_month(year, month)) {
        return Problem{std::string(where), "\"" + std::string(text.substr(0, 40)) + "\" is not a date",
                       "write a calendar day as 2026-03-14"};
    }
    return Date{days_from({year, month, day})};
}

Date day_of(Timestamp at_time) {
    const std::int64_t local = at_time.utc_ms + std::int64_t{at_time.offset_minutes} * 60'000;
    return Date{static_cast<std::int32_t>(floor_div(local, kDayMs))};
}

std::string to_text(Timestamp at_time) {
    const std::int64_t local = at_time.utc_ms + std::int64_t{at_time.offset_minutes} * 60'000;
    const std::int64_t ms = local - floor_div(local, kDayMs) * kDayMs;
    const auto digit = [](std::int64_t n) { return static_cast<char>('0' + n); };
    std::string out = to_text(day_of(at_time)) + "T" + two(static_cast<int>(ms / 3'600'000)) + ":" +
                      two(static_cast<int>(ms / 60'000 % 60)) + ":" + two(static_cast<int>(ms / 1000 % 60)) +
                      ".";
    out += {digit(ms / 100 % 10), digit(ms / 10 % 10), digit(ms % 10)};
    if (at_time.offset_minutes == 0) {
        return out + "Z";
    }
    const int minutes = at_time.offset_minutes < 0 ? -at_time.offset_minutes : at_time.offset_minutes;
    return out + (at_time.offset_minutes < 0 ? "-" : "+") + two(minutes / 60) + ":" + two(minutes % 60);
}

Result<Timestamp> parse_timestamp(std::string_view text, std::string_view where) {
    const auto wrong = [&] {
        return Problem{std::string(where), "\"" + std::string(text.substr(0, 60)) + "\" is not a time",
                       "write RFC 3339 with the offset, as 2026-03-14T09:42:00+05:30"};
    };
    const Result<Date> day = parse_date(text.substr(0, 10), where);
    const int hour = digits(text, 11, 2);
    const int minute = digits(text, 14, 2);
    const int second = digits(text, 17, 2);
    if (!day || at(text, 10) != 'T' || at(text, 13) != ':' || at(text, 16) != ':' || hour < 0 || hour > 23 ||
        minute < 0 || minute > 59 || second < 0 || second > 60) {
        return wrong();
    }
    std::size_t pos = 19;
    std::int64_t ms = 0;
    if (at(text, pos) == '.') {
        const std::size_t first = ++pos;
        std::int64_t unit = 100;
        while (digits(text, pos, 1) >= 0) {
            ms += unit * digits(text, pos, 1);
            unit /= 10;
            ++pos;
        }
        if (pos == first) {
            return wrong();
        }
    }
    int offset = 0;
    if (at(text, pos) == 'Z') {
        ++pos;
    } else {
        const int hours = digits(text, pos + 1, 2);
        const int minutes = digits(text, pos + 4, 2);
        const char sign = at(text, pos);
        if ((sign != '+' && sign != '-') || at(text, pos + 3) != ':' || hours < 0 || hours > 23 ||
            minutes < 0 || minutes > 59) {
            return wrong();
        }
        offset = (sign == '-' ? -1 : 1) * (hours * 60 + minutes);
        pos += 6;
    }
    if (pos != text.size()) {
        return wrong();
    }
    Timestamp out;
    out.offset_minutes = static_cast<std::int16_t>(offset);
    out.utc_ms = day->days * kDayMs + hour * 3'600'000LL + minute * 60'000LL + second * 1000LL + ms -
                 offset * 60'000LL;
    return out;
}

std::string for_people(Date day) {
    const Civil c = civil_of(day.days);
    return std::to_string(c.day) + " " + month_letters(c.month) + " " + std::to_string(c.year);
}

std::string clock_for_people(Timestamp at_time) {
    const std::int64_t local = at_time.utc_ms + std::int64_t{at_time.offset_minutes} * 60'000;
    const std::int64_t ms = local - floor_div(local, kDayMs) * kDayMs;
    return two(static_cast<int>(ms / 3'600'000)) + ":" + two(static_cast<int>(ms / 60'000 % 60));
}

std::string for_people(Timestamp at_time) {
    static constexpr std::array<const char*, 7> kDays = {"Thu", "Fri", "Sat", "Sun", "Mon", "Tue", "Wed"};
    const Date day = day_of(at_time);
    const auto weekday = static_cast<std::size_t>(((day.days % 7) + 7) % 7);
    return std::string(kDays[weekday]) + " " + for_people(day) + ", " + clock_for_people(at_time);
}

} // namespace crossarm::model
