// A value, or what is wrong with the input: where, what, and the remedy.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <variant>

namespace crossarm::model {

/// What is wrong with something that came from outside (a file, a disk, a person).
/// All three are whole English phrases for the person who has to mend it.
struct Problem {
    std::string where;  ///< file and place: "register.csv:12", "pack.json: /body/due/3/structure"
    std::string what;   ///< what is wrong: "rating 1O0 is not a number"
    std::string remedy; ///< what to do: "write the rating in kVA, for example 100"

    bool operator==(const Problem&) const = default;
};

/// "where: what; remedy" on one line.
[[nodiscard]] std::string to_text(const Problem& problem);

/// Value of T, or Problem. Never empty. Asking for the side that is not there is a bug and stops.
template<typename T>
class [[nodiscard]] Result {
public:
    Result(T value) : held_(std::in_place_index<0>, std::move(value)) {}
    Result(Problem problem) : held_(std::in_place_index<1>, std::move(problem)) {}

    [[nodiscard]] bool ok() const { return held_.index() == 0; }
    explicit operator bool() const { return ok(); }

    [[nodiscard]] T& value() & { return std::get<0>(held_); }
    [[nodiscard]] const T& value() const& { return std::get<0>(held_); }
    [[nodiscard]] T&& value() && { return std::get<0>(std::move(held_)); }
    [[nodiscard]] const Problem& problem() const { return std::get<1>(held_); }

    T& operator*() & { return value(); }
    const T& operator*() const& { return value(); }
    T* operator->() { return &value(); }
    const T* operator->() const { return &value(); }

private:
    std::variant<T, Problem> held_;
};

/// Done, or Problem.
class [[nodiscard]] Done {
public:
    Done() = default;
    Done(Problem problem) : problem_(std::move(problem)) {}

    [[nodiscard]] bool ok() const { return !problem_; }
    explicit operator bool() const { return ok(); }
    [[nodiscard]] const Problem& problem() const { return *problem_; }

private:
    std::optional<Problem> problem_;
};

/// Stops the program with `sentence` when `condition` is false, also in release builds.
/// For our own bugs only; never for input.
void require(bool condition, const char* sentence);

} // namespace crossarm::model
