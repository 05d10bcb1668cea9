// Entries as text: what is written is read back, and what is broken is refused.
#include "checklist/model/entry.hpp"
#include "tests/support/catch.hpp"

#include <string>
#include <vector>

using namespace crossarm::model;

namespace {

Entry entry_with(Body body) {
    Entry out;
    out.id.bytes[0] = 1;
    out.visit.bytes[0] = 2;
    out.device = "tablet";
    out.seq = 3;
    out.at = {1'773'481'327'250, 330};
    out.by = "P-011";
    out.body = std::move(body);
    out.prev = std::string(64, 'a');
    return out;
}

Body found(Value value) {
    return Found{{"oil", "oil.x", std::move(value), "", ""}, std::nullopt};
}

} // namespace

TEST_CASE("every kind of entry and value reads back as it was written, byte for byte") {
    Id other;
    other.bytes[15] = 9;
    const std::vector<Body> bodies = {
        Opened{"QM-0101", "upkeep", std::string(64, 'b'), 12},
        found(Grade::Repair),
        found(Choice{{"dry", "wet"}}),
        found(Quantity{41.2, Unit::Kilovolt}),
        found(Readings{{{1.5, Unit::Ampere}, {-2.0, Unit::Ampere}}}),
        found(Remark{"Lug “tight”\n2 Ω"}),
        found(OutOfReach{"wasps"}),
        found(NotFitted{}),
        Found{{"oil", "oil.x", Grade::Watch, "measured again", "a note"}, other},
        Withdrawn{other},
        StageFinished{"work"},
        DangerDecided{"oil.x", other, "may_return", "Until Friday"},
        Signed{std::string(64, 'c'), "Seen"},
        BrokenOff{"Rain"},
        OtherKind{"weather_seen", R"({"cloud":"low"})"},
    };
    for (const Body& body : bodies) {
        const Entry entry = entry_with(body);
        const std::string text = to_canonical(entry);
        INFO(text);
        const auto read = read_entry(text, "journal");
        REQUIRE(read.ok());
        CHECK(*read == entry);
        CHECK(to_canonical(*read) == text);
    }
}

TEST_CASE("an entry that lacks or misspells something names the place") {
    const std::string whole = to_canonical(entry_with(found(Quantity{41.2, Unit::Kilovolt})));
    const auto without = [&](const std::string& part, const std::string& instead) {
        std::string text = whole;
        text.replace(text.find(part), part.size(), instead);
        const auto read = read_entry(text, "row 7");
        return read.ok() ? std::string("taken") : read.problem().where;
    };
    CHECK(without(R"("by":"P-011",)", "") == "row 7: /by");
    CHECK(without(R"("seq":3)", R"("seq":3.5)") == "row 7: /seq");
    CHECK(without(R"("unit":"kV")", R"("unit":"kv")") == "row 7: /data/value/quantity/unit");
    CHECK(without("+05:30", "+5:30") == "row 7: /at");
    CHECK(without(R"("quantity")", R"("amount")") == "row 7: /data/value");
}

TEST_CASE("an entry cut at any byte is refused and never taken") {
    const std::string whole = to_canonical(entry_with(found(Remark{"é"})));
    for (std::size_t length = 0; length < whole.size(); ++length) {
        CHECK_FALSE(read_entry(whole.substr(0, length), "row").ok());
    }
}
