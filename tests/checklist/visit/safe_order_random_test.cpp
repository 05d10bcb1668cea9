// The safe order under random intents: nothing at the top without a permit, no supply with an earth on.
#include "tests/support/catch.hpp"
#include "tests/support/paper_visit.hpp"

#include <map>
#include <random>
#include <vector>

using namespace crossarm;
using model::Choice;
using model::Grade;
using model::Quantity;
using model::Unit;
using tests::clearing_acts;
using tests::isolating_acts;
using tests::PaperVisit;
namespace acts = crossarm::model::permit;

namespace {

/// Off, back or taken back, whatever they hold; then cancelled and cleared.
void bring_everybody_back(PaperVisit& visit) {
    for (const auto& [person, party] : std::map(visit.state().permit.on)) {
        visit.act(acts::SignedOff{person, ""}, person);
    }
    for (const visit::permit::Party& party : std::vector(visit.state().permit.parties)) {
        visit.hand_back(party.id);
        visit.act(acts::TakenBack{party.id}, "issuer");
    }
    visit.cancel();
    visit.clear();
}

} // namespace

TEST_CASE("no sequence of intents reaches work at the top without a permit, nor supply with an earth on") {
    // Common practice, no source: the order of making dead and of restoring supply.
    std::size_t top = 0;
    std::size_t supply = 0;
    for (std::uint32_t seed = 1; seed <= 16; ++seed) {
        std::mt19937 random(seed);
        PaperVisit visit;
        visit.open();
        visit.arrive();
        visit.brief();
        if (seed % 2 == 0) {
            visit.permit();
        }
        const std::vector<std::string> who = {"doer", "mate", "lead", "both", "issuer"};
        const auto some = [&](const std::vector<acts::Act>& list) {
            return list.empty() ? acts::Act(acts::Suspended{"", "Stop"}) : list[random() % list.size()];
        };
        for (int step = 0; step < 160; ++step) {
            const std::string& person = who[random() % who.size()];
            const model::Checkpoint& at =
                visit.protocol.checkpoints[random() % visit.protocol.checkpoints.size()];
            const bool was_in_force = visit.in_force();
            const visit::permit::State before = visit.state().permit;
            const std::size_t entries = visit.entries.size();
            const auto dice = random() % 14;
            if (dice == 0) {
                visit.mean(visit::FinishStage{visit.protocol.stages[random() % 7].id}, person);
            } else if (dice == 1) {
                visit.mean(visit::UndoLast{}, person);
            } else if (dice == 2) {
                visit.mean(visit::DecideDanger{at.id, "put_right", "Done"}, person);
            } else if (dice == 3) {
                // What the random acts undid is done again, so that the later stages are reached too.
                visit.arrive();
                visit.brief();
                if (!before.prepared) {
                    visit.isolate();
                } else if (random() % 3 == 0) {
                    bring_everybody_back(visit);
                } else {
                    visit.work();
                }
                if (visit.state().permit.cancelled) {
                    visit.clear();
                    visit.record("restore.energise", Choice{{"yes"}}, person);
                }
            } else if (dice == 4) {
                visit.act(some(isolating_acts(visit.people)), person);
            } else if (dice == 5) {
                visit.issue(0.01 * static_cast<double>(1 + random() % 50), random() % 3 == 0 ? "B" : "A");
            } else if (dice == 6) {
                visit.accept(random() % 3 == 0 ? "B" : "A");
            } else if (dice == 7) {
                visit.hand_back(random() % 3 == 0 ? "B" : "A");
            } else if (dice == 8) {
                visit.cancel();
            } else if (dice == 9) {
                visit.act(some(clearing_acts(before)), "issuer");
            } else if (dice == 10) {
                visit.act(random() % 2 == 0 ? acts::Act(acts::SignedOn{"A", person})
                                            : acts::Act(acts::SignedOff{person, ""}),
                          person);
            } else if (std::holds_alternative<model::GradeInput>(at.input)) {
                visit.record(at.id, static_cast<Grade>(random() % 4), person);
            } else if (std::holds_alternative<model::ChoiceInput>(at.input)) {
                visit.record(at.id, Choice{{random() % 4 == 0 ? "no" : "yes"}}, person);
            } else if (std::holds_alternative<model::NumberInput>(at.input)) {
                visit.record(at.id,
                             Quantity{static_cast<double>(1 + random() % 3),
                                      at.id == "top.gap" ? Unit::Metre : Unit::One},
                             person);
            }
            REQUIRE(visit.state().permit.irregular == 0);
            for (std::size_t i = entries; i < visit.entries.size(); ++i) {
                const auto* found = std::get_if<model::Found>(&visit.entries[i].body);
                if (found != nullptr && found->finding.part == "top") {
                    REQUIRE(was_in_force);
                    ++top;
                }
                if (found != nullptr && found->finding.checkpoint == "restore.energise") {
                    const visit::permit::State now = visit.state().permit;
                    REQUIRE(now.cancelled);
                    REQUIRE(now.on.empty());
                    REQUIRE(visit::permit::earths_on(now) == 0);
                    REQUIRE(visit::undecided_dangers(visit.protocol, visit.state(), {}).empty());
                    ++supply;
                }
            }
        }
    }
    CHECK(top > 10);
    CHECK(supply > 0);
}
