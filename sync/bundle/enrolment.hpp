// The enrolment: how a tablet introduces its key to the office.
#pragma once

#include "checklist/model/result.hpp"
#include "checklist/model/timestamp.hpp"
#include "sync/bundle/sealed_json.hpp"

#include <cstdint>
#include <string>
#include <string_view>

namespace crossarm::bundle {

struct Enrolment {
    std::string device;
    std::int64_t life = 1;
    model::Timestamp made_at;
};

/// A small file sealed by the key that it introduces: whoever made it holds that key.
[[nodiscard]] Sealed write_enrolment(const Enrolment& enrolment, const seal::KeyPair& key);

struct ReadEnrolment {
    Enrolment enrolment;
    seal::PublicKey key{};
};
/// What the file says of itself. It proves possession of the key, not whose tablet it is: the fingerprint
/// must be compared with the one on the tablet's screen before the key is pinned.
[[nodiscard]] model::Result<ReadEnrolment> read_enrolment(std::string_view bytes, std::string_view file);

} // namespace crossarm::bundle
