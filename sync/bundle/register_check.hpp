// What must hold across the whole register: ids unique, and every reference to a structure that is there.
#pragma once

#include "checklist/model/register.hpp"
#include "checklist/model/result.hpp"

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

namespace crossarm::bundle {

/// Everything wrong, in the order of the register. `place(list, row)` names a row for the Problem: list is
/// "structures", "people", "due" or "earlier", row counts from 0.
[[nodiscard]] std::vector<model::Problem>
check_register(const model::Register& reg,
               const std::function<std::string(const char* list, std::size_t row)>& place);

} // namespace crossarm::bundle
