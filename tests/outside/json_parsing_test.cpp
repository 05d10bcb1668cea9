// JSON texts as the public JSON parsing test-suite sorts them: what a reader must take, what it must refuse,
// and what it may do as it likes. (JSONTestSuite, MIT licence; short cases typed as facts, by its names.)
//
// A sealed file is taken only when it is its own RFC 8785 text, so of what must be taken we take what is
// written the one canonical way. Where that is stricter is listed below, with why.
#include "checklist/model/canonical.hpp"
#include "tests/support/catch.hpp"

#include <nlohmann/json.hpp>

#include <string>
#include <vector>

using namespace crossarm;

namespace {

bool parses(const std::string& text) {
    return model::parse_json(text, "t.json").ok();
}

/// What the reader of sealed files asks of a body's text.
bool passes_gate(const std::string& text) {
    const auto json = model::parse_json(text, "t.json");
    return json.ok() && model::canonical(*json) == text;
}

struct Case {
    const char* name;
    std::string text;
};

} // namespace

TEST_CASE("texts that a reader must take and that are canonical pass the gate") {
    for (const Case& one : std::vector<Case>{
             {"y_array_empty", "[]"},
             {"y_array_false", "[false]"},
             {"y_array_null", "[null]"},
             {"y_array_heterogeneous", R"([null,1,"1",{}])"},
             {"y_array_with_several_null", "[1,null,null,null,2]"},
             {"y_number_negative_int", "[-123]"},
             {"y_number_simple_int", "[123]"},
             {"y_number_simple_real", "[123.456789]"},
             {"y_object_empty", "{}"},
             {"y_object_empty_key", R"({"":0})"},
             {"y_string_backslash_doublequotes", R"(["\""])"},
             {"y_string_in_array", R"(["asd"])"},
             {"y_string_del_character", "[\"a\x7f\x61\"]"},
             {"y_string_utf8", "[\"\xe2\x82\xac\xf0\x9d\x84\x9e\"]"},
             {"y_structure_lonely_string", R"("asd")"},
             {"y_structure_lonely_true", "true"},
             {"y_structure_string_empty", R"("")"},
         }) {
        INFO(one.name);
        CHECK(passes_gate(one.text));
    }
}

TEST_CASE("texts that a reader must take but that are not the one canonical text stop at the gate") {
    for (const Case& one : std::vector<Case>{
             // White space.
             {"y_array_with_leading_space", " [1]"},
             {"y_array_with_trailing_space", "[2] "},
             {"y_array_arraysWithSpaces", "[[]   ]"},
             {"y_structure_trailing_newline", "[\"a\"]\n"},
             {"y_structure_whitespace_array", " [] "},
             // A number written another way.
             {"y_number_0e+1", "[0e+1]"},
             {"y_number_0e1", "[0e1]"},
             {"y_number_real_capital_e", "[1E22]"},
             {"y_number_real_pos_exponent", "[1e+2]"},
             {"y_number_negative_zero", "[-0]"},
             // A sign written another way, or names in another order.
             {"y_string_allowed_escapes", R"(["\"\\\/\b\f\n\r\t"])"},
             {"y_string_1_2_3_bytes_UTF-8_sequences", R"(["\u0060\u012a\u12AB"])"},
             {"y_string_accepted_surrogate_pair", R"(["\uD801\udc37"])"},
             {"y_object_long_names_in_other_order", R"({"b":1,"a":2})"},
         }) {
        INFO(one.name);
        CHECK(parses(one.text));
        CHECK_FALSE(passes_gate(one.text));
    }
}

TEST_CASE("we are stricter: one name twice in an object is refused although a reader may take it") {
    for (const Case& one : std::vector<Case>{
             {"y_object_duplicated_key", R"({"a":"b","a":"c"})"},
             {"y_object_duplicated_key_and_value", R"({"a":"b","a":"b"})"},
         }) {
        INFO(one.name);
        CHECK_FALSE(parses(one.text)); // RFC 7493 section 2.3
    }
}

