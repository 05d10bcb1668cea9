#include "checklist/store/pin_rules.hpp"

#include "tests/support/catch.hpp"

#include <random>
#include <string>

using namespace crossarm::store;

TEST_CASE("PINs that are tried first cannot be chosen") {
    struct Case {
        std::string digits;
        std::optional<PinFlaw> flaw;
    };
    const std::vector<Case> cases = {
        {"", PinFlaw::TooShort},
        {"48291", PinFlaw::TooShort},
        {"4829157364801", PinFlaw::TooLong},
        {"48 915", PinFlaw::NotDigits},
        {"48291a", PinFlaw::NotDigits},
        {"-48291", PinFlaw::NotDigits},
        {"٤٨٢٩١٥", PinFlaw::NotDigits},
        {"000000", PinFlaw::OneDigit},
        {"777777777777", PinFlaw::OneDigit},
        {"123456", PinFlaw::Run},
        {"987654", PinFlaw::Run},
        {"678901", PinFlaw::Run},
        {"210987", PinFlaw::Run},
        {"121212", PinFlaw::OnePair},
        {"4747474", PinFlaw::OnePair},
        {"482915", {}},
        {"123457", {}},
        {"121213", {}},
        {"223344", {}},
        {"482915736480", {}},
    };
    for (const Case& one : cases) {
        INFO(one.digits);
        CHECK(flaw_of_pin(one.digits) == one.flaw);
    }
}

TEST_CASE("what is wrong with a PIN is told without the PIN") {
    for (const std::string digits : {"48291a", "777777", "121212", "345678", "48291", "4829157364801"}) {
        const auto problem = problem_of(*flaw_of_pin(digits));
        CHECK(to_text(problem).find(digits) == std::string::npos);
        CHECK_FALSE(problem.what.empty());
    }
}

TEST_CASE("from the third wrong try on the wait doubles from 5 s to a quarter of an hour") {
    const std::vector<double> expected = {0, 0, 0, 5, 10, 20, 40, 80, 160, 320, 640, 900, 900};
    for (std::size_t wrong = 0; wrong < expected.size(); ++wrong) {
        CHECK(pin_wait_after(static_cast<std::int64_t>(wrong)) == expected[wrong]);
    }
    CHECK(pin_wait_after(1'000'000'000'000) == 900.0);
}

TEST_CASE("what is left of a wait is never less than what is truly left") {
    CHECK(pin_wait_left(5, 100, 100) == 5.0);
    CHECK(pin_wait_left(5, 100, 104) == 1.0);
    CHECK(pin_wait_left(5, 100, 105) == 0.0);
    CHECK(pin_wait_left(900, 100'000, 60) == 840.0); // restarted a minute ago
    std::mt19937 random(7);
    const auto below = [&random](unsigned most) { return static_cast<double>(random() % most); };
    for (int i = 0; i < 2'000; ++i) {
        // A tablet that may be restarted, and off for a while, between the try and the look.
        const double ran = below(100'000);
        const double after = below(2'000);
        const bool restarted = random() % 2 == 0;
        const double off = restarted ? below(2'000) : 0;
        const double runs = restarted ? below(2'000) : 0;
        const double truly_passed = after + off + runs;
        const double reading = restarted ? runs : ran + after;
        const double wait = pin_wait_after(static_cast<int>(random() % 20));
        CHECK(pin_wait_left(wait, ran, reading) >= wait - truly_passed);
        CHECK(pin_wait_left(wait, ran, reading) <= wait);
    }
}
