// What the screens of the uprating study read, and where the person is among them.
#pragma once

#include "checklist/rules/uprating_sketch.hpp"
#include "checklist/rules/uprating_study.hpp"
#include "ui/touch/touch.hpp"

#include <optional>
#include <string>
#include <vector>

namespace crossarm::ui {

/// One structure of the ranking.
struct StudyLine {
    std::string structure;
    std::string name;
    std::string feeder;
    double present_kVA = 0.0;
    std::optional<double> proposed_kVA; ///< the present rating when nothing larger is needed
    bool uprate = false;
    std::optional<model::Grade> worst; ///< of its checks; nothing when none has a verdict
    rules::Urgency urgency;
};

/// The structure that is looked at.
struct StudyOne {
    std::string structure;
    std::string name;
    std::vector<std::string> summary; ///< the study in short, a sentence each
    rules::Study study;
    rules::Sketch present;
    rules::Sketch proposed;
};

enum class StudyScreen { List, One, Check, Ways, SketchPresent, SketchProposed };

struct StudyPlace {
    StudyScreen screen = StudyScreen::List;
    std::string structure; ///< empty on the list
    std::string check;     ///< StudyCheck::name on the screen of a check
};

struct StudyView {
    const std::vector<StudyLine>& lines; ///< the most urgent first
    const StudyOne* one = nullptr;       ///< null on the list
    int years = 10;                      ///< to the horizon
};

/// Draws the screen of `place`; where the finger wishes to go, if anywhere. A check that
/// is not there shows its structure.
[[nodiscard]] std::optional<StudyPlace> draw_study(Touch& touch, const StudyView& view,
                                                   const StudyPlace& place);

} // namespace crossarm::ui
