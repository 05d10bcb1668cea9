// What never happens in an uprating study, whatever the numbers: more asked, less given.
#include "checklist/rules/uprating_earth.hpp"
#include "checklist/rules/uprating_fault.hpp"
#include "checklist/rules/uprating_study.hpp"
#include "checklist/rules/uprating_withstand.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/outgrown.hpp"

#include <algorithm>
#include <limits>
#include <random>

using namespace crossarm;
using rules::Cable;
using tests::shipped_library;
using tests::shipped_limits;

namespace {

class Dice {
public:
    explicit Dice(unsigned seed) : engine_(seed) {}
    double between(double low, double high) {
        return low + (high - low) * static_cast<double>(engine_()) / static_cast<double>(std::mt19937::max());
    }
    template<typename T>
    const T& one_of(const std::vector<T>& items) {
        return items[engine_() % items.size()];
    }

private:
    std::mt19937 engine_;
};

double metal_mm2(const Cable& cable) {
    return cable.area_mm2 * cable.runs;
}

} // namespace

TEST_CASE("more load never gives a smaller transformer") {
    Dice dice(1);
    for (int i = 0; i < 40; ++i) {
        auto facts = tests::outgrown();
        facts.stock.clear();
        facts.site.growth_percent = dice.between(0, 5);
        facts.site.air_C = dice.between(10, 42);
        double before = 0.0;
        double load_A = dice.between(5, 60);
        for (int step = 0; step < 6; ++step) {
            facts.samples[0].phase_A = {load_A, 0.9 * load_A, 0.8 * load_A};
            const auto study = rules::uprating_study(facts, shipped_library());
            const double rating = study.proposal.rating_kVA.value_or(1e9);
            INFO(load_A << " A, " << *facts.site.growth_percent << " %, " << *facts.site.air_C << " °C");
            CHECK(rating >= before);
            before = rating;
            load_A *= dice.between(1.0, 1.9);
        }
    }
}

TEST_CASE("hotter air never gives a smaller transformer") {
    for (const double load_A : {60.0, 150.0, 290.0, 410.0}) {
        double before = 0.0;
        for (double air = 0.0; air <= 55.0; air += 5.0) {
            auto facts = tests::outgrown();
            facts.stock.clear();
            facts.samples[0].phase_A = {load_A, load_A, load_A};
            facts.site.air_C = air;
            const double rating =
                rules::uprating_study(facts, shipped_library()).proposal.rating_kVA.value_or(1e9);
            CHECK(rating >= before);
            before = rating;
        }
    }
}

TEST_CASE("a longer run, more current, or a longer fault never gives a thinner cable") {
    const auto ampacity = shipped_limits("iec60364-5-52-2009");
    const auto conductors = shipped_limits("iec60228-class-2");
    const auto k = shipped_limits("iec60364-5-54-k");
    const rules::CableSets sets{ampacity, conductors, k};
    Dice dice(2);
    int found = 0;
    for (int i = 0; i < 300; ++i) {
        rules::CableDemand d;
        d.place.laid =
            dice.one_of<rules::Laid>({rules::Laid::E, rules::Laid::F, rules::Laid::C, rules::Laid::D1});
        d.place.metal = dice.one_of<rules::Metal>({rules::Metal::Copper, rules::Metal::Aluminium});
        d.place.air_C = dice.between(20, 50);
        d.place.ground_C = dice.between(15, 40);
        d.place.soil_Km_W = dice.between(0.6, 3.0);
        d.current_A = dice.between(20, 700);
        d.uneven_percent = 10;
        d.power_factor = dice.between(0.6, 1.0);
        d.fault_kA = dice.between(0.5, 15);
        d.clearing_s = dice.between(0.1, 1.0);
        d.length_m = dice.between(1, 300);
        const auto before = rules::choose_cable(d, sets);
        auto more = d;
        const int which = i % 3;
        (which == 0   ? more.length_m
         : which == 1 ? more.current_A
                      : more.clearing_s) *= dice.between(1.0, 2.5);
        const auto after = rules::choose_cable(more, sets);
        INFO(d.length_m << " m, " << d.current_A << " A, " << d.clearing_s << " s");
        if (after) {
            ++found;
            REQUIRE(before);
            CHECK(metal_mm2(*after) >= metal_mm2(*before));
            CHECK(after->runs >= before->runs);
        }
    }
    CHECK(found > 100);
}

