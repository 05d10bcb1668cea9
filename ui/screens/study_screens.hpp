// The screens of the uprating study, one by one, and what they share.
#pragma once

#include "ui/look/marks.hpp"
#include "ui/screens/study_view.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace crossarm::ui {

using NextPlace = std::optional<StudyPlace>;

void draw_study_list(Touch& touch, const StudyView& view, NextPlace& next);
void draw_study_one(Touch& touch, const StudyOne& one, NextPlace& next);
void draw_study_check(Touch& touch, const StudyOne& one, const rules::StudyCheck& check, NextPlace& next);
void draw_study_ways(Touch& touch, const StudyOne& one, NextPlace& next);
void draw_study_sketch(Touch& touch, const StudyOne& one, bool proposed, NextPlace& next);

/// Draws a single-line sketch as wide as the room; logged as one text.
void draw_sketch(Touch& touch, const rules::Sketch& sketch);

/// The head of every screen here: a study on paper, and who decides.
void draw_study_head(Touch& touch);
/// How a check ended: its mark and its word.
struct CheckEnd {
    Mark mark = Mark::Unseen;
    std::string word;
};
/// Nothing: no verdict.
[[nodiscard]] CheckEnd end_of(const Touch& touch, std::optional<model::Grade> grade);
[[nodiscard]] CheckEnd end_of(const Touch& touch, const rules::Outcome& outcome);
/// A sentence with filled places.
[[nodiscard]] std::string say(const Touch& touch, const char* key,
                              std::vector<std::pair<std::string, model::Phrase::Value>> values);

} // namespace crossarm::ui
