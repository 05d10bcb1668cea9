// What the number pad takes, what it refuses, and what it asks about.
#include "tests/support/catch.hpp"
#include "ui/touch/number_draft.hpp"
#include "ui/touch/text_draft.hpp"

#include <cmath>
#include <random>

using namespace crossarm::ui;

namespace {

NumberLimits kilovolts() {
    NumberLimits limits;
    limits.decimals = 2;
    limits.digits = 5;
    limits.hard_low = 0;
    limits.hard_high = 100;
    limits.usual_low = 20;
    limits.usual_high = 60;
    limits.previous = 47.5;
    return limits;
}

NumberDraft typed(const char* keys, const NumberLimits& limits) {
    NumberDraft draft;
    draft.limits = limits;
    for (const char* key = keys; *key != '\0'; ++key) {
        type(draft, *key);
    }
    return draft;
}

} // namespace

TEST_CASE("a slip on the pad is refused in sight, never swallowed and never garbled") {
    struct Case {
        const char* keys;
        const char* text;
        const char* notice;
    };
    NumberLimits with_sign = kilovolts();
    with_sign.negative = true;
    const Case cases[] = {
        {"47.5", "47.5", ""},
        {"1..5", "1.5", ""}, // the second point told so; the 5 then was taken
        {"1..", "1.", "pad.second_point"},
        {"1.5.", "1.5", "pad.second_point"},
        {"007", "0", "pad.leading_zero"},
        {"00", "0", "pad.leading_zero"},
        {".5", "0.5", ""},
        {"5.", "5.", ""},
        {"123456789012", "12345", "pad.too_many_digits"},
        {"1.234", "1.23", "pad.too_many_decimals"},
        {"0.55", "0.55", ""},
        {"4<", "", ""},
        {"<", "", "pad.nothing_there"},
        {"12.3<<", "12", ""},
        {"12.3C", "", ""},
        {"C", "", "pad.nothing_there"},
        {"5-", "5", "pad.not_negative"},
        {"5x", "5", "pad.not_a_digit"},
        {"5,", "5", "pad.not_a_digit"},
    };
    for (const Case& c : cases) {
        INFO(c.keys);
        const NumberDraft draft = typed(c.keys, kilovolts());
        CHECK(draft.text == c.text);
        CHECK(draft.notice == c.notice);
    }
    CHECK(typed("5-", with_sign).text == "-5");
    CHECK(typed("-5", with_sign).text == "-5");
    CHECK(typed("5--", with_sign).text == "5");
    CHECK(typed("-.5", with_sign).text == "-0.5");
    NumberLimits whole = kilovolts();
    whole.decimals = 0;
    CHECK(typed("3.", whole).notice == "pad.whole_only");
    CHECK(typed("3.5", whole).text == "35"); // said so at the point; the 5 then was taken
}

TEST_CASE("a number that must not be kept never leaves the pad") {
    struct Case {
        const char* keys;
        NumberState state;
    };
    const Case cases[] = {
        {"", NumberState::Empty},       {"5.", NumberState::Unfinished},    {"47.5", NumberState::Fine},
        {"100", NumberState::Unusual},  {"100.1", NumberState::Impossible}, {"475", NumberState::Impossible},
        {"4.75", NumberState::Tenfold}, {"3.8", NumberState::Tenfold},      {"3.79", NumberState::Unusual},
        {"5.93", NumberState::Tenfold}, {"5.94", NumberState::Unusual},     {"19.9", NumberState::Unusual},
        {"20", NumberState::Fine},      {"60", NumberState::Fine},          {"60.1", NumberState::Unusual},
        {"0", NumberState::Unusual},    {"0.0", NumberState::Unusual},
    };
    for (const Case& c : cases) {
        INFO(c.keys);
        const NumberDraft draft = typed(c.keys, kilovolts());
        CHECK(check(draft).state == c.state);
        const bool may_keep = c.state == NumberState::Fine || c.state == NumberState::Unusual ||
                              c.state == NumberState::Tenfold;
        CHECK(number(draft).has_value() == may_keep);
    }
}

TEST_CASE("about ten times the last reading asks, in both directions") {
    NumberLimits limits;
    limits.previous = 40;
    for (const auto& [keys, asks] : {std::pair{"400", true},
                                     {"320", true},
                                     {"500", true},
                                     {"319", false},
                                     {"501", false},
                                     {"4", true},
                                     {"3.2", true},
                                     {"5", true},
                                     {"5.1", false},
                                     {"40", false},
                                     {"80", false}}) {
        INFO(keys);
        CHECK((check(typed(keys, limits)).state == NumberState::Tenfold) == asks);
    }
    limits.previous = 0;
    CHECK(check(typed("5", limits)).state == NumberState::Fine);
}

TEST_CASE("a minus without a number, or minus nothing, is not finished") {
    NumberLimits limits;
    limits.negative = true;
    for (const char* keys : {"-", "-0", "-0.", "-0.0"}) {
        INFO(keys);
        CHECK(check(typed(keys, limits)).state == NumberState::Unfinished);
    }
    CHECK(number(typed("-12.5", limits)) == -12.5);
}

TEST_CASE("the text typed and the number kept are the same number") {
    CHECK(number(typed("0.1", {})) == 0.1);
    CHECK(number(typed("47.50", {})) == 47.5);
    NumberDraft draft;
    for (const auto& [value, text] :
         {std::pair{47.5, "47.5"}, {0.001, "0.001"}, {1200000.0, "1200000"}, {-3.25, "-3.25"}, {0.0, "0"}}) {
        set_number(draft, value);
        CHECK(draft.text == text);
    }
}

TEST_CASE("random keys never make a text that is no beginning of a number") {
    std::mt19937 random(7);
    constexpr char kKeys[] = "0123456789.-<C";
    NumberDraft draft;
    draft.limits = kilovolts();
    draft.limits.negative = true;
    for (int i = 0; i < 50000; ++i) {
        const std::string before = draft.text;
        const char key = kKeys[random() % (sizeof kKeys - 1)];
        const bool taken = type(draft, key);
        CHECK(taken == (draft.text != before));
        CHECK(taken == draft.notice.empty());
        CHECK(draft.text.find('.') == draft.text.rfind('.'));
        CHECK_FALSE(draft.text.starts_with('.'));
        CHECK_FALSE(draft.text.starts_with("00"));
        if (const auto kept = number(draft)) {
            CHECK((*kept >= 0 && *kept <= 100));
        }
    }
}

TEST_CASE("a text takes what fits and says what does not") {
    TextDraft draft;
    draft.most = 5;
    CHECK_FALSE(type(draft, ' '));
    CHECK(draft.notice == "keyboard.one_space");
    draft.capitals = true;
    for (const char c : {'a', 'b', ' '}) {
        CHECK(type(draft, c));
    }
    CHECK(draft.text == "Ab ");
    CHECK_FALSE(type(draft, ' '));
    CHECK(type(draft, '4'));
    CHECK(type(draft, '2'));
    CHECK_FALSE(type(draft, '3'));
    CHECK(draft.notice == "keyboard.full");
    CHECK(draft.text == "Ab 42");
    draft.text = "5 \xC2\xB0"; // a degree sign is two bytes and one character
    delete_last(draft);
    CHECK(draft.text == "5 ");
    delete_last(draft);
    delete_last(draft);
    delete_last(draft);
    CHECK(draft.text.empty());
}
