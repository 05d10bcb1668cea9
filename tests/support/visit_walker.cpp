#include "tests/support/visit_walker.hpp"

#include "tests/support/permit_walker.hpp"
#include "tests/support/pins.hpp"

#include <sstream>

namespace crossarm::tests {

namespace {

std::string number_text(double value, int decimals) {
    const std::string text = model::number_for_people(value, decimals);
    const std::string minus = "\xE2\x88\x92";
    return text.starts_with(minus) ? "-" + text.substr(minus.size()) : text;
}

std::string middle(const model::Range& usual, int decimals) {
    return number_text(decimals == 0 ? static_cast<double>(static_cast<long>((usual.low + usual.high) / 2.0))
                                     : (usual.low + usual.high) / 2.0,
                       decimals);
}

std::vector<std::string> split(const std::string& text) {
    std::istringstream in(text);
    std::vector<std::string> out;
    for (std::string word; in >> word;) {
        out.push_back(word);
    }
    return out;
}

} // namespace

Answers read_answers(const std::string& csv) {
    Answers out;
    for (std::size_t pos = csv.find('\n') + 1; pos != 0 && pos < csv.size();) {
        std::size_t end = csv.find('\n', pos);
        end = end == std::string::npos ? csv.size() : end;
        const std::string line = csv.substr(pos, end - pos);
        if (const std::size_t comma = line.find(','); comma != std::string::npos) {
            out[line.substr(0, comma)] = line.substr(comma + 1);
        }
        pos = end + 1;
    }
    return out;
}

std::string plain_answer(const model::Checkpoint& checkpoint, const ui::View& view) {
    if (std::holds_alternative<model::GradeInput>(checkpoint.input)) {
        return "sound";
    }
    if (const auto* choice = std::get_if<model::ChoiceInput>(&checkpoint.input)) {
        for (const model::Option& option : choice->options) {
            if (option.stops.empty()) {
                return option.id;
            }
        }
    }
    if (const auto* people = std::get_if<model::PeopleInput>(&checkpoint.input)) {
        std::string out;
        for (std::size_t i = 0; i < static_cast<std::size_t>(people->at_least); ++i) {
            out += view.reg.people[i].id + " ";
        }
        return out;
    }
    if (const auto* number = std::get_if<model::NumberInput>(&checkpoint.input)) {
        return middle(number->usual, number->decimals);
    }
    if (const auto* numbers = std::get_if<model::NumbersInput>(&checkpoint.input)) {
        std::string out;
        for (std::size_t i = 0; i < numbers->names.size(); ++i) {
            out += middle(numbers->usual, numbers->decimals) + " ";
        }
        return out;
    }
    return "Seen";
}

VisitWalker::VisitWalker(Finger& finger, ui::Session& session, Answers answers, WalkPeople people)
    : finger_(finger), session_(session), answers_(std::move(answers)), people_(std::move(people)) {}

std::string VisitWalker::stage() const {
    const ui::View& view = session_.view();
    return view.at_hand && view.at_hand->stage < view.protocol().stages.size()
               ? view.protocol().stages[view.at_hand->stage].id
               : std::string();
}

std::string VisitWalker::answer_for(const model::Checkpoint& checkpoint) const {
    const auto found = answers_.find(checkpoint.id);
    return found == answers_.end() ? plain_answer(checkpoint, session_.view()) : found->second;
}

void VisitWalker::take_tablet(const std::string& person) {
    if (session_.view().who != person) {
        finger_.tap("who");
        finger_.tap("people/list/" + person);
        if (finger_.has("form/pin_own/pad/done")) {
            FormWalker(finger_, session_).pin("pin_own", kTestPin);
        }
    }
}

void VisitWalker::choose_pins(const std::vector<std::string>& people) {
    FormWalker forms(finger_, session_);
    for (const std::string& person : people) {
        if (session_.view().have_pin.contains(person)) {
            continue;
        }
        finger_.tap("who");
        finger_.tap("people/list/" + person);
        finger_.tap("who");
        finger_.tap("first");
        if (person != people.front()) {
            finger_.tap("form/witness/choice/" + people.front());
        }
        forms.pin("pin_new", kTestPin);
        forms.pin("pin_again", kTestPin);
        if (person != people.front()) {
            forms.pin("pin_witness", kTestPin);
        }
        finger_.tap("form/confirm");
    }
}

void VisitWalker::give(const model::Checkpoint& checkpoint, const std::string& answer) {
    if (answer == "not fitted") {
        finger_.tap("not_fitted");
        return;
    }
    if (answer.starts_with("out: ")) {
        finger_.tap("out_of_reach");
        finger_.tap("reason/" + answer.substr(5));
        return;
    }
    if (std::holds_alternative<model::GradeInput>(checkpoint.input)) {
        finger_.tap("grade/" + answer);
    } else if (std::holds_alternative<model::ChoiceInput>(checkpoint.input)) {
        finger_.tap("choice/" + answer);
    } else if (std::holds_alternative<model::PeopleInput>(checkpoint.input)) {
        for (const std::string& person : split(answer)) {
            finger_.tap(checkpoint.id + "/" + person);
        }
        finger_.tap(checkpoint.id + "/keep");
    } else if (std::holds_alternative<model::TextInput>(checkpoint.input)) {
        finger_.type_text("text", answer);
        finger_.tap("text/keep");
    } else {
        for (const std::string& reading : split(answer)) {
            finger_.type("pad", reading);
            finger_.tap("pad/keep");
        }
        if (finger_.has("reason/reason.measured_again")) {
            finger_.tap("reason/reason.measured_again");
        }
    }
}

void VisitWalker::answer_here() {
    const ui::Place here = session_.place();
    if (here.screen != ui::Screen::Checkpoint) {
        throw FingerError("no checkpoint is on the screen:\n" + finger_.words_in_sight());
    }
    const model::Checkpoint& checkpoint = *session_.view().protocol().checkpoint(here.checkpoint);
    const std::string answer = answer_for(checkpoint);
    give(checkpoint, answer);
    if (answer_at(session_.view(), checkpoint.id) == nullptr) {
        throw FingerError(checkpoint.id + " was not kept with \"" + answer + "\":\n" +
                          finger_.words_in_sight());
    }
    ++answered_;
    if (after_answer) {
        after_answer(checkpoint.id);
    }
    if (session_.place() == here) {
        finger_.tap("go_on");
    }
}

void VisitWalker::begin(const std::string& structure) {
    take_tablet(people_.doer);
    if (!finger_.has("round/" + structure)) {
        finger_.tap("all");
    }
    finger_.tap("round/" + structure);
    finger_.tap("open");
}

// The work stage from the drawing: each part, then what is still missing.
void VisitWalker::walk_parts() {
    for (const model::Part& part : session_.view().protocol().parts) {
        if (session_.view().at_hand->parts.at(part.id).unseen == 0) {
            continue;
        }
        finger_.tap("structure/" + part.id);
        for (bool more = true; more;) {
            more = false;
            for (const model::Checkpoint& checkpoint : session_.view().protocol().checkpoints) {
                const ui::View& view = session_.view();
                if (checkpoint.part == part.id && checkpoint.needed && checkpoint.stage == "work" &&
                    answer_at(view, checkpoint.id) == nullptr &&
                    visit::is_asked(checkpoint, *view.at_hand->structure, view.at_hand->state)) {
                    finger_.tap("part/" + checkpoint.id);
                    answer_here();
                    more = true;
                    break;
                }
            }
        }
        finger_.tap("back");
    }
}

void VisitWalker::decide_dangers() {
    while (!session_.view().at_hand->undecided.empty()) {
        finger_.tap("undecided");
        take_tablet(people_.lead);
        finger_.tap("form/decision/choice/put_right");
        finger_.type_text("form/reason/text", "Put right and seen");
        finger_.tap("form/reason/text/keep");
        FormWalker(finger_, session_).pin("pin_" + people_.lead, kTestPin);
        finger_.hold("form/confirm");
    }
}

void VisitWalker::finish_stage(const std::string& wanted) {
    for (int turns = 0; stage() == wanted; ++turns) {
        if (turns > 500) {
            throw FingerError("the stage " + wanted + " does not end:\n" + finger_.words_in_sight());
        }
        if (session_.place().screen == ui::Screen::Checkpoint) {
            const std::string& here = session_.place().checkpoint;
            if (session_.view().at_hand->locks.contains(here)) {
                finger_.tap("back");
                decide_dangers();
                take_tablet(people_.doer);
            } else {
                answer_here();
            }
        } else if (!session_.view().at_hand->missing.empty()) {
            if (!session_.view().at_hand->missing.front().step.empty()) {
                go_through_permit(wanted);
            } else if (wanted == "work" && turns == 0) {
                walk_parts();
            } else {
                finger_.tap("next");
            }
        } else {
            finger_.tap("finish");
        }
    }
}

// What is missing is a word of the briefing, or steps of the permit.
void VisitWalker::go_through_permit(const std::string& wanted) {
    PermitWalker permit(finger_, session_, people_.permit,
                        [this](const std::string& person) { take_tablet(person); });
    permit.after_act = after_act;
    if (wanted == "brief") {
        finger_.tap("next");
        permit.brief();
        finger_.tap("back");
        return;
    }
    finger_.tap("structure/permit");
    permit.do_steps_up_to(wanted == "permit" ? "accept" : "locks");
    if (wanted == "permit") {
        permit.go_to_work();
    } else {
        finger_.tap("print");
    }
    finger_.tap("back");
    take_tablet(people_.doer);
}

void VisitWalker::sign() {
    decide_dangers();
    finger_.tap("sign_off");
    take_tablet(people_.lead);
    finger_.tap("sign");
    FormWalker forms(finger_, session_);
    finger_.sign("form/signature/pad");
    finger_.tap("form/signature/keep");
    forms.pin("pin_" + people_.lead, kTestPin);
    finger_.hold("form/confirm");
}

void VisitWalker::hand_over() {
    finger_.tap("write");
    finger_.tap("handed_over");
}

void VisitWalker::walk(const std::string& structure) {
    begin(structure);
    for (const char* one : {"arrive", "brief", "permit", "work", "restore"}) {
        finish_stage(one);
    }
    sign();
    hand_over();
}

} // namespace crossarm::tests
