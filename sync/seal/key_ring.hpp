// The public keys that one side knows, and whose they are.
#pragma once

#include "checklist/model/timestamp.hpp"
#include "sync/seal/keys.hpp"

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>

namespace crossarm::seal {

/// Whose a key is: one life of one tablet, or an office.
struct Owner {
    enum class Kind { Tablet, Office };
    Kind kind = Kind::Tablet;
    std::string name;      ///< the tablet's id, or the office's name
    std::int64_t life = 1; ///< of a tablet
    bool operator==(const Owner&) const = default;
};

struct RingKey {
    PublicKey key{};
    Owner owner;
    /// Set when the key is revoked: what it seals is refused, and the date is named.
    std::optional<model::Timestamp> revoked_from = std::nullopt;
};

class KeyRing {
public:
    void add(const RingKey& key) { keys_.insert_or_assign(key_id(key.key), key); }
    /// Null when no key has this id.
    [[nodiscard]] const RingKey* find(std::string_view id) const {
        const auto found = keys_.find(id);
        return found == keys_.end() ? nullptr : &found->second;
    }
    [[nodiscard]] bool empty() const { return keys_.empty(); }

private:
    std::map<std::string, RingKey, std::less<>> keys_;
};

} // namespace crossarm::seal
