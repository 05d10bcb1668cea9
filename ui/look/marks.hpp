// The marks of grades and of what has no grade: seven silhouettes, drawn, never typed.
#pragma once

#include "checklist/model/grade.hpp"
#include "ui/look/theme.hpp"

#include <string_view>

struct ImDrawList;

namespace crossarm::ui {

enum class Mark { Sound, Watch, Repair, Danger, Unseen, OutOfReach, NotFitted };

[[nodiscard]] Mark mark_of(model::Grade grade);
/// Key of the mark's word: "grade.sound" ... "mark.unseen" "mark.out_of_reach" "mark.not_fitted".
[[nodiscard]] std::string_view word_key(Mark mark);

/// Draws `mark` in the square of side `side` px round (x, y), outline `outline` px thick and inside it.
/// On the structure drawing `side` is at least 6 mm. The word stands beside it, never on it.
void draw_mark(ImDrawList& list, const Theme& theme, Mark mark, float x, float y, float side, float outline);

} // namespace crossarm::ui
