#include "checklist/model/canonical.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <set>
#include <vector>

namespace crossarm::model {

namespace {

using Json = nlohmann::json;

constexpr std::int64_t kMostInteger = (std::int64_t{1} << 53) - 1;

// The next code point of valid UTF-8.
char32_t next_code_point(std::string_view text, std::size_t& pos) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned lead = byte(pos);
    const std::size_t more = lead < 0x80U ? 0 : lead < 0xE0U ? 1 : lead < 0xF0U ? 2 : 3;
    char32_t point = more == 0 ? lead : lead & (0x3FU >> more);
    require(pos + more < text.size(), "canonical text must be valid UTF-8");
    for (std::size_t i = 1; i <= more; ++i) {
        point = (point << 6U) | (byte(pos + i) & 0x3FU);
    }
    pos += more + 1;
    return point;
}

// RFC 8785 3.2.3 sorts names by UTF-16 units, which differs from code point order above U+FFFF.
std::u16string utf16(std::string_view text) {
    std::u16string out;
    for (std::size_t pos = 0; pos < text.size();) {
        const char32_t point = next_code_point(text, pos);
        if (point < 0x10000U) {
            out += static_cast<char16_t>(point);
        } else {
            out += static_cast<char16_t>(0xD7C0U + (point >> 10U));
            out += static_cast<char16_t>(0xDC00U + (point & 0x3FFU));
        }
    }
    return out;
}

void write_text(std::string_view text, std::string& out) {
    static constexpr char kDigits[] = "0123456789abcdef";
    out += '"';
    for (const char c : text) {
        switch (c) {
        case '"':
            out += "\\\"";
            break;
        case '\\':
            out += "\\\\";
            break;
        case '\b':
            out += "\\b";
            break;
        case '\f':
            out += "\\f";
            break;
        case '\n':
            out += "\\n";
            break;
        case '\r':
            out += "\\r";
            break;
        case '\t':
            out += "\\t";
            break;
        default:
            if (static_cast<unsigned char>(c) < 0x20U) {
                out += "\\u00";
                out += kDigits[static_cast<unsigned char>(c) >> 4U];
                out += kDigits[static_cast<unsigned char>(c) & 0x0FU];
            } else {
                out += c;
            }
        }
    }
    out += '"';
}

void write(const Json& value, std::string& out);

void write_object(const Json& object, std::string& out) {
    struct Member {
        std::u16string order;
        const std::string* name;
        const Json* value;
    };
    std::vector<Member> members;
    members.reserve(object.size());
    for (auto it = object.begin(); it != object.end(); ++it) {
        members.push_back({utf16(it.key()), &it.key(), &it.value()});
    }
    std::ranges::sort(members, {}, &Member::order);
    out += '{';
    bool first = true;
    for (const Member& member : members) {
        if (!first) {
            out += ',';
        }
        first = false;
        write_text(*member.name, out);
        out += ':';
        write(*member.value, out);
    }
    out += '}';
}

void write(const Json& value, std::string& out) {
    switch (value.type()) {
    case Json::value_t::null:
        out += "null";
        break;
    case Json::value_t::boolean:
        out += value.get<bool>() ? "true" : "false";
        break;
    case Json::value_t::number_integer:
    case Json::value_t::number_unsigned: {
        const auto number = value.get<std::int64_t>();
        require(number >= -kMostInteger && number <= kMostInteger, "canonical integers are within 2^53 - 1");
        out += std::to_string(number);
        break;
    }
    case Json::value_t::number_float:
        out += canonical_number(value.get<double>());
        break;
    case Json::value_t::string:
        write_text(value.get_ref<const std::string&>(), out);
        break;
    case Json::value_t::array: {
        out += '[';
        bool first = true;
        for (const Json& item : value) {
            if (!first) {
                out += ',';
            }
            first = false;
            write(item, out);
        }
        out += ']';
        break;
    }
    case Json::value_t::object:
        write_object(value, out);
        break;
    case Json::value_t::binary:
    case Json::value_t::discarded:
        require(false, "only JSON values have a canonical text");
    }
}

// First pass over a text from outside: no tree, only bounds, duplicates and number ranges.
class BoundsPass {
public:
    explicit BoundsPass(const JsonBounds& bounds) : bounds_(bounds) {}

