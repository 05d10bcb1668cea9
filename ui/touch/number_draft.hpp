// A number while it is being typed: refuses what cannot be part of one, and says so.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace crossarm::ui {

/// What the number must be like. Ranges are in the unit shown.
struct NumberLimits {
    int decimals = 3;                               ///< digits allowed behind the point, 0 for whole numbers
    int digits = 6;                                 ///< digits allowed in all
    bool negative = false;                          ///< may be below zero
    std::optional<double> hard_low = std::nullopt;  ///< below: impossible, cannot be kept
    std::optional<double> hard_high = std::nullopt; ///< above: the same
    std::optional<double> usual_low = std::nullopt; ///< below: asks
    std::optional<double> usual_high = std::nullopt;
    std::optional<double> previous = std::nullopt; ///< last reading here: about ten times it or a tenth asks
};

/// A half-typed number. `text` holds digits, '.', and a leading '-' only, always a possible beginning.
struct NumberDraft {
    NumberLimits limits;
    std::string text;
    std::string
        notice; ///< words key of the last refusal, "pad.second_point"; empty when the last key was taken

    // Shown beside the number; whole sentences from the screen.
    std::string title;         ///< what is measured
    std::string unit;          ///< fixed, never typed
    std::string previous_line; ///< "Last time 47.5 kV, 12 Mar 2025"
    std::string usual_line;    ///< "Usual: 20 to 60 kV"
    std::string verdict_line;  ///< the live verdict, may be empty
};

/// Takes one key: '0'..'9', '.', '-' (turns the sign), '<' (deletes the last), 'C' (clears). False when
/// refused: the text stays as it is and `notice` says why. ".5" becomes "0.5"; "00" and "07" are refused.
bool type(NumberDraft& draft, char key);

enum class NumberState {
    Empty,      ///< nothing typed
    Unfinished, ///< "-", "5.", "-0": not a number yet
    Impossible, ///< outside the hard range: must not be kept
    Tenfold,    ///< 8 to 12.5 times the last reading, or the inverse: ask about the point
    Unusual,    ///< outside the usual range: ask for a reason
    Fine
};

struct NumberCheck {
    NumberState state = NumberState::Empty;
    double value = 0; ///< meaningful for Impossible, Tenfold, Unusual, Fine
};

[[nodiscard]] NumberCheck check(const NumberDraft& draft);
/// The number when it may be kept (Tenfold, Unusual, Fine), else nothing. Exact text to double by from_chars.
[[nodiscard]] std::optional<double> number(const NumberDraft& draft);

/// The shortest text of a number, without exponent: "47.5".
[[nodiscard]] std::string plain_number(double value);

/// A draft that shows `value`, with no more decimals than it needs.
void set_number(NumberDraft& draft, double value);

} // namespace crossarm::ui
