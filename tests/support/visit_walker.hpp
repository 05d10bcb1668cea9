// Walks a visit with a finger, from the round to the hand-over, as a crew and its lead would.
#pragma once

#include "tests/support/finger.hpp"
#include "tests/support/permit_acts.hpp"
#include "ui/screens/session.hpp"

#include <functional>
#include <map>
#include <string>
#include <vector>

namespace crossarm::tests {

/// What is answered where: checkpoint id -> answer as text. Grade, option and person ids; numbers with spaces
/// between them; words; "out: reason key"; "not fitted". A checkpoint without one gets a plain answer: Sound,
/// the first option that stops nothing, the middle of the usual range.
using Answers = std::map<std::string, std::string>;

/// Reads "checkpoint,answer" lines below a heading line; an answer is what stands behind the first comma.
[[nodiscard]] Answers read_answers(const std::string& csv);

struct WalkPeople {
    std::string doer = "P-011"; ///< person ids
    std::string lead = "P-003";
    PermitPeople permit = {"P-016", "P-011", "P-003"};
};

/// Reads the session to know what is asked, and does everything by touch. Throws FingerError.
class VisitWalker {
public:
    VisitWalker(Finger& finger, ui::Session& session, Answers answers, WalkPeople people);

    /// Called after every answer that was kept, with the checkpoint's id.
    std::function<void(const std::string&)> after_answer;
    /// Called after every act on the permit that was kept, with the id of its step.
    std::function<void(const std::string&)> after_act;

    /// From the round: takes the tablet, begins the visit, goes through every stage, signs, writes the
    /// bundle.
    void walk(const std::string& structure);
    /// The same in parts.
    void begin(const std::string& structure);
    /// Goes on until the current stage is not `stage` any more.
    void finish_stage(const std::string& stage);
    void sign();
    void hand_over();

    void take_tablet(const std::string& person);
    /// Each who has none chooses a PIN; the first of them is a lead and witness to the others.
    void choose_pins(const std::vector<std::string>& people);
    /// Answers the checkpoint that is on the screen.
    void answer_here();
    [[nodiscard]] int answered() const { return answered_; }

private:
    [[nodiscard]] std::string stage() const;
    [[nodiscard]] std::string answer_for(const model::Checkpoint& checkpoint) const;
    void give(const model::Checkpoint& checkpoint, const std::string& answer);
    void walk_parts();
    void decide_dangers();
    void go_through_permit(const std::string& wanted);

    Finger& finger_;
    ui::Session& session_;
    Answers answers_;
    WalkPeople people_;
    int answered_ = 0;
};

/// The plain answer of a checkpoint.
[[nodiscard]] std::string plain_answer(const model::Checkpoint& checkpoint, const ui::View& view);

} // namespace crossarm::tests
