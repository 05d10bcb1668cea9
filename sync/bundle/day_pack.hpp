// The day pack: what the office gives a tablet for its round.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/model/register.hpp"
#include "checklist/model/result.hpp"
#include "checklist/model/timestamp.hpp"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::bundle {

struct DayPack {
    std::int64_t number = 1; ///< never goes down
    std::string office;
    model::Timestamp made_at;
    model::Register reg;
    std::vector<model::LimitSet> limits; ///< the utility's own sets; added to the built-in ones
    std::vector<std::pair<std::string, std::string>> chosen_limits; ///< subject -> set id
};

/// The day pack as one sealed RFC 8785 file: {"body":{...},"seal":{...}}. The seal carries the digest; key
/// and signature stay empty until identities exist.
[[nodiscard]] std::string write_day_pack(const DayPack& pack);
/// Reads it. Problem (file, JSON pointer, remedy): cut, changed, not canonical, not a day pack, unknown
/// structure in `due`, a duplicate id.
[[nodiscard]] model::Result<DayPack> read_day_pack(std::string_view bytes, std::string_view file);

} // namespace crossarm::bundle
