// A finger that means nothing: seeded touches, holds and drags anywhere, with restarts. Nothing may break.
#include "tests/support/catch.hpp"
#include "tests/support/screen_rig.hpp"
#include "tests/support/screen_states.hpp"

#include <algorithm>
#include <iostream>
#include <random>
#include <set>

using namespace crossarm;
using namespace crossarm::tests;

namespace {

constexpr int kSteps = 600;

class Monkey {
public:
    explicit Monkey(std::uint32_t seed) : dice_(seed) {}

    void step(ScreenRig& rig) {
        Finger& finger = rig.finger();
        const auto what = dice_() % 100;
        if (what < 70) {
            if (const ui::Item* item = some_item(finger)) {
                const ui::Point at = item->visible().centre();
                if (item->kind == ui::Kind::HoldButton) {
                    finger.drag(at, at, 1.4);
                } else {
                    finger.tap_at(at);
                }
            }
        } else if (what < 80) {
            finger.tap_at(somewhere(rig));
        } else if (what < 95) {
            finger.drag(somewhere(rig), somewhere(rig), 0.05 + 0.01 * static_cast<double>(dice_() % 40));
        } else {
            rig.platform().frame(rig.face());
            rig.face().touch().feed({rig.platform().now_s(), somewhere(rig), true});
            rig.face().touch().drop_finger();
            finger.settle();
        }
    }
    [[nodiscard]] bool once_in(unsigned turns) { return dice_() % turns == 0; }

private:
    const ui::Item* some_item(const Finger& finger) {
        std::vector<const ui::Item*> there;
        const bool keys_too = dice_() % 3 == 0; // else a keyboard would be all that is ever touched
        for (const ui::Item& item : finger.items()) {
            if (ui::touchable(item.kind) && !item.visible().empty() &&
                (keys_too || item.kind != ui::Kind::Key)) {
                there.push_back(&item);
            }
        }
        return there.empty() ? nullptr : there[dice_() % there.size()];
    }
    ui::Point somewhere(ScreenRig& rig) {
        const Glass& glass = rig.platform().glass();
        return {static_cast<float>(dice_() % static_cast<std::uint32_t>(glass.width_px)),
                static_cast<float>(dice_() % static_cast<std::uint32_t>(glass.height_px))};
    }
    std::mt19937 dice_;
};

/// Replays the journal one entry at a time, from number `from` on: the program may have written only what it
/// would decide now as well.
void check_allowed(ScreenRig& rig, const std::vector<model::Entry>& entries, std::size_t from) {
    const ui::View& view = rig.view();
    const visit::permit::Rules rules = visit::permit::rules_from(view.limits, view.reg.structures.front());
    std::vector<model::Entry> before;
    std::string head;
    for (const model::Entry& entry : entries) {
        if (before.size() < from) {
            head = model::hash_of(model::to_canonical(entry));
            before.push_back(entry);
            continue;
        }
        const visit::State state = before.empty() ? visit::State{} : visit::fold(before, rules);
        const visit::Ground ground{view.protocol(), view.reg, view.limits, view.day_pack, head, entry.at};
        std::optional<visit::Intent> intent;
        if (const auto* opened = std::get_if<model::Opened>(&entry.body)) {
            intent = visit::OpenVisit{opened->structure};
        } else if (const auto* found = std::get_if<model::Found>(&entry.body)) {
            intent = visit::Record{found->finding};
        } else if (std::holds_alternative<model::Withdrawn>(entry.body)) {
            intent = visit::UndoLast{};
        } else if (const auto* finished = std::get_if<model::StageFinished>(&entry.body)) {
            intent = visit::FinishStage{finished->stage};
        } else if (const auto* decided = std::get_if<model::DangerDecided>(&entry.body)) {
            intent = visit::DecideDanger{decided->checkpoint, decided->decision, decided->reason};
        } else if (const auto* sign = std::get_if<model::Signed>(&entry.body)) {
            intent = visit::SignVisit{sign->head, sign->words, sign->strokes};
        } else if (const auto* acted = std::get_if<model::PermitActed>(&entry.body)) {
            intent = visit::ActOnPermit{acted->act};
        } else if (const auto* broken = std::get_if<model::BrokenOff>(&entry.body)) {
            intent = visit::BreakOff{broken->reason};
        }
        REQUIRE(intent);
        const auto allowed = visit::decide(ground, state, *intent, entry.by);
        const auto* bodies = std::get_if<std::vector<model::Body>>(&allowed);
        INFO("entry " << entry.seq << ": " << model::to_canonical(entry));
        REQUIRE(bodies != nullptr);
        REQUIRE(*bodies == std::vector<model::Body>{entry.body});
        CHECK(entry.prev == head);
        head = model::hash_of(model::to_canonical(entry));
        before.push_back(entry);
    }
}

/// The program's states of all visits by id.
std::map<model::Id, visit::State> states(ScreenRig& rig) {
    std::map<model::Id, visit::State> out;
    for (const store::VisitRow& row : rig.tablet().store().visits()) {
        const auto entries = rig.tablet().store().entries(row.visit); // verifies the chain on the way
        INFO((entries ? "" : model::to_text(entries.problem())));
        REQUIRE(entries.ok());
        out[row.visit] = visit::fold(
            *entries, visit::permit::rules_from(rig.view().limits, rig.view().reg.structures.front()));
    }
    return out;
}

/// `entries_before`: how many the screen had at the step before, for the store is read only after a change.
void check_screen(ScreenRig& rig, std::size_t& entries_before) {
    bool band = false;
    bool back = false;
    for (const ui::Item& item : rig.finger().items()) {
        band = band || (item.kind == ui::Kind::Band && item.visible() == item.rect &&
                        item.text.find("afe") == std::string::npos);
        back = back || (item.enabled && (item.path.ends_with("/back") || item.path.ends_with("/keep_on")));
    }
    REQUIRE(band);
    REQUIRE((back || rig.session().place().screen == ui::Screen::Round));
    if (rig.view().at_hand && rig.view().at_hand->state.entries != entries_before) {
        entries_before = rig.view().at_hand->state.entries;
        const auto entries = rig.tablet().store().entries(rig.view().at_hand->visit);
        REQUIRE(entries.ok());
        REQUIRE(entries->size() == rig.view().at_hand->state.entries);
    }
}

struct Start {
    std::uint32_t seed;
    const char* stage; ///< "" for a tablet nobody has touched yet
    RigLook look;
};

} // namespace

