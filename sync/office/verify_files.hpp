// What can be said of a sealed file without taking it in.
#pragma once

#include "checklist/model/result.hpp"
#include "checklist/model/timestamp.hpp"
#include "sync/office/office_store.hpp"
#include "sync/seal/key_ring.hpp"

#include <string>

namespace crossarm::office {

/// The keys that an office knows.
struct Keys {
    seal::KeyRing tablets;
    seal::KeyRing office;
};
[[nodiscard]] model::Result<Keys> keys_of(const OfficeStore& store, model::Timestamp now);

/// One line that says what the file is. Without keys it is only looked at for whether it is whole: frame and
/// digest, and the line says that nobody's key was asked for.
[[nodiscard]] model::Result<std::string> verify_file(const std::string& file, const Keys* keys);

} // namespace crossarm::office