    bool null() { return count(); }
    bool boolean(bool) { return count(); }
    bool number_integer(std::int64_t n) { return in_range(n >= -kMostInteger) && count(); }
    bool number_unsigned(std::uint64_t n) {
        return in_range(n <= static_cast<std::uint64_t>(kMostInteger)) && count();
    }
    bool number_float(double n, const std::string& text) {
        // An integer too long for 64 bits arrives here, already rounded.
        const bool is_integer = text.find_first_of(".eE") == std::string::npos;
        return in_range(!is_integer && std::isfinite(n)) && count();
    }
    bool string(std::string& text) {
        if (text.size() > bounds_.text_bytes) {
            return fail("a text of " + std::to_string(text.size()) + " bytes is too long");
        }
        return count();
    }
    bool binary(std::vector<std::uint8_t>&) { return fail("binary values are not JSON"); }
    bool start_object(std::size_t) {
        names_.emplace_back();
        return deeper();
    }
    bool end_object() {
        names_.pop_back();
        --depth_;
        return true;
    }
    bool start_array(std::size_t) {
        names_.emplace_back();
        return deeper();
    }
    bool end_array() { return end_object(); }
    bool key(std::string& name) {
        if (name.size() > bounds_.name_bytes) {
            return fail("a name of " + std::to_string(name.size()) + " bytes is too long");
        }
        if (!names_.back().insert(name).second) {
            return fail("the name \"" + name + "\" stands twice in one object");
        }
        return true;
    }
    bool parse_error(std::size_t, const std::string&, const nlohmann::detail::exception& error) {
        // "[json.exception.parse_error.101] parse error at line 3, column 5: ..." -> from "line"
        const std::string full = error.what();
        const std::size_t line = full.find("line ");
        return fail("broken JSON at " + (line == std::string::npos ? full : full.substr(line)));
    }

    [[nodiscard]] const std::string& what() const { return what_; }

private:
    bool fail(std::string what) {
        what_ = std::move(what);
        return false;
    }
    bool count() { return ++nodes_ <= bounds_.nodes || fail("there are too many values in it"); }
    bool deeper() { return ++depth_ <= bounds_.depth ? count() : fail("it is nested too deep"); }
    bool in_range(bool is) { return is || fail("a number is outside -(2^53 - 1) to 2^53 - 1"); }

    JsonBounds bounds_;
    std::size_t depth_ = 0;
    std::size_t nodes_ = 0;
    std::vector<std::set<std::string>> names_;
    std::string what_;
};

} // namespace

std::string canonical_number(double value) {
    require(std::isfinite(value), "canonical numbers are finite");
    if (value == 0.0) {
        return "0";
    }
    std::array<char, 40> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), std::fabs(value),
                                   std::chars_format::scientific)
                         .ptr;
    const std::string_view text(buffer.data(), static_cast<std::size_t>(end - buffer.data()));
    const std::size_t e = text.find('e');
    std::string digits(1, text[0]);
    if (e > 2) {
        digits += text.substr(2, e - 2);
    }
    int exponent = 0;
    const std::size_t number = text[e + 1] == '+' ? e + 2 : e + 1;
    std::from_chars(text.data() + number, text.data() + text.size(), exponent);

    // ECMA-262 Number::toString: n is the place of the decimal point after the first digit's.
    const int k = static_cast<int>(digits.size());
    const int n = exponent + 1;
    std::string out = value < 0.0 ? "-" : "";
    if (k <= n && n <= 21) {
        out += digits + std::string(static_cast<std::size_t>(n - k), '0');
    } else if (0 < n && n <= 21) {
        out +=
            digits.substr(0, static_cast<std::size_t>(n)) + "." + digits.substr(static_cast<std::size_t>(n));
    } else if (-6 < n && n <= 0) {
        out += "0." + std::string(static_cast<std::size_t>(-n), '0') + digits;
    } else {
        out += digits.substr(0, 1) + (k > 1 ? "." + digits.substr(1) : "") + "e" + (n - 1 < 0 ? "-" : "+") +
               std::to_string(n - 1 < 0 ? 1 - n : n - 1);
    }
    return out;
}

std::string canonical(const nlohmann::json& value) {
    std::string out;
    write(value, out);
    return out;
}

Result<nlohmann::json> parse_json(std::string_view text, std::string_view file, const JsonBounds& bounds) {
    const std::string where(file);
    if (text.empty()) {
        return Problem{where, "the file is empty", "give the whole file"};
    }
    if (text.starts_with("\xEF\xBB\xBF")) {
        return Problem{where, "the file begins with a byte order mark", "save it as UTF-8 without one"};
    }
    if (text.find('\0') != std::string_view::npos) {
        return Problem{where, "there is a NUL byte in it", "give a text file in UTF-8"};
    }
    BoundsPass pass(bounds);
    if (!Json::sax_parse(text.begin(), text.end(), &pass)) {
        return Problem{where, pass.what(), "mend the file or ask for a new copy of it"};
    }
    Json out = Json::parse(text.begin(), text.end(), nullptr, /*allow_exceptions=*/false);
    if (out.is_discarded()) {
        return Problem{where, "broken JSON", "mend the file or ask for a new copy of it"};
    }
    return out;
}

} // namespace crossarm::model