TEST_CASE("a higher fault level never gives a weaker breaker, nor more current a smaller one") {
    const auto set = shipped_limits("iec60947-2-breakers");
    for (double current = 10.0; current < 1400.0; current *= 1.3) {
        double icu = 0.0;
        for (double fault = 0.2; fault < 62.0; fault *= 1.2) {
            const auto b = rules::choose_breakers({current, fault, 0}, set);
            REQUIRE(b);
            CHECK(b->icu_kA >= icu);
            CHECK(b->icu_kA >= fault);
            CHECK(b->count * b->rating_A >= current);
            icu = b->icu_kA;
        }
    }
    double all_A = 0.0;
    for (double current = 10.0; current < 2000.0; current += 10.0) {
        const auto b = rules::choose_breakers({current, 10, 0}, set);
        REQUIRE(b);
        CHECK(b->count * b->rating_A >= all_A);
        all_A = b->count * b->rating_A;
    }
    CHECK_FALSE(rules::choose_breakers({400, 90, 0}, set));
}

TEST_CASE("a larger rating, a lower impedance or a stronger network never lowers the fault level") {
    Dice dice(3);
    for (int i = 0; i < 500; ++i) {
        rules::FaultFacts f{dice.between(10, 1500), 433, dice.between(2, 8), 10, dice.between(10, 500)};
        const double before = *rules::lv_fault_kA(f);
        auto g = f;
        g.rating_kVA *= dice.between(1, 2);
        CHECK(*rules::lv_fault_kA(g) >= before);
        g = f;
        g.impedance_percent *= dice.between(0.6, 1);
        CHECK(*rules::lv_fault_kA(g) >= before);
        g = f;
        g.network_MVA.reset();
        CHECK(*rules::lv_fault_kA(g) >= before);
    }
}

TEST_CASE("a higher fault level or a longer fault never gives a thinner earthing conductor") {
    const auto set = shipped_limits("iec60364-5-54-earthing");
    Dice dice(4);
    for (int i = 0; i < 200; ++i) {
        rules::EarthConductorReadings r{dice.one_of<std::string>({"copper", "steel", "aluminium"}),
                                        dice.between(0.5, 12),
                                        dice.between(0.1, 1.0),
                                        {}};
        auto more = r;
        more.fault_kA *= dice.between(1, 1.5);
        more.clearing_s *= dice.between(1, 2);
        const auto after = rules::earth_conductor_mm2(more, set);
        if (after) {
            CHECK(*after >= *rules::earth_conductor_mm2(r, set));
        }
    }
}

TEST_CASE("the study is deterministic, and its checks do not depend on the order of the stock") {
    const auto facts = tests::outgrown();
    const auto first = rules::uprating_study(facts, shipped_library());
    const auto second = rules::uprating_study(facts, shipped_library());
    CHECK(first.checks == second.checks);
    CHECK(first.materials == second.materials);
    auto turned = facts;
    std::reverse(turned.stock.begin(), turned.stock.end());
    CHECK(rules::uprating_study(turned, shipped_library()).checks == first.checks);
}

TEST_CASE("numbers that cannot be give checks without a verdict, never a pass") {
    constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
    constexpr double kInf = std::numeric_limits<double>::infinity();
    for (const double bad : {kNan, kInf, -1.0, -kInf, 1e300}) {
        auto facts = tests::outgrown();
        facts.samples[0].phase_A[0] = bad;
        const auto study = rules::uprating_study(facts, shipped_library());
        CHECK_FALSE(study.demand);
        CHECK(study.count(model::Grade::Sound) == 0);
        CHECK_FALSE(study.proposal.rating_kVA);
        auto site = tests::outgrown();
        site.site.network_MVA = bad;
        site.site.electrode_ohm = bad;
        site.site.mass_limit_kg = bad;
        site.site.live_height_m = bad;
        site.site.lv_clearing_s = bad;
        site.site.cable_mm2 = bad;
        const auto other = rules::uprating_study(site, shipped_library());
        for (const char* name : {"fault", "mass", "clearance", "electrode"}) {
            INFO(name << " with " << bad);
            CHECK(std::holds_alternative<model::NoVerdict>(tests::check_named(other, name)));
        }
    }
}
