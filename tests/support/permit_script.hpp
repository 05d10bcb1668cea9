// A whole permit on a tablet, act by act, without touching the glass: for tests and scripts that are about
// something else.
#pragma once

#include "tests/support/permit_acts.hpp"
#include "ui/screens/session.hpp"

#include <string>

namespace crossarm::tests {

/// The wish of person `by` for an intent, with the PINs of everybody who has to confirm it.
[[nodiscard]] ui::Wish meant(const visit::Intent& intent, const std::string& by);

/// Acts through the session's wishes, so that everything is decided and kept as for a finger. Throws
/// std::runtime_error when an act is refused. Whoever held the tablet before holds it afterwards.
class PermitScript {
public:
    explicit PermitScript(ui::Session& session, PermitPeople people = {"P-016", "P-011", "P-003"})
        : session_(session), people_(std::move(people)) {}

    void act(const acts::Act& one, const std::string& by);
    void act(const NextAct& one) { act(one.act, one.by); }
    /// Everybody who is here says their own task.
    void brief();
    /// Points, proofs, earths, zone.
    void isolate();
    void issue(const std::string& party = "A");
    void accept(const std::string& party = "A");
    /// From where it stands: hands back, cancels, takes earths and locks off.
    void close();
    /// What the first thing that is missing in the present stage asks for, when it is about the briefing or
    /// the permit. False when it is not.
    bool mend();

private:
    [[nodiscard]] const visit::permit::State& state() const { return session_.view().at_hand->state.permit; }
    [[nodiscard]] const std::string& structure() const { return session_.view().at_hand->structure->id; }

    ui::Session& session_;
    PermitPeople people_;
};

} // namespace crossarm::tests
