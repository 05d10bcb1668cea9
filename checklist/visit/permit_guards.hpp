// The guards by subject, and what each guard asks of an act.
#pragma once

#include "checklist/visit/permit.hpp"

#include <span>
#include <variant>

namespace crossarm::visit::permit {

namespace acts = model::permit;
using MayRefuse = std::optional<Refusal>;

[[nodiscard]] std::span<const Guard> general_guards();
[[nodiscard]] std::span<const Guard> isolation_guards();
[[nodiscard]] std::span<const Guard> earth_guards();
[[nodiscard]] std::span<const Guard> holding_guards();
[[nodiscard]] std::span<const Guard> people_guards();
[[nodiscard]] std::span<const Guard> ending_guards();
[[nodiscard]] std::span<const Guard> signing_guards();

/// The act when it is one of that type; null otherwise.
template<typename One>
[[nodiscard]] const One* as(const Wished& w) {
    return std::get_if<One>(&w.act);
}
template<typename... Ones>
[[nodiscard]] bool is_one_of(const Wished& w) {
    return (std::holds_alternative<Ones>(w.act) || ...);
}

} // namespace crossarm::visit::permit
