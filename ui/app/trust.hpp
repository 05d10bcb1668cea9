// What a tablet and its office know of each other: keys compared by people, day packs and receipts by those
// keys.
#pragma once

#include "checklist/model/result.hpp"
#include "checklist/store/store.hpp"
#include "sync/bundle/day_pack.hpp"
#include "sync/seal/frame.hpp"

#include <string>

namespace crossarm::ui {

/// The office's fingerprint as a person typed it who had it read out by the office, and who that was. Empty
/// when nobody did.
struct Compared {
    std::string fingerprint;
    std::string by;
};

/// The offices' keys that the tablet trusts.
[[nodiscard]] seal::KeyRing pinned_keys(const store::Store& store);

/// Pins the key that a day pack or receipt introduces, when it is not pinned yet and either a pinned key
/// vouches for it or `compared` are its digits. Problem otherwise: the key is not trusted.
[[nodiscard]] model::Done meet_office(store::Store& store, std::string_view bytes, const std::string& file,
                                      seal::Kind kind, const Compared& compared, model::Timestamp now);

/// Loads a day pack file: meets the office, checks the seal, keeps it, takes the receipts in it that are for
/// this tablet. One that is in the store already is no news; an older one than that is refused.
[[nodiscard]] model::Done load_day_pack(store::Store& store, const std::string& path,
                                        const Compared& compared, model::Timestamp now);
/// Loads a receipt file. Returns a sentence of what is new.
[[nodiscard]] model::Result<std::string> load_receipt(store::Store& store, const std::string& path,
                                                      const Compared& compared, model::Timestamp now);

/// Writes the file that introduces this tablet to the office. Returns the fingerprint to read out.
[[nodiscard]] model::Result<std::string> write_enrolment_file(const store::Store& store,
                                                              const std::string& path, model::Timestamp now);

} // namespace crossarm::ui
