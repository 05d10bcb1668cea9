// A whole permit by finger, step after step as the Permit screen has them.
#pragma once

#include "tests/support/form_walker.hpp"
#include "tests/support/permit_acts.hpp"

#include <functional>
#include <string>

namespace crossarm::tests {

/// Goes the straight way. Every touch is one that a person could do; what is left to choose is chosen by what
/// the session says is missing. Throws FingerError.
class PermitWalker {
public:
    /// `take` puts the tablet into a person's hands.
    PermitWalker(Finger& finger, ui::Session& session, PermitPeople people,
                 std::function<void(const std::string&)> take)
        : finger_(finger), session_(session), forms_(finger, session), people_(std::move(people)),
          take_(std::move(take)) {}

    /// On the screen of a step: does what it asks for until it is done.
    void do_step(const std::string& step);
    /// On the Briefing screen: everybody who is here says their own task.
    void brief();
    /// On the Permit screen: the steps that are open, up to and with `last`; then back.
    void do_steps_up_to(const std::string& last);

    /// On the Permit screen, once it is accepted: the mate signs on and tools are counted out; then back.
    void go_to_work();

    /// Called after every act that was kept, with the step's id.
    std::function<void(const std::string&)> after_act;

private:
    struct Next {
        ui::FormOf form;
        FormAnswers answers = {};
    };
    [[nodiscard]] const visit::permit::State& state() const { return session_.view().at_hand->permit.state; }
    [[nodiscard]] bool is_done(const std::string& step) const;
    [[nodiscard]] Next next_of(const std::string& step) const;
    [[nodiscard]] Next next_earth() const;
    void act(const std::string& step, const Next& next);

    Finger& finger_;
    ui::Session& session_;
    FormWalker forms_;
    PermitPeople people_;
    std::function<void(const std::string&)> take_;
};

} // namespace crossarm::tests
