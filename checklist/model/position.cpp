#include "checklist/model/position.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

namespace crossarm::model {

namespace {

constexpr double kMeanRadius_m = 6'371'008.8;

/// What a position is made of: a number, or one of the marks d ' " , N S E W (d for the degree sign).
struct Token {
    char mark = 0; ///< 0 for a number
    double number = 0.0;
    bool has_sign = false;
};

std::optional<std::vector<Token>> tokens_of(std::string_view text) {
    constexpr std::pair<std::string_view, char> kMarks[] = {
        {"°", 'd'},  {"º", 'd'}, {"′", '\''}, {"’", '\''}, {"'", '\''}, {"″", '"'}, {"”", '"'},
        {"\"", '"'}, {",", ','}, {"N", 'N'},  {"S", 'S'},  {"E", 'E'},  {"W", 'W'}};
    std::vector<Token> tokens;
    while (!text.empty()) {
        if (text.front() == ' ') {
            text.remove_prefix(1);
            continue;
        }
        const auto* const mark =
            std::ranges::find_if(kMarks, [&](const auto& one) { return text.starts_with(one.first); });
        if (mark != std::end(kMarks)) {
            tokens.push_back({mark->second});
            text.remove_prefix(mark->first.size());
            continue;
        }
        const bool has_sign = text.front() == '-' || text.front() == '+';
        const std::string_view digits = text.substr(text.front() == '+' ? 1 : 0);
        Token token{0, 0.0, has_sign};
        const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), token.number,
                                                  std::chars_format::fixed);
        if (error != std::errc() || !std::isfinite(token.number)) {
            return std::nullopt;
        }
        tokens.push_back(token);
        text = std::string_view(end, static_cast<std::size_t>(text.data() + text.size() - end));
    }
    return tokens;
}

class Reader {
public:
    explicit Reader(const std::vector<Token>& tokens) : tokens_(tokens) {}

    /// One angle with a letter out of `letters` (positive one first); nothing when there is none.
    std::optional<double> angle(const char* letters, double most) {
        char letter = take_letter(letters);
        if (!at_number()) {
            return std::nullopt;
        }
        const Token degrees = tokens_[next_++];
        double value = std::abs(degrees.number);
        if (take('d') && at_unsigned_number()) {
            const auto minutes = part('\'');
            const auto seconds = at_unsigned_number() ? part('"') : 0.0;
            if (!minutes || !seconds) {
                return std::nullopt;
            }
            value += *minutes / 60.0 + *seconds / 3600.0;
        }
        if (letter == 0) {
            letter = take_letter(letters);
        }
        if (value > most || (letter != 0 && degrees.has_sign)) {
            return std::nullopt;
        }
        return letter == letters[1] || std::signbit(degrees.number) ? -value : value;
    }
    bool take(char mark) {
        if (next_ < tokens_.size() && tokens_[next_].mark == mark) {
            ++next_;
            return true;
        }
        return false;
    }
    [[nodiscard]] bool at_end() const { return next_ == tokens_.size(); }

private:
    [[nodiscard]] bool at_number() const { return next_ < tokens_.size() && tokens_[next_].mark == 0; }
    /// A number that is minutes or seconds: its mark follows.
    [[nodiscard]] bool at_unsigned_number() const {
        return at_number() && !tokens_[next_].has_sign && next_ + 1 < tokens_.size() &&
               (tokens_[next_ + 1].mark == '\'' || tokens_[next_ + 1].mark == '"');
    }
    std::optional<double> part(char mark) {
        const double value = tokens_[next_++].number;
        return take(mark) && value < 60.0 ? std::optional(value) : std::nullopt;
    }
    char take_letter(const char* letters) {
        return take(letters[0]) ? letters[0] : take(letters[1]) ? letters[1] : '\0';
    }

    const std::vector<Token>& tokens_;
    std::size_t next_ = 0;
};

double radians(double degrees) {
    return degrees * std::numbers::pi / 180.0;
}

} // namespace

std::optional<Position> parse_position(std::string_view text) {
    const auto tokens = tokens_of(text);
    if (!tokens) {
        return std::nullopt;
    }
    Reader reader(*tokens);
    const auto latitude = reader.angle("NS", 90.0);
    reader.take(',');
    const auto longitude = latitude ? reader.angle("EW", 180.0) : std::nullopt;
    if (!longitude || !reader.at_end()) {
        return std::nullopt;
    }
    return Position{*latitude, *longitude};
}

double distance_m(Position a, Position b) {
    const double half_north = std::sin(radians(b.latitude - a.latitude) / 2.0);
    const double half_east = std::sin(radians(b.longitude - a.longitude) / 2.0);
    const double h = half_north * half_north +
                     std::cos(radians(a.latitude)) * std::cos(radians(b.latitude)) * half_east * half_east;
    return 2.0 * kMeanRadius_m * std::asin(std::sqrt(std::clamp(h, 0.0, 1.0)));
}

} // namespace crossarm::model
