// The fold: the same entries give the same state, in whatever order they come.
#include "tests/support/catch.hpp"
#include "tests/support/paper_visit.hpp"

#include <algorithm>
#include <random>

using namespace crossarm;
using model::Choice;
using model::Grade;
using model::Quantity;
using model::Unit;
using tests::PaperVisit;

namespace {

PaperVisit whole_visit() {
    PaperVisit visit;
    visit.open();
    visit.up_to_work();
    visit.work(Grade::Danger);
    visit.mean(visit::DecideDanger{"top.damage", "put_right", "Replaced"}, "lead");
    visit.restore();
    visit.mean(visit::SignVisit{visit.head, "Seen"}, "lead");
    return visit;
}

} // namespace

TEST_CASE("shuffled and repeated entries fold to the same state") {
    const PaperVisit visit = whole_visit();
    const visit::State expected = visit.state();
    REQUIRE(expected.signature.has_value());
    std::mt19937 random(7);
    for (int round = 0; round < 50; ++round) {
        std::vector<model::Entry> entries = visit.entries;
        entries.insert(entries.end(), visit.entries.begin(), visit.entries.begin() + round % 9);
        std::shuffle(entries.begin(), entries.end(), random);
        CHECK(visit::fold(entries, visit.setting().rules) == expected);
    }
}

TEST_CASE("a clock that goes back changes no order") {
    PaperVisit visit = whole_visit();
    std::mt19937 random(3);
    const visit::State straight = visit.state();
    for (model::Entry& entry : visit.entries) {
        entry.at.utc_ms -= static_cast<std::int64_t>(random() % 1'000'000'000);
    }
    const visit::State jumped = visit.state();
    CHECK(jumped.finished == straight.finished);
    CHECK(jumped.answers.size() == straight.answers.size());
    for (const auto& [checkpoint, answer] : straight.answers) {
        CHECK(jumped.answers.at(checkpoint).finding == answer.finding);
    }
}

TEST_CASE("a correction stands, what it corrects stays in the journal, and undo brings it back") {
    PaperVisit visit;
    visit.open();
    visit.up_to_work();
    visit.record("ground.rust", Grade::Watch);
    visit.record("ground.rust", Grade::Repair);
    const auto grade = [&] { return std::get<Grade>(visit.state().answers.at("ground.rust").finding.value); };
    CHECK(grade() == Grade::Repair);
    CHECK(visit.mean(visit::UndoLast{}) == "");
    CHECK(grade() == Grade::Watch);
    CHECK(visit.mean(visit::UndoLast{}) == "");
    CHECK_FALSE(visit.state().answers.contains("ground.rust"));
    const auto found = std::ranges::count_if(visit.entries, [](const model::Entry& entry) {
        const auto* body = std::get_if<model::Found>(&entry.body);
        return body != nullptr && body->finding.checkpoint == "ground.rust";
    });
    CHECK(found == 2);
}

TEST_CASE("recording the same answer again makes no entry") {
    PaperVisit visit;
    visit.open();
    visit.record("arrive.right", Choice{{"yes"}});
    const std::size_t before = visit.entries.size();
    CHECK(visit.record("arrive.right", Choice{{"yes"}}) == "");
    CHECK(visit.entries.size() == before);
}

TEST_CASE("two tablets that recorded a checkpoint differently: both are kept and shown") {
    PaperVisit visit;
    visit.open();
    visit.up_to_work();
    visit.record("ground.rust", Grade::Watch);
    std::vector<model::Entry> entries = visit.entries;
    model::Entry other = entries.back();
    other.id.bytes[13] = 9;
    other.device = "tablet-2";
    other.seq = 1;
    other.by = "mate";
    other.prev = "";
    SECTION("differently") {
        std::get<model::Found>(other.body).finding.value = Grade::Repair;
        entries.push_back(other);
        const visit::State state = visit::fold(entries, visit.setting().rules);
        REQUIRE(state.conflicts.size() == 1);
        CHECK(state.conflicts.front().answers.size() == 2);
        std::reverse(entries.begin(), entries.end());
        CHECK(visit::fold(entries, visit.setting().rules) == state);
    }
    SECTION("alike is no conflict") {
        entries.push_back(other);
        CHECK(visit::fold(entries, visit.setting().rules).conflicts.empty());
    }
}

TEST_CASE("an entry of a kind of a later version is left out and counted") {
    PaperVisit visit;
    visit.open();
    visit.append(model::OtherKind{"weather_seen", R"({"cloud":"low"})"}, "doer");
    CHECK(visit.state().left_out == 1);
    CHECK(visit.state().answers.empty());
}
