#include "checklist/model/canonical.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <map>
#include <utility>
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
    std::size_t plain = 0; // what stands before it is written
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (c != '"' && c != '\\' && static_cast<unsigned char>(c) >= 0x20U) {
            continue;
        }
        out += text.substr(plain, i - plain);
        plain = i + 1;
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
            out += "\\u00";
            out += kDigits[static_cast<unsigned char>(c) >> 4U];
            out += kDigits[static_cast<unsigned char>(c) & 0x0FU];
        }
    }
    out += text.substr(plain);
    out += '"';
}

void write(const Json& value, std::string& out);

void write_member(const std::string& name, const Json& value, bool& first, std::string& out) {
    if (!first) {
        out += ',';
    }
    first = false;
    write_text(name, out);
    out += ':';
    write(value, out);
}

void write_object(const Json& object, std::string& out) {
    const auto is_ascii = [](const std::string& name) {
        return std::ranges::all_of(name, [](char c) { return static_cast<unsigned char>(c) < 0x80U; });
    };
    out += '{';
    bool first = true;
    bool all_ascii = true;
    for (auto it = object.begin(); it != object.end() && all_ascii; ++it) {
        all_ascii = is_ascii(it.key());
    }
    if (all_ascii) { // the order of bytes, which the object has, is that of UTF-16 units
        for (auto it = object.begin(); it != object.end(); ++it) {
            write_member(it.key(), it.value(), first, out);
        }
    } else {
        std::map<std::u16string, Json::const_iterator> members;
        for (auto it = object.begin(); it != object.end(); ++it) {
            members.emplace(utf16(it.key()), it);
        }
        for (const auto& [order, member] : members) {
            write_member(member.key(), member.value(), first, out);
        }
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

// Builds the tree of a text from outside, and stops at the first thing that is beyond the bounds, stands
// twice or is out of range.
class BoundedTree {
public:
    explicit BoundedTree(const JsonBounds& bounds) : bounds_(bounds) {}

    bool null() { return count() && add(nullptr); }
    bool boolean(bool is) { return count() && add(is); }
    bool number_integer(std::int64_t n) { return in_range(n >= -kMostInteger) && count() && add(n); }
    bool number_unsigned(std::uint64_t n) {
        return in_range(n <= static_cast<std::uint64_t>(kMostInteger)) && count() && add(n);
    }
    bool number_float(double n, const std::string& text) {
        // An integer too long for 64 bits arrives here, already rounded.
        const bool is_integer = text.find_first_of(".eE") == std::string::npos;
        return in_range(!is_integer && std::isfinite(n)) && count() && add(n);
    }
    bool string(std::string& text) {
        if (text.size() > bounds_.text_bytes) {
            return fail("a text of " + std::to_string(text.size()) + " bytes is too long");
        }
        return count() && add(std::move(text));
    }
    bool binary(std::vector<std::uint8_t>&) { return fail("binary values are not JSON"); }
    bool start_object(std::size_t) { return deeper() && open(Json::object()); }
    bool end_object() {
        open_.pop_back();
        return true;
    }
    bool start_array(std::size_t) { return deeper() && open(Json::array()); }
    bool end_array() { return end_object(); }
    bool key(std::string& name) {
        if (name.size() > bounds_.name_bytes) {
            return fail("a name of " + std::to_string(name.size()) + " bytes is too long");
        }
        const auto [member, is_new] = open_.back()->emplace(name, nullptr);
        if (!is_new) {
            return fail("the name \"" + name + "\" stands twice in one object");
        }
        member_ = &*member;
        return true;
    }
    bool parse_error(std::size_t, const std::string&, const nlohmann::detail::exception& error) {
        // "[json.exception.parse_error.101] parse error at line 3, column 5: ..." -> from "line"
        const std::string full = error.what();
        const std::size_t line = full.find("line ");
        return fail("broken JSON at " + (line == std::string::npos ? full : full.substr(line)));
    }

    [[nodiscard]] const std::string& what() const { return what_; }
    [[nodiscard]] Json take() { return std::move(root_); }

private:
    bool fail(std::string what) {
        what_ = std::move(what);
        return false;
    }
    bool count() { return ++nodes_ <= bounds_.nodes || fail("there are too many values in it"); }
    bool deeper() { return open_.size() < bounds_.depth ? count() : fail("it is nested too deep"); }
    bool in_range(bool is) { return is || fail("a number is outside -(2^53 - 1) to 2^53 - 1"); }

    /// Puts a value where the text has come to.
    bool add(Json value) {
        place() = std::move(value);
        return true;
    }
    bool open(Json empty) {
        Json& at = place();
        at = std::move(empty);
        open_.push_back(&at);
        return true;
    }
    Json& place() {
        if (open_.empty()) {
            return root_;
        }
        return open_.back()->is_array() ? open_.back()->emplace_back(nullptr) : *member_;
    }

    JsonBounds bounds_;
    std::size_t nodes_ = 0;
    Json root_;
    std::vector<Json*> open_; ///< objects and arrays that are not closed yet, from the outermost on
    Json* member_ = nullptr;  ///< whose name came last
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

std::string canonical_text(std::string_view text) {
    std::string out;
    write_text(text, out);
    return out;
}

std::string canonical(const nlohmann::json& value, std::size_t expected_bytes) {
    std::string out;
    out.reserve(expected_bytes);
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
    BoundedTree tree(bounds);
    if (!Json::sax_parse(text.begin(), text.end(), &tree)) {
        return Problem{where, tree.what(), "mend the file or ask for a new copy of it"};
    }
    return tree.take();
}

} // namespace crossarm::model
