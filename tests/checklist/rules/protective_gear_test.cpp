#include "checklist/rules/protective_gear.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <limits>

using namespace crossarm;
using model::Date;
using model::Grade;
using tests::refusal_in;
using tests::shipped_limits;
using tests::verdict_in;

namespace {

Date day(const char* text) {
    return *model::parse_date(text, "test");
}

} // namespace

TEST_CASE("months later: the same day, or the month's last") {
    CHECK(*rules::months_later(day("2026-01-15"), 6) == day("2026-07-15"));
    CHECK(*rules::months_later(day("2026-08-31"), 6) == day("2027-02-28"));
    CHECK(*rules::months_later(day("2027-08-31"), 6) == day("2028-02-29"));
    CHECK(*rules::months_later(day("2026-12-31"), 2) == day("2027-02-28"));
    CHECK(*rules::months_later(day("2026-01-15"), 0) == day("2026-01-15"));
    CHECK(!rules::months_later(day("2026-01-15"), -1));
    CHECK(!rules::months_later(Date{2'000'000'000}, 6));
}

TEST_CASE("gloves: highest voltage by class, ASTM D120, read") {
    const auto set = shipped_limits("gear-astm-osha");
    struct Row {
        const char* glove_class;
        double use_kV;
    };
    const Row rows[] = {{"00", 0.5}, {"0", 1.0}, {"1", 7.5}, {"2", 17.0}, {"3", 26.5}, {"4", 36.0}};
    const Date tested = day("2026-02-01"), today = day("2026-03-01");
    for (const Row& row : rows) {
        INFO("class " << row.glove_class);
        CHECK(verdict_in(rules::gloves({row.glove_class, row.use_kV, tested, today}, set)).grade ==
              Grade::Sound);
        const auto over = verdict_in(rules::gloves({row.glove_class, row.use_kV + 0.01, tested, today}, set));
        CHECK(over.grade == Grade::Danger);
        CHECK(over.because.key == "because.gear.class_low");
    }
    // 11 kV needs class 2.
    const auto v = verdict_in(rules::gloves({"1", 11.0, tested, today}, set));
    CHECK(v.action.values.back().second == model::Phrase::Value("2"));
    CHECK(verdict_in(rules::gloves({"4", 66.0, tested, today}, set)).action.key == "action.gear.no_class");
    // Proof voltages of the same table, read.
    const double proof_kV[] = {2.5, 5, 10, 20, 30, 40};
    // Direct current: use of class 00 and every proof read, the other use values from memory.
    const double use_dc_kV[] = {0.75, 1.5, 11.25, 25.5, 39.75, 54};
    const double proof_dc_kV[] = {10, 20, 40, 50, 60, 70};
    for (std::size_t i = 0; i < 6; ++i) {
        CHECK(set.table("gloves")->rows[i].values[1] == proof_kV[i]);
        CHECK(set.table("gloves")->rows[i].values[2] == use_dc_kV[i]);
        CHECK(set.table("gloves")->rows[i].values[3] == proof_dc_kV[i]);
        // Direct current stands at one and a half times the alternating one, in every class.
        CHECK(use_dc_kV[i] == Approx(1.5 * rows[i].use_kV));
    }
}

TEST_CASE("test dates: gloves 6 months and hot sticks 2 years, read; others from memory") {
    const auto set = shipped_limits("gear-astm-osha");
    const auto grade = [&](const char* item, const char* tested, const char* today) {
        return verdict_in(rules::test_date({item, day(tested), day(today)}, set)).grade;
    };
    CHECK(grade("gloves", "2026-01-15", "2026-06-14") == Grade::Sound);
    CHECK(grade("gloves", "2026-01-15", "2026-06-15") == Grade::Watch); // 30 days left
    CHECK(grade("gloves", "2026-01-15", "2026-07-15") == Grade::Watch); // the day itself
    CHECK(grade("gloves", "2026-01-15", "2026-07-16") == Grade::Danger);
    CHECK(grade("hot_stick", "2024-05-10", "2026-04-01") == Grade::Sound);
    CHECK(grade("hot_stick", "2024-05-10", "2026-05-11") == Grade::Danger);
    CHECK(grade("sleeves", "2026-01-15", "2026-12-01") == Grade::Sound);
    CHECK(grade("harness", "2026-01-15", "2026-08-01") == Grade::Danger);
    const auto late = verdict_in(rules::gloves({"2", 11.0, day("2026-01-15"), day("2026-07-16")}, set));
    CHECK(late.grade == Grade::Danger);
    CHECK(late.because.key == "because.gear.overdue");
}

TEST_CASE("gear: impossible dates, classes and voltages give no verdict") {
    const auto set = shipped_limits("gear-astm-osha");
    const Date tested = day("2026-02-01"), today = day("2026-03-01");
    CHECK(refusal_in(rules::test_date({"gloves", today, tested}, set)) == "no.gear.date");
    CHECK(refusal_in(rules::test_date({"gloves", Date{-1'000'000}, tested}, set)) == "no.gear.date");
    CHECK(refusal_in(rules::test_date({"boots", tested, today}, set)) == "no.gear.item");
    CHECK(refusal_in(rules::gloves({"5", 11.0, tested, today}, set)) == "no.gear.class");
    for (const double x : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
                           -11.0, 0.0, 1e6}) {
        CHECK(refusal_in(rules::gloves({"2", x, tested, today}, set)) == "no.voltage");
    }
    CHECK(refusal_in(rules::test_date({"gloves", tested, today}, shipped_limits("wind-bands"))) ==
          "no.limit_missing");
}
