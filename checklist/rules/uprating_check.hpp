// Small parts that the checks of an uprating study share: pass, marginal, fail.
#pragma once

#include "checklist/rules/answer.hpp"

#include <string_view>
#include <utility>

namespace crossarm::rules {

/// A check that passes, until `marginal` or `fails` says otherwise. Sound stands for pass, Watch for
/// marginal, Repair for fail.
[[nodiscard]] inline model::Verdict passes(std::string_view subject, model::Source source,
                                           model::Phrase because) {
    model::Verdict v;
    v.subject = subject;
    v.source = std::move(source);
    v.because = std::move(because);
    return v;
}

/// It holds, but with little to spare or by a rule that a person has to confirm.
inline void marginal(model::Verdict& v, model::Phrase because, model::Phrase mend) {
    grade_as(v, model::Grade::Watch, model::When::AtNextVisit, std::move(because), std::move(mend));
}

/// It does not hold; `mend` says what would make it hold.
inline void fails(model::Verdict& v, model::Phrase because, model::Phrase mend) {
    grade_as(v, model::Grade::Repair, model::When::Within30Days, std::move(because), std::move(mend));
}

[[nodiscard]] inline model::Quantity ampere(double x) {
    return {x, model::Unit::Ampere};
}
[[nodiscard]] inline model::Quantity kilo_ampere(double x) {
    return {x, model::Unit::KiloAmpere};
}
[[nodiscard]] inline model::Quantity kilo_volt_ampere(double x) {
    return {x, model::Unit::KilovoltAmpere};
}
[[nodiscard]] inline model::Quantity percent(double x) {
    return {x, model::Unit::Percent};
}
[[nodiscard]] inline model::Quantity square_mm(double x) {
    return {x, model::Unit::SquareMillimetre};
}
[[nodiscard]] inline model::Quantity count(double x) {
    return {x, model::Unit::One};
}

} // namespace crossarm::rules
