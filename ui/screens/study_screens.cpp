#include "ui/screens/study_screens.hpp"

#include "ui/touch/layout.hpp"
#include "ui/touch/text.hpp"

#include <algorithm>

namespace crossarm::ui {

std::string say(const Touch& touch, const char* key,
                std::vector<std::pair<std::string, model::Phrase::Value>> values) {
    return touch.words().say(model::Phrase{key, std::move(values)});
}

CheckEnd end_of(const Touch& touch, std::optional<model::Grade> grade) {
    if (!grade) {
        return {Mark::Unseen, touch.say("study.result.none")};
    }
    switch (*grade) {
    case model::Grade::Sound:
        return {Mark::Sound, touch.say("study.result.pass")};
    case model::Grade::Watch:
        return {Mark::Watch, touch.say("study.result.marginal")};
    case model::Grade::Repair:
    case model::Grade::Danger:
        break;
    }
    return {mark_of(*grade), touch.say("study.result.fail")};
}

CheckEnd end_of(const Touch& touch, const rules::Outcome& outcome) {
    const auto* verdict = std::get_if<model::Verdict>(&outcome);
    return end_of(touch, verdict == nullptr ? std::nullopt : std::optional(verdict->grade));
}

void draw_study_head(Touch& touch) {
    const Inset inset(touch, 4.0F, 2.0F, 4.0F, 0.0F);
    text(touch, touch.say("study_screen.on_paper"), {.weight = Weight::Bold});
    text(touch, touch.say("office.disclaimer"), {.role = Role::QuietWords});
}

NextPlace draw_study(Touch& touch, const StudyView& view, const StudyPlace& place) {
    NextPlace next;
    const Scope scope(touch, "study");
    draw_study_head(touch);
    if (view.one == nullptr) {
        draw_study_list(touch, view, next);
        return next;
    }
    const auto& checks = view.one->study.checks;
    const auto check = std::ranges::find(checks, place.check, &rules::StudyCheck::name);
    switch (place.screen) {
    case StudyScreen::Check:
        if (check != checks.end()) {
            draw_study_check(touch, *view.one, *check, next);
            return next;
        }
        break;
    case StudyScreen::Ways:
        draw_study_ways(touch, *view.one, next);
        return next;
    case StudyScreen::SketchPresent:
    case StudyScreen::SketchProposed:
        draw_study_sketch(touch, *view.one, place.screen == StudyScreen::SketchProposed, next);
        return next;
    case StudyScreen::List:
    case StudyScreen::One:
        break;
    }
    draw_study_one(touch, *view.one, next);
    return next;
}

} // namespace crossarm::ui
