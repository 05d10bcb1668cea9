#include "ui/touch/number_draft.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <system_error>

namespace crossarm::ui {
namespace {

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

std::size_t count_digits(std::string_view text) {
    return static_cast<std::size_t>(std::ranges::count_if(text, is_digit));
}

std::size_t count_decimals(std::string_view text) {
    const std::size_t point = text.find('.');
    return point == std::string_view::npos ? 0 : text.size() - point - 1;
}

/// The text without its sign.
std::string_view magnitude(std::string_view text) {
    return text.starts_with('-') ? text.substr(1) : text;
}

/// Takes a digit or a point; the words key of the refusal, or nothing.
std::string_view add(NumberDraft& draft, char key) {
    const std::string_view so_far = magnitude(draft.text);
    const bool has_point = so_far.find('.') != std::string_view::npos;
    if (key == '.') {
        if (draft.limits.decimals == 0) {
            return "pad.whole_only";
        }
        if (has_point) {
            return "pad.second_point";
        }
        draft.text += so_far.empty() ? "0." : ".";
        return {};
    }
    if (so_far == "0") {
        return "pad.leading_zero";
    }
    if (count_digits(so_far) >= static_cast<std::size_t>(std::max(0, draft.limits.digits))) {
        return "pad.too_many_digits";
    }
    if (has_point && count_decimals(so_far) >= static_cast<std::size_t>(std::max(0, draft.limits.decimals))) {
        return "pad.too_many_decimals";
    }
    draft.text += key;
    return {};
}

std::string_view turn_sign(NumberDraft& draft) {
    if (!draft.limits.negative) {
        return "pad.not_negative";
    }
    if (draft.text.starts_with('-')) {
        draft.text.erase(0, 1);
    } else {
        draft.text.insert(0, 1, '-');
    }
    return {};
}

std::string_view take_away(NumberDraft& draft, bool all) {
    if (draft.text.empty()) {
        return "pad.nothing_there";
    }
    if (all) {
        draft.text.clear();
    } else {
        draft.text.pop_back();
    }
    return {};
}

} // namespace

bool type(NumberDraft& draft, char key) {
    if (is_digit(key) || key == '.') {
        draft.notice = add(draft, key);
    } else if (key == '-') {
        draft.notice = turn_sign(draft);
    } else if (key == '<' || key == 'C') {
        draft.notice = take_away(draft, /*all=*/key == 'C');
    } else {
        draft.notice = "pad.not_a_digit";
    }
    return draft.notice.empty();
}

NumberCheck check(const NumberDraft& draft) {
    const std::string_view text = draft.text;
    if (text.empty()) {
        return {NumberState::Empty};
    }
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    const bool whole_text = error == std::errc() && end == text.data() + text.size();
    if (!whole_text || !is_digit(text.back()) || !std::isfinite(value) ||
        (text.starts_with('-') && value == 0)) {
        return {NumberState::Unfinished};
    }
    const NumberLimits& limits = draft.limits;
    if ((limits.hard_low && value < *limits.hard_low) || (limits.hard_high && value > *limits.hard_high)) {
        return {NumberState::Impossible, value};
    }
    if (limits.previous && *limits.previous != 0) {
        const double ratio = value / *limits.previous;
        // A slip of the point is about tenfold; readings differ a little from time to time as well.
        if ((ratio >= 8 && ratio <= 12.5) || (ratio >= 0.08 && ratio <= 0.125)) {
            return {NumberState::Tenfold, value};
        }
    }
    if ((limits.usual_low && value < *limits.usual_low) ||
        (limits.usual_high && value > *limits.usual_high)) {
        return {NumberState::Unusual, value};
    }
    return {NumberState::Fine, value};
}

std::optional<double> number(const NumberDraft& draft) {
    const NumberCheck result = check(draft);
    switch (result.state) {
    case NumberState::Tenfold:
    case NumberState::Unusual:
    case NumberState::Fine:
        return result.value;
    case NumberState::Empty:
    case NumberState::Unfinished:
    case NumberState::Impossible:
        break;
    }
    return std::nullopt;
}

std::string plain_number(double value) {
    std::array<char, 400> text; // the longest double without exponent has 325 characters
    const auto [end, error] =
        std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed);
    return error == std::errc() ? std::string(text.data(), end) : std::string();
}

void set_number(NumberDraft& draft, double value) {
    draft.text = plain_number(value);
    draft.notice.clear();
}

} // namespace crossarm::ui
