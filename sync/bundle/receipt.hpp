// The receipt as a file: sealed by the office, alone or within a day pack.
#pragma once

#include "checklist/model/json_reader.hpp"
#include "checklist/model/receipt.hpp"
#include "checklist/model/result.hpp"
#include "sync/bundle/sealed_json.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace crossarm::bundle {

/// One receipt speaks for all lives of a tablet: its bundles are numbered in one row through all of them.
[[nodiscard]] Sealed write_receipt(const model::Receipt& receipt, const seal::KeyPair& key,
                                   const std::optional<seal::Vouch>& vouch = std::nullopt);
struct ReadReceipt {
    model::Receipt receipt;
    std::string digest;
};
/// Problem (file, JSON pointer, remedy): cut, changed, not sealed by an office's key of `ring`, not
/// canonical, another shape.
[[nodiscard]] model::Result<ReadReceipt> read_receipt(std::string_view bytes, std::string_view file,
                                                      const seal::KeyRing& ring);

} // namespace crossarm::bundle
