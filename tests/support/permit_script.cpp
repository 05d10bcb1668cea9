#include "tests/support/permit_script.hpp"

#include "checklist/visit/confirm.hpp"
#include "tests/support/pins.hpp"

#include <stdexcept>

namespace crossarm::tests {

ui::Wish meant(const visit::Intent& intent, const std::string& by) {
    std::vector<ui::GivenPin> pins;
    for (const std::string& person : visit::confirmers(intent, by)) {
        pins.push_back({person, kTestPin});
    }
    if (pins.empty()) {
        return ui::Mean{intent};
    }
    return ui::MeanWithPins{intent, std::move(pins)};
}

void PermitScript::act(const acts::Act& one, const std::string& by) {
    const std::string before = session_.view().who;
    const visit::ActOnPermit intent{one};
    session_.carry_out({taken_by(by), meant(intent, by)});
    const std::string notice = session_.view().notice + session_.view().pin_notice;
    session_.carry_out({taken_by(before)});
    if (!notice.empty()) {
        throw std::runtime_error(std::string(model::permit::name(one)) + " by " + by + ": " + notice);
    }
}

void PermitScript::brief() {
    const auto open = visit::not_briefed(session_.view().protocol(), session_.view().at_hand->state);
    if (open) {
        for (const std::string& person : *open) {
            act(acts::Briefed{person}, person);
        }
    }
}

void PermitScript::isolate() {
    for (const acts::Act& one : isolating_acts(people_, "QV 2611")) {
        act(one, people_.issuer);
    }
}

void PermitScript::issue(const std::string& party) {
    const model::Timestamp now = session_.view().now;
    act(issuing(state(), structure(), people_, {now.utc_ms + 8 * 3'600'000, now.offset_minutes}, party));
}

void PermitScript::accept(const std::string& party) {
    act(accepting(state(), structure(), people_, party));
}

void PermitScript::close() {
    for (const auto& [person, party] : std::map(state().on)) {
        act(acts::SignedOff{person, ""}, person);
    }
    for (const visit::permit::Party& party : std::vector(state().parties)) {
        if (party.holding == visit::permit::Holding::Accepted) {
            act(handing_back(state(), structure(), people_, party.id));
        }
    }
    if (!state().cancelled) {
        act(cancelling(state(), structure(), people_));
    }
    for (const acts::Act& one : clearing_acts(state())) {
        act(one, people_.issuer);
    }
}

bool PermitScript::mend() {
    const auto& missing = session_.view().at_hand->missing;
    if (missing.empty() || missing.front().step.empty()) {
        return false;
    }
    if (missing.front().step == "brief") {
        brief();
    } else if (visit::permit::ever_accepted(state())) {
        close();
    } else {
        isolate();
        issue();
        accept();
    }
    return true;
}

} // namespace crossarm::tests
