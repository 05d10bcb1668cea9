#include "tests/support/permit_walker.hpp"

#include "ui/screens/permit_step.hpp"

#include <algorithm>
#include <array>

namespace crossarm::tests {

namespace {

using model::permit::EarthKind;
using model::permit::Side;
using visit::permit::Earth;

constexpr std::array kSides = {Side::Hv, Side::Lv};

std::string detector_of(const std::string& step) {
    return step == "proof_hv" ? "D-HV 3" : "D-LV 5";
}

} // namespace

bool PermitWalker::is_done(const std::string& step) const {
    const auto& steps = session_.view().at_hand->permit.steps;
    const auto at = std::ranges::find(steps, step, &visit::permit::Step::id);
    return at != steps.end() && at->done;
}

PermitWalker::Next PermitWalker::next_earth() const {
    for (const Earth& earth : state().earths) {
        if (earth.earth_end && !earth.line_end) {
            return {{"line_end_on", earth.id}};
        }
    }
    for (const Side side : kSides) {
        const bool any = std::ranges::any_of(state().earths, [side](const Earth& earth) {
            return earth.side == side && earth.kind == EarthKind::Control && earth.line_end;
        });
        if (!any) {
            return {{"earth_end_on", ""},
                    {{"earth", side == Side::Hv ? "E-21" : "E-22"},
                     {"side", model::permit::word_of(side)},
                     {"kind", "control"},
                     {"fixed_by", people_.holder}}};
        }
    }
    throw FingerError("an earth is on at each side, and still the step is open");
}

PermitWalker::Next PermitWalker::next_of(const std::string& step) const {
    const std::vector<ui::FormOf> forms = ui::forms_at(session_.view(), step);
    const auto offered = [&](const char* act) {
        const auto found = std::ranges::find(forms, act, &ui::FormOf::act);
        return found == forms.end() ? ui::FormOf{act, ""} : *found;
    };
    if (step == "points") {
        for (const Side side : kSides) {
            if (std::ranges::find(state().points, side, &visit::permit::Point::side) ==
                state().points.end()) {
                return {{"point_added", ""}, {{"side", model::permit::word_of(side)}}};
            }
        }
        return {forms.front(), {{"key_held_by", people_.issuer}}};
    }
    if (step == "earths") {
        return next_earth();
    }
    if (step == "zone") {
        return {offered(state().live_parts.empty() ? "live_part_noted" : "zone_marked")};
    }
    if (step == "people") {
        return {offered("signed_off")};
    }
    if (step == "tools") {
        return {offered("tools_in")};
    }
    if (step.ends_with("earths")) {
        const bool line = std::ranges::find(forms, "line_end_off", &ui::FormOf::act) != forms.end();
        return {offered(line ? "line_end_off" : "earth_end_off")};
    }
    return {forms.front(),
            {{"holder", people_.holder}, {"second", people_.second}, {"detector", detector_of(step)}}};
}

void PermitWalker::act(const std::string& step, const Next& next) {
    finger_.tap("do/" + ui::to_text(next.form));
    forms_.fill(next.form, next.answers);
    if (after_act) {
        after_act(step);
    }
}

void PermitWalker::do_step(const std::string& step) {
    const bool of_holder =
        step == "accept" || step == "hand_back" || step == "working_earths" || step == "tools";
    take_(of_holder ? people_.holder : people_.issuer);
    for (int turn = 0; !is_done(step); ++turn) {
        if (turn > 30) {
            throw FingerError("the step " + step + " does not end:\n" + finger_.words_in_sight());
        }
        act(step, next_of(step));
    }
}

void PermitWalker::brief() {
    const auto open = visit::not_briefed(session_.view().protocol(), session_.view().at_hand->state);
    if (open) {
        for (const std::string& person : std::vector(*open)) {
            finger_.tap("person/" + person);
            forms_.fill({"briefed", person});
            if (after_act) {
                after_act("brief");
            }
        }
    }
}

void PermitWalker::go_to_work() {
    const std::string party = state().parties.back().id;
    finger_.tap("party/" + party);
    take_(people_.holder);
    act("people", {{"signed_on", party}, {{"person", people_.second}}});
    act("tools", {{"tools_out", party}});
    finger_.tap("back");
}

void PermitWalker::do_steps_up_to(const std::string& last) {
    std::vector<std::string> ids;
    for (const visit::permit::Step& step : session_.view().at_hand->permit.steps) {
        ids.push_back(step.id);
        if (step.id == last) {
            break;
        }
    }
    for (const std::string& id : ids) {
        if (!is_done(id)) {
            finger_.tap("step/" + id);
            do_step(id);
            finger_.tap("back");
        }
    }
}

} // namespace crossarm::tests
