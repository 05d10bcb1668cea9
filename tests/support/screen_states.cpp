#include "tests/support/screen_states.hpp"

#include "tests/support/permit_script.hpp"
#include "tests/support/pins.hpp"

#include <cstdlib>
#include <sstream>
#include <stdexcept>

namespace crossarm::tests {

model::Value value_of(const model::Checkpoint& checkpoint, const std::string& answer) {
    std::istringstream in(answer);
    std::vector<std::string> words;
    for (std::string word; in >> word;) {
        words.push_back(word);
    }
    if (answer.starts_with("out: ")) {
        return model::OutOfReach{"Live parts are too near"};
    }
    if (std::holds_alternative<model::GradeInput>(checkpoint.input)) {
        return *model::grade_of(answer);
    }
    if (const auto* number = std::get_if<model::NumberInput>(&checkpoint.input)) {
        return model::Quantity{std::strtod(answer.c_str(), nullptr), number->unit};
    }
    if (const auto* numbers = std::get_if<model::NumbersInput>(&checkpoint.input)) {
        model::Readings out;
        for (const std::string& word : words) {
            out.values.push_back({std::strtod(word.c_str(), nullptr), numbers->unit});
        }
        return out;
    }
    if (std::holds_alternative<model::TextInput>(checkpoint.input)) {
        return model::Remark{answer};
    }
    return model::Choice{words};
}

void VisitScript::go(ui::Screen screen, const std::string& part, const std::string& checkpoint) {
    wish(ui::GoTo{{screen, screen == ui::Screen::Round ? "" : kStructure, part, checkpoint}});
}

void VisitScript::leave_to_structure() {
    go(ui::Screen::Round);
    go(ui::Screen::Structure);
}

void VisitScript::open(const std::string& person) {
    wish(taken_by(person));
    go(ui::Screen::Structure);
    wish(ui::Mean{visit::OpenVisit{kStructure}});
}

void VisitScript::answer(const std::string& checkpoint, const std::string& text) {
    const model::Checkpoint& at = *tablet_.protocol().checkpoint(checkpoint);
    const std::string insisted = "Measured again, the same reading";
    wish(ui::Mean{visit::Record{{at.part, checkpoint, value_of(at, text), insisted, ""}}});
    if (ui::answer_at(view(), checkpoint) == nullptr) {
        throw std::runtime_error(checkpoint + ": " + view().notice);
    }
}

void VisitScript::finish(const std::string& stage) {
    for (int turns = 0; turns < 300 && !view().at_hand->missing.empty(); ++turns) {
        if (PermitScript(session()).mend()) {
            continue;
        }
        const std::string checkpoint = view().at_hand->missing.front().checkpoint;
        const auto scripted = answers_.find(checkpoint);
        answer(checkpoint, scripted != answers_.end()
                               ? scripted->second
                               : plain_answer(*tablet_.protocol().checkpoint(checkpoint), view()));
    }
    if (stage != "permit") { // finished by the acceptance
        wish(ui::Mean{visit::FinishStage{stage}});
    }
}

void VisitScript::finish_up_to(const std::string& stage) {
    for (const model::Stage& one : tablet_.protocol().stages) {
        if (one.id == stage) {
            return;
        }
        finish(one.id);
        if (one.id == "work") {
            decide_dangers();
        }
    }
}

void VisitScript::decide_dangers() {
    const std::string before = view().who;
    wish(taken_by(kLead));
    while (!view().at_hand->undecided.empty()) {
        const std::string checkpoint = view().at_hand->undecided.front();
        go(ui::Screen::Danger, "", checkpoint); // the session goes back from where it is
        wish(meant(visit::DecideDanger{checkpoint, "put_right", "Replaced and seen by me"}, kLead));
    }
    wish(taken_by(before));
}

namespace {

using Seen = std::function<void(const std::string&)>;

void show_beginning(VisitScript& script, const Seen& seen) {
    seen("01-round-nobody");
    script.go(ui::Screen::People);
    seen("02-people");
    script.wish(taken_by(VisitScript::kDoer));
    script.go(ui::Screen::Round);
    script.session().drafts().all_structures = true;
    seen("03-round-all");
    script.session().drafts().all_structures = false;
    script.go(ui::Screen::Structure);
    seen("04-structure-before");
    script.wish(ui::Mean{visit::OpenVisit{VisitScript::kStructure}});
    seen("05-arrive-steps");
    script.go(ui::Screen::Checkpoint, "", "arrive.structure");
    seen("06-checkpoint-choice");
    script.answer("arrive.structure", "different");
    seen("07-checkpoint-stops");
    script.answer("arrive.structure", "same");
    script.leave_to_structure();
    script.go(ui::Screen::Checkpoint, "", "arrive.position");
    seen("08-checkpoint-text");
    script.answer("arrive.position", "Lane side");
    script.answer("arrive.lightning", "none");
    script.answer("arrive.weather", "dry");
    script.leave_to_structure();
    script.go(ui::Screen::Checkpoint, "", "arrive.wind");
    seen("09-checkpoint-number");
    script.session().drafts().number.text = "9.5";
    seen("10-checkpoint-number-unusual");
    script.session().drafts().asking = ui::Asking::WhyUnusual;
    seen("11-checkpoint-why-unusual");
    script.answer("arrive.wind", "3.5");
    script.leave_to_structure();
    script.go(ui::Screen::Checkpoint, "", "arrive.ground");
    seen("12-checkpoint-grade");
    script.answer("arrive.ground", "watch");
    script.leave_to_structure();
    script.go(ui::Screen::Checkpoint, "", "arrive.ground");
    seen("12a-checkpoint-settled");
    script.session().drafts().asking = ui::Asking::Again;
    seen("12b-checkpoint-again");
    script.leave_to_structure();
    script.session().drafts().break_off = true;
    script.session().drafts().text = {};
    seen("12c-break-off");
    script.session().drafts().break_off = false;
    script.wish(ui::Mean{visit::FinishStage{"arrive"}});
    seen("12d-refused");
    script.go(ui::Screen::Checkpoint, "", "hv_bushings.damage");
    seen("12e-checkpoint-locked");
    script.leave_to_structure();
}

void show_arrive_to_permit(VisitScript& script, const Seen& seen) {
    script.answer("pole_stays.base", "sound");
    script.answer("pole_stays.stays", "sound");
    script.answer("trees.species", "fast");
    script.leave_to_structure();
    script.go(ui::Screen::Checkpoint, "", "trees.clearance_hv");
    script.answer("trees.clearance_hv", "1.2");
    seen("13-checkpoint-verdict-danger");
    script.finish("arrive");
    script.leave_to_structure();
    script.go(ui::Screen::Checkpoint, "", "brief.crew");
    seen("14-checkpoint-people");
    script.answer("brief.crew", "P-003 P-007 P-011");
    script.go(ui::Screen::Briefing);
    seen("14a-briefing");
    script.finish("brief");
    script.leave_to_structure();
    seen("15-permit-steps");
    script.go(ui::Screen::Permit);
    seen("15b-permit");
    script.go(ui::Screen::Permit, "points");
    seen("15c-permit-step");
    script.leave_to_structure();
    script.go(ui::Screen::Part, "hv_bushings");
    seen("15a-part-beyond-reach");
    script.leave_to_structure();
    script.finish("permit");
    script.go(ui::Screen::Permit);
    seen("15d-permit-in-force");
    script.go(ui::Screen::Round);
    seen("15e-round-in-force");
    script.leave_to_structure();
    seen("16-work-drawing-fresh");
}

void show_work(VisitScript& script, const Seen& seen) {
    script.answer("trees.trimmed_to", "3.5");
    script.answer("pole_stays.channels", "watch");
    script.answer("lettering.danger_plate", "repair");
    script.answer("hv_bushings.damage", "crack_flange");
    script.answer("breather.gel_kind", "blue");
    script.answer("breather.gel_spent", "65");
    script.answer("oil.weather", "dry");
    script.answer("oil.tester", "on_truck");
    script.answer("oil.temperature", "31");
    script.answer("oil.drawn", "bottom_valve");
    script.leave_to_structure();
    seen("17-work-drawing");
    script.session().drafts().list_view = true;
    seen("18-work-list");
    script.session().drafts().list_view = false;
    script.go(ui::Screen::Part, "breather");
    seen("19-part");
    script.go(ui::Screen::Checkpoint, "", "oil.breakdown");
    script.session().drafts().readings = {37.4, 41.2, 35.8, std::nullopt, std::nullopt, std::nullopt};
    script.session().drafts().reading = 3;
    seen("20-checkpoint-six-shots");
    script.answer("oil.breakdown", "37.4 41.2 35.8 39.9 36.7 38.6");
    seen("21-checkpoint-verdict");
    script.go(ui::Screen::Workings, "", "oil.breakdown");
    seen("22-workings");
    script.leave_to_structure();
    script.go(ui::Screen::Checkpoint, "", "hv_jumpers.burnt");
    script.session().drafts().asking = ui::Asking::WhyOut;
    seen("23-checkpoint-why-out");
    script.session().drafts().own_words_for = ui::Asking::WhyOut;
    script.session().drafts().asking = ui::Asking::OwnWords;
    seen("23a-checkpoint-own-words");
    script.leave_to_structure();
    script.go(ui::Screen::People);
    seen("23b-people-in-visit");
    script.leave_to_structure();
    script.finish("work");
}

void show_end(VisitScript& script, const Seen& seen) {
    script.leave_to_structure();
    seen("24-restore-steps-danger");
    script.go(ui::Screen::Danger, "", "hv_bushings.damage");
    seen("25-danger");
    script.wish(taken_by(VisitScript::kLead));
    while (!script.session().view().at_hand->undecided.empty()) {
        const std::string checkpoint = script.session().view().at_hand->undecided.front();
        script.go(ui::Screen::Danger, "", checkpoint);
        script.session().drafts().form.answers = {{"decision", "put_right"}};
        seen("26-danger-reason");
        script.session().drafts().form.answers.emplace("reason", "Replaced and seen by me");
        seen("26a-danger-pin");
        script.session().drafts().form.answers.emplace("pin_P-021", "given");
        seen("26b-danger-hold");
        script.wish(meant(visit::DecideDanger{checkpoint, "put_right", "Replaced and seen by me"},
                          VisitScript::kLead));
    }
    script.wish(taken_by(VisitScript::kDoer));
    script.leave_to_structure();
    script.go(ui::Screen::SignOff);
    seen("27-sign-off-missing");
    script.go(ui::Screen::HandOver);
    seen("27a-hand-over-not-signed");
    script.leave_to_structure();
    script.finish("restore");
    script.wish(taken_by(VisitScript::kLead));
    script.leave_to_structure();
    seen("28-stage-sign-off");
    script.go(ui::Screen::SignOff);
    seen("29-sign-off");
    script.go(ui::Screen::SignOff, "", "sign");
    seen("29a-sign-off-signature");
    script.session().drafts().form.answers = {{"signature", "100,100 200,120"}};
    seen("29b-sign-off-pin");
    script.session().drafts().form.answers.emplace("pin_P-021", "given");
    seen("29c-sign-off-hold");
    script.wish(
        meant(visit::SignVisit{script.session().view().at_hand->head, "", "100,100 200,120;210,90 220,95"},
              VisitScript::kLead));
    seen("30-hand-over");
    script.wish(ui::WriteBundle{});
    seen("31-hand-over-written");
    script.wish(ui::SayHandedOver{});
    seen("32-hand-over-said");
    script.go(ui::Screen::Round);
    seen("33-round-after");
}

} // namespace

void show_every_state(VisitScript& script, const Seen& seen) {
    show_beginning(script, seen);
    show_arrive_to_permit(script, seen);
    show_work(script, seen);
    show_end(script, seen);
}

} // namespace crossarm::tests
