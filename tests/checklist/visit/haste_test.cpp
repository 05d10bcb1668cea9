#include "checklist/visit/haste.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/sample_protocol.hpp"

#include <algorithm>
#include <random>

using namespace crossarm;
using model::Grade;
using model::Quantity;
using model::Readings;
using model::Unit;

namespace {

/// A visit on paper: each answer so many seconds after the entry before it.
struct Visit {
    model::Protocol protocol = tests::small_protocol();
    model::Register reg = tests::small_register();
    std::vector<model::Entry> entries;
    std::string device = "one";
    double now_s = 1'790'000'000;

    Visit() {
        for (int i = 0; i < 20; ++i) {
            protocol.checkpoints.push_back(
                tests::checkpoint("work.g" + std::to_string(i), "ground", "work", model::GradeInput{}));
        }
        add(model::Opened{"QM-0101", "small", "", 1}, 0);
    }
    model::Id add(const model::Body& body, double after_s) {
        now_s += after_s;
        model::Entry entry;
        entry.id.bytes[0] = device == "one" ? 1 : 2;
        entry.id.bytes[15] = static_cast<std::uint8_t>(entries.size());
        entry.device = device;
        entry.seq = static_cast<std::int64_t>(entries.size()) + 1;
        entry.at = {static_cast<std::int64_t>(now_s * 1000), 0};
        entry.by = "doer";
        entry.body = body;
        entries.push_back(entry);
        return entry.id;
    }
    model::Id record(const std::string& checkpoint, model::Value value, double after_s = 30) {
        return add(model::Found{{"", checkpoint, std::move(value), "", ""}, {}}, after_s);
    }
    void numbers(const std::string& checkpoint, int decimals, model::Value value, model::Value earlier) {
        const std::size_t count =
            std::holds_alternative<Readings>(value) ? std::get<Readings>(value).values.size() : 1;
        model::Input input = model::NumberInput{Unit::Metre, {0, 99}, {0, 99}, decimals};
        if (std::holds_alternative<Readings>(value)) {
            input = model::NumbersInput{
                Unit::Metre, {0, 99}, {0, 99}, decimals, std::vector<std::string>(count, "n")};
        }
        protocol.checkpoints.push_back(tests::checkpoint(checkpoint, "ground", "work", input));
        reg.earlier.push_back({"QM-0101", checkpoint, {20'000}, std::move(earlier)});
        record(checkpoint, std::move(value));
    }
    [[nodiscard]] std::vector<visit::Fact> facts() const { return visit::haste(protocol, reg, entries); }
    [[nodiscard]] std::vector<std::string> keys() const {
        std::vector<std::string> out;
        for (const visit::Fact& fact : facts()) {
            out.push_back(fact.says.key);
        }
        return out;
    }
};

using Keys = std::vector<std::string>;

/// Grades that differ, so that a run of them is not alike.
Grade turn(int i) {
    return static_cast<Grade>(i % 3);
}

Readings readings(std::vector<double> values) {
    Readings out;
    for (const double value : values) {
        out.values.push_back({value, Unit::Metre});
    }
    return out;
}

} // namespace

TEST_CASE("eight answers in a row faster than a look are told, seven are not") {
    struct Case {
        int answers;
        double after_s;
        bool told;
    };
    for (const Case& one :
         std::vector<Case>{{7, 0.5, false}, {8, 0.5, true}, {20, 1.99, true}, {20, 2.0, false}}) {
        Visit visit;
        for (int i = 0; i < one.answers; ++i) {
            visit.record("work.g" + std::to_string(i), turn(i), one.after_s);
        }
        INFO(one.answers << " answers, " << one.after_s << " s");
        CHECK(visit.keys() == (one.told ? Keys{"fact.quick"} : Keys{}));
        if (one.told) {
            CHECK(visit.facts()[0].about.size() == static_cast<std::size_t>(one.answers));
        }
    }
}

TEST_CASE("a run of quick answers ends where answers take their time again") {
    Visit visit;
    for (int i = 0; i < 20; ++i) {
        visit.record("work.g" + std::to_string(i), turn(i), i >= 5 && i < 15 ? 1.0 : 60.0);
    }
    REQUIRE(visit.keys() == Keys{"fact.quick"});
    const auto about = visit.facts()[0].about.size();
    CHECK(about >= 10);
    CHECK(about <= 16);
}

TEST_CASE("what was withdrawn or corrected does not count, nor do acts that are no answers") {
    Visit visit;
    for (int i = 0; i < 8; ++i) {
        const model::Id id = visit.record("work.g" + std::to_string(i), turn(i), 1.0);
        if (i == 3) {
            visit.add(model::Withdrawn{id}, 0.5);
        }
    }
    CHECK(visit.keys().empty());
    for (int i = 0; i < 10; ++i) {
        visit.add(model::OtherKind{"permit_act", "{}"}, 0.5);
    }
    CHECK(visit.keys().empty());
    visit.record("work.g3", Grade::Watch, 1.0);
    CHECK(visit.keys() == Keys{"fact.quick"});
}

TEST_CASE("a clock that was set back makes no answer quick") {
    Visit visit;
    for (int i = 0; i < 20; ++i) {
        visit.record("work.g" + std::to_string(i), turn(i), i % 2 == 0 ? 30.0 : -30.0);
    }
    CHECK(visit.keys().empty());
}

TEST_CASE("nine of ten answers alike are told, however long they took") {
    struct Case {
        int answers, others;
        bool told;
    };
    for (const Case& one : std::vector<Case>{{7, 0, false}, {8, 0, true}, {8, 1, false}, {20, 0, true}}) {
        Visit visit;
        for (int i = 0; i < one.answers; ++i) {
            visit.record("work.g" + std::to_string(i), i < one.others ? Grade::Repair : Grade::Sound, 60);
        }
        INFO(one.answers << " answers, " << one.others << " others");
        CHECK(visit.keys() == (one.told ? Keys{"fact.alike"} : Keys{}));
    }
    Visit reasons;
    for (int i = 0; i < 8; ++i) {
        reasons.record("work.g" + std::to_string(i), model::OutOfReach{"Reason " + std::to_string(i)});
    }
    CHECK(reasons.keys() == Keys{"fact.alike"});
}

TEST_CASE("readings that equal the last ones to the digit are told when chance is no longer likely") {
    const Quantity metres{3.4, Unit::Metre};
    SECTION("one number with decimals, or two, can be chance; three are told") {
        Visit visit;
        visit.numbers("a", 1, metres, metres);
        visit.numbers("b", 1, metres, metres);
        CHECK(visit.keys().empty());
        visit.numbers("c", 1, metres, metres);
        REQUIRE(visit.keys() == Keys{"fact.copied"});
        CHECK(visit.facts()[0].says.values[0].second ==
              model::Phrase::Value(std::string("Title of a, Title of b, Title of c")));
        CHECK(visit.facts()[0].about.size() == 3);
    }
    SECTION("a whole number alone is often the same") {
        Visit visit;
        for (const char* name : {"a", "b", "c", "d", "e"}) {
            visit.numbers(name, 0, Quantity{1, Unit::One}, Quantity{1, Unit::One});
        }
        CHECK(visit.keys().empty());
    }
    SECTION("six shots with decimals are enough, whole numbers and equal ones are not") {
        Visit whole;
        whole.numbers("a", 0, readings({421, 419, 422}), readings({421, 419, 422}));
        whole.numbers("b", 1, readings({4.0, 4.0, 4.0}), readings({4.0, 4.0, 4.0}));
        whole.numbers("c", 1, readings({4.0, 4.1}), readings({4.0, 4.1}));
        CHECK(whole.keys().empty());
        Visit shots;
        shots.numbers("a", 1, readings({37.4, 41.2, 35.8, 39.9, 36.7, 38.6}),
                      readings({37.4, 41.2, 35.8, 39.9, 36.7, 38.6}));
        CHECK(shots.keys() == Keys{"fact.copied"});
    }
    SECTION("only the newest earlier reading is compared, digit for digit and with its unit") {
        Visit visit;
        for (const char* name : {"a", "b", "c"}) {
            visit.numbers(name, 1, metres, metres);
            visit.reg.earlier.push_back({"QM-0101", name, {20'365}, Quantity{3.5, Unit::Metre}});
        }
        CHECK(visit.keys().empty());
        visit.reg.earlier.clear();
        for (const char* name : {"a", "b", "c"}) {
            visit.reg.earlier.push_back({"QM-0101", name, {20'365}, Quantity{3.4, Unit::Millimetre}});
            visit.reg.earlier.push_back({"QM-0102", name, {20'365}, metres});
        }
        CHECK(visit.keys().empty());
    }
}

TEST_CASE("a position noted far from the structure is told, one that cannot be read is not") {
    struct Case {
        std::string text;
        bool told;
    };
    for (const Case& one : std::vector<Case>{{"-47.11228, -121.40400", false},
                                             {"-47.11428, -121.40400", false}, // 222 m
                                             {"-47.11528, -121.40400", true},  // 334 m
                                             {"47°06'44.2\"S 121°24'14.4\"W", false},
                                             {"Lane side by the weir", false}}) {
        Visit visit;
        visit.reg.structures[0].latitude = -47.11228;
        visit.reg.structures[0].longitude = -121.404;
        visit.protocol.checkpoints.push_back(
            tests::checkpoint("arrive.position", "", "arrive", model::TextInput{80}));
        visit.record("arrive.position", model::Remark{one.text});
        INFO(one.text);
        CHECK(visit.keys() == (one.told ? Keys{"fact.far"} : Keys{}));
    }
}

TEST_CASE("the order of tablets and of entries does not change the facts") {
    Visit one;
    Visit two;
    two.device = "two";
    two.entries.clear();
    two.add(model::StageFinished{"arrive"}, 0);
    for (int i = 0; i < 10; ++i) {
        one.record("work.g" + std::to_string(i), turn(i), 1.0);
        two.record("work.g" + std::to_string(10 + i), Grade::Sound, 40.0);
    }
    one.entries.insert(one.entries.end(), two.entries.begin(), two.entries.end());
    const auto expected = one.facts();
    CHECK(one.keys() == Keys{"fact.quick", "fact.alike"});
    std::mt19937 random(5);
    for (int i = 0; i < 100; ++i) {
        std::shuffle(one.entries.begin(), one.entries.end(), random);
        CHECK(one.facts() == expected);
    }
}
