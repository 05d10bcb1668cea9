#include "checklist/rules/crimp.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <limits>

using namespace crossarm;
using model::Grade;
using rules::Metal;
using tests::refusal_in;
using tests::verdict_in;

namespace {

rules::CrimpReadings lug_95() {
    rules::CrimpReadings r;
    r.cable = Metal::Aluminium;
    r.lug = Metal::Bimetal;
    r.landing = Metal::TinnedCopper;
    r.cable_mm2 = r.lug_mm2 = 95.0;
    r.lug_code = 22;
    r.die_code = 22;
    r.pressed_code = 22;
    return r;
}

} // namespace

TEST_CASE("pressed lug: cable, lug, die and imprint must agree") {
    const auto dies = tests::shipped_limits("din46235-46329-dies");
    CHECK(verdict_in(rules::crimp(lug_95(), dies)).grade == Grade::Sound);
    auto r = lug_95();
    r.lug_mm2 = 120.0;
    CHECK(verdict_in(rules::crimp(r, dies)).because.key == "because.crimp.size");
    r = lug_95();
    r.die_code = 20;
    CHECK(verdict_in(rules::crimp(r, dies)).because.key == "because.crimp.die");
    r = lug_95();
    r.pressed_code = 20;
    CHECK(verdict_in(rules::crimp(r, dies)).because.key == "because.crimp.pressed");
    r = lug_95();
    r.lug = Metal::Copper;
    CHECK(verdict_in(rules::crimp(r, dies)).because.key == "because.crimp.barrel");
    CHECK(verdict_in(rules::crimp(r, dies)).grade == Grade::Danger);
}

TEST_CASE("pressed lug: aluminium on copper needs a transition") {
    const auto dies = tests::shipped_limits("din46235-46329-dies");
    auto r = lug_95();
    r.lug = Metal::Aluminium;
    CHECK(verdict_in(rules::crimp(r, dies)).because.key == "because.crimp.metals");
    CHECK(verdict_in(rules::crimp(r, dies)).grade == Grade::Repair);
    r.landing = Metal::Aluminium;
    CHECK(verdict_in(rules::crimp(r, dies)).grade == Grade::Sound);
    r.lug = Metal::Bimetal; // copper palm on an aluminium bar is the wrong way round
    CHECK(verdict_in(rules::crimp(r, dies)).grade == Grade::Repair);
}

TEST_CASE("pressed lug: die codes by size, from memory") {
    const auto dies = tests::shipped_limits("din46235-46329-dies");
    struct Row {
        Metal metal;
        double mm2;
        int code;
    };
    // DIN 46235 copper (50 mm² code 14 agrees with a lug marked KL14 50, read) and DIN 46329 aluminium.
    const Row rows[] = {{Metal::Copper, 10, 6},     {Metal::Copper, 50, 14},     {Metal::Copper, 95, 18},
                        {Metal::Copper, 150, 22},   {Metal::Copper, 300, 32},    {Metal::Aluminium, 25, 12},
                        {Metal::Aluminium, 95, 22}, {Metal::Aluminium, 120, 22}, {Metal::Aluminium, 185, 28},
                        {Metal::Aluminium, 300, 34}};
    for (const Row& row : rows) {
        INFO(row.mm2 << " mm²");
        rules::CrimpReadings r;
        r.cable = r.lug = r.landing = row.metal;
        r.cable_mm2 = r.lug_mm2 = row.mm2;
        r.die_code = row.code;
        const auto v = verdict_in(rules::crimp(r, dies));
        CHECK(v.grade == Grade::Sound);
        CHECK(v.source.sure == "from memory");
        r.die_code = row.code + 1;
        CHECK(verdict_in(rules::crimp(r, dies)).grade == Grade::Danger);
    }
}

TEST_CASE("pressed lug: impossible or unreadable markings give no verdict") {
    const auto dies = tests::shipped_limits("din46235-46329-dies");
    for (const double x : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
                           -95.0, 0.0, 1e5}) {
        auto r = lug_95();
        r.cable_mm2 = x;
        CHECK(refusal_in(rules::crimp(r, dies)) == "no.crimp.size");
        r = lug_95();
        r.lug_mm2 = x;
        CHECK(refusal_in(rules::crimp(r, dies)) == "no.crimp.size");
    }
    auto r = lug_95();
    r.die_code = 0;
    CHECK(refusal_in(rules::crimp(r, dies)) == "no.crimp.die");
    r = lug_95();
    r.cable_mm2 = r.lug_mm2 = 16.0;
    r.lug_code.reset();
    CHECK(refusal_in(rules::crimp(r, dies)) == "no.crimp.code");
}