TEST_CASE("texts that a reader must refuse are refused") {
    for (const Case& one : std::vector<Case>{
             {"n_array_1_true_without_comma", "[1 true]"},
             {"n_array_a_invalid_utf8", "[a\xe5]"},
             {"n_array_colon_instead_of_comma", R"(["": 1])"},
             {"n_array_comma_after_close", "[\"\"],"},
             {"n_array_comma_and_number", "[,1]"},
             {"n_array_double_comma", "[1,,2]"},
             {"n_array_extra_close", "[\"x\"]]"},
             {"n_array_extra_comma", "[\"\",]"},
             {"n_array_incomplete", "[\"x\""},
             {"n_array_just_minus", "[-]"},
             {"n_array_star_inside", "[*]"},
             {"n_array_unclosed_trailing_comma", "[1,"},
             {"n_incomplete_false", "[fals]"},
             {"n_multidigit_number_then_00", std::string("123\0", 4)},
             {"n_number_++", "[++1234]"},
             {"n_number_-01", "[-01]"},
             {"n_number_-2.", "[-2.]"},
             {"n_number_.-1", "[.-1]"},
             {"n_number_0.1.2", "[0.1.2]"},
             {"n_number_0.3e+", "[0.3e+]"},
             {"n_number_0e", "[0e]"},
             {"n_number_1_000", "[1 000.0]"},
             {"n_number_1eE2", "[1eE2]"},
             {"n_number_Inf", "[Inf]"},
             {"n_number_hex_1_digit", "[0x1]"},
             {"n_number_infinity", "[Infinity]"},
             {"n_number_minus_space_1", "[- 1]"},
             {"n_number_with_leading_zero", "[012]"},
             {"n_object_bracket_key", "{[: \"x\"}"},
             {"n_object_comma_instead_of_colon", R"({"x", null})"},
             {"n_object_double_colon", R"({"x"::"b"})"},
             {"n_object_key_with_single_quotes", "{key: 'value'}"},
             {"n_object_lone_continuation_byte_in_key", "{\"\xb9\":\"0\",}"},
             {"n_object_missing_value", R"({"a":)"},
             {"n_object_non_string_key", "{1:1}"},
             {"n_object_trailing_comma", R"({"id":0,})"},
             {"n_object_trailing_comment", R"({"a":"b"}/**/)"},
             {"n_object_unquoted_key", R"({a: "b"})"},
             {"n_single_space", " "},
             {"n_string_1_surrogate_then_escape", R"(["\uD800\"])"},
             {"n_string_escape_x", R"(["\x00"])"},
             {"n_string_escaped_emoji", "[\"\\\xf0\x9f\x8c\x80\"]"},
             {"n_string_invalid_unicode_escape", R"(["\uqqqq"])"},
             {"n_string_single_quote", "['single quote']"},
             {"n_string_unescaped_newline", "[\"new\nline\"]"},
             {"n_string_unescaped_tab", "[\"\t\"]"},
             {"n_structure_UTF8_BOM_no_data", "\xef\xbb\xbf"},
             {"n_structure_angle_bracket_null", "[<null>]"},
             {"n_structure_array_trailing_garbage", "[1]x"},
             {"n_structure_capitalized_True", "[True]"},
             {"n_structure_double_array", "[][]"},
             {"n_structure_no_data", ""},
             {"n_structure_null-byte-outside-string", std::string("[\0]", 3)},
             {"n_structure_open_array_object",
              [] {
                  std::string text;
                  for (int i = 0; i < 50'000; ++i) {
                      text += R"([{"":)";
                  }
                  return text;
              }()},
             {"n_structure_100000_opening_arrays", std::string(100'000, '[')},
         }) {
        INFO(one.name);
        CHECK_FALSE(parses(one.text));
    }
}

TEST_CASE("texts that a reader may take or refuse do not pass the gate") {
    for (const Case& one : std::vector<Case>{
             {"i_number_double_huge_neg_exp", "[123.456e-789]"},
             {"i_number_huge_exp",
              "[0.4e00669999999999999999999999999999999999999999999999999999999999999999999969999999006]"},
             {"i_number_too_big_pos_int", "[100000000000000000000]"},
             {"i_number_too_big_neg_int", "[-123123123123123123123123123123]"},
             {"i_string_1st_surrogate_but_2nd_missing", R"(["\uDADA"])"},
             {"i_string_inverted_surrogates_U+1D11E", R"(["\uDd1e\uD834"])"},
             {"i_string_invalid_utf-8", "[\"\xff\"]"},
             {"i_string_overlong_sequence_2_bytes", "[\"\xc0\xaf\"]"},
             {"i_string_UTF-8_invalid_sequence", "[\"\xe6\x97\xa5\xd1\x88\xfa\"]"},
             {"i_structure_UTF-8_BOM_empty_object", "\xef\xbb\xbf{}"},
             {"i_structure_500_nested_arrays", std::string(500, '[') + std::string(500, ']')},
         }) {
        INFO(one.name);
        CHECK_FALSE(passes_gate(one.text));
    }
}
