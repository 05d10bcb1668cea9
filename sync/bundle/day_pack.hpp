// The day pack: what the office gives a tablet for its round.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/model/register.hpp"
#include "checklist/model/result.hpp"
#include "checklist/model/timestamp.hpp"
#include "sync/seal/frame.hpp"

#include <cstdint>
#include <optional>
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
    std::vector<std::string> receipts; ///< whole files, each sealed by itself (receipt.hpp)
};

/// The day pack as one sealed RFC 8785 file. Its seal introduces the office's key, with the word of the key
/// before it when the office has changed its key (seal/frame.hpp).
[[nodiscard]] std::string write_day_pack(const DayPack& pack, const seal::KeyPair& key,
                                         const std::optional<seal::Vouch>& vouch = std::nullopt);
/// Reads it when it was sealed by an office's key of `ring`. Problem (file, JSON pointer, remedy): cut,
/// changed, sealed by someone else, not canonical, not a day pack, unknown structure in `due`, a duplicate
/// id.
[[nodiscard]] model::Result<DayPack> read_day_pack(std::string_view bytes, std::string_view file,
                                                   const seal::KeyRing& ring);

} // namespace crossarm::bundle