TEST_CASE("whatever a finger does, only what is allowed is written, and all of it stays") {
    const std::vector<Start> starts = {
        {1, "", {}},
        {2, "arrive", {.glass = {800, 1280, 5.88F}}},
        {3, "permit", {.glass = {1280, 800, 7.43F}}},
        {4, "work", {.glass = {800, 1280, 7.43F}, .glove = true}},
        {5, "restore", {}},
    };
    std::size_t written = 0;
    int restarts = 0;
    std::set<ui::Screen> screens;
    for (const Start& start : starts) {
        INFO("seed " << start.seed << ", from " << start.stage);
        ScreenRig rig(start.look);
        if (*start.stage != '\0') {
            VisitScript script(rig.tablet(), scenario_answers());
            script.open();
            script.finish_up_to(start.stage);
            script.leave_to_structure();
            rig.finger().settle();
        }
        const std::size_t scripted = *start.stage != '\0' ? rig.view().at_hand->state.entries : 0;
        std::size_t entries_before = 0;
        Monkey monkey(start.seed);
        for (int i = 0; i < kSteps; ++i) {
            monkey.step(rig);
            check_screen(rig, entries_before);
            screens.insert(rig.session().place().screen);
            if (monkey.once_in(150)) {
                const auto before = states(rig);
                rig.reopen();
                REQUIRE(states(rig) == before);
                ++restarts;
            }
        }
        for (const store::VisitRow& row : rig.tablet().store().visits()) {
            const auto entries = rig.tablet().store().entries(row.visit);
            REQUIRE(entries.ok());
            // The script's visit is the one to its structure; the others are all the finger's.
            const std::size_t from =
                row.structure == VisitScript::kStructure ? std::min(scripted, entries->size()) : 0;
            written += entries->size() - from;
            check_allowed(rig, *entries, from);
        }
    }
    std::cout << starts.size() * kSteps << " random touches: " << written << " entries, " << restarts
              << " restarts, " << screens.size() << " screens seen\n";
    CHECK(written > 10);
    CHECK(restarts > 5);
}
