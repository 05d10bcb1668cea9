// Every screen in its main states, reached without touching: for pictures and for what must hold everywhere.
#pragma once

#include "tests/support/visit_walker.hpp"
#include "ui/app/tablet.hpp"

#include <functional>
#include <string>

namespace crossarm::tests {

/// Wishes, places and answers for one visit to QM-0101, as a script has them.
class VisitScript {
public:
    static constexpr const char* kStructure = "QM-0101";
    static constexpr const char* kDoer = "P-011";
    static constexpr const char* kLead = "P-021";

    /// `answers` are what finish() gives; a checkpoint without one gets its plain answer.
    explicit VisitScript(ui::Tablet& tablet, Answers answers = {})
        : tablet_(tablet), answers_(std::move(answers)) {}

    [[nodiscard]] ui::Session& session() { return tablet_.session(); }
    [[nodiscard]] const ui::View& view() { return session().view(); }
    void wish(const ui::Wish& one) { session().carry_out({one}); }
    void go(ui::Screen screen, const std::string& part = "", const std::string& checkpoint = "");
    /// To the structure's screen with nothing but the round behind it.
    void leave_to_structure();
    /// The person takes the tablet and opens the visit.
    void open(const std::string& person = kDoer);
    /// Throws std::runtime_error when it is not kept.
    void answer(const std::string& checkpoint, const std::string& text);
    /// Answers all that is missing in the stage, then finishes it.
    void finish(const std::string& stage);
    /// Finishes every stage before `stage`; decides about Dangers as the lead where they bar the way.
    void finish_up_to(const std::string& stage);
    /// The lead decides about every Danger, then the doer holds the tablet again.
    void decide_dangers();

private:
    ui::Tablet& tablet_;
    Answers answers_;
};

/// The value that a checkpoint is given by an answer's text (visit_walker.hpp, Answers).
[[nodiscard]] model::Value value_of(const model::Checkpoint& checkpoint, const std::string& answer);

/// Goes through one whole visit on a fresh tablet and calls `seen` with a name at every screen and main
/// state. `seen` must draw: some states build on what the frame before prepared.
void show_every_state(VisitScript& script, const std::function<void(const std::string& name)>& seen);

} // namespace crossarm::tests
