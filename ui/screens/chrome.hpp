// What every screen has: the band on top, the heading, the notice, the way back.
#pragma once

#include "ui/look/marks.hpp"
#include "ui/screens/view.hpp"
#include "ui/touch/touch.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace crossarm::ui {

/// The band across the top. Without a visit at hand every structure is to be treated as live. While a party
/// works the key that stops the work stands in it, at the same place on every screen.
void draw_band(Touch& touch, const View& view, Wishes& wishes);
/// Structure, stage, what is kept: the head of a screen inside a visit.
void draw_visit_head(Touch& touch, const View& view);
/// The last refusal or problem with a way to where it can be mended; or that the last answer was kept.
/// `here` is the checkpoint or step already on the screen, which needs no way to it.
void draw_notice(Touch& touch, const View& view, Wishes& wishes, std::string_view here = {});
/// Who holds the tablet; touched, someone else takes over.
void draw_holder(Touch& touch, const View& view, Wishes& wishes);
/// The button that goes back.
void draw_back(Touch& touch, Wishes& wishes);

/// A finding's value in words: "47.5 kV", "Watch", "Dry", "Out of reach: ...".
[[nodiscard]] std::string value_text(const View& view, const model::Checkpoint* checkpoint,
                                     const model::Value& value);
/// The mark of what stands at a checkpoint; nothing when it was answered and carries no grade.
[[nodiscard]] std::optional<Mark> mark_at(const View& view, const std::string& checkpoint);
/// Words key of how far a bundle has come.
[[nodiscard]] std::string_view state_key(store::HandOver state);
/// The state of a visit in words: "kept on this tablet", "bundle written" ...
[[nodiscard]] std::string hand_over_text(const View& view, const RoundLine& line);

/// The way to a step of the permit (visit::permit::Step::id), or to the briefing ("brief").
[[nodiscard]] Place to_step(const View& view, const std::string& step);

/// A reason in words, with the names of people instead of their ids.
[[nodiscard]] std::string say_reason(const View& view, model::Phrase why);

/// Phrase shorthand: a words key with one filled place.
[[nodiscard]] std::string say(const View& view, std::string key,
                              std::vector<std::pair<std::string, model::Phrase::Value>> values = {});

} // namespace crossarm::ui
