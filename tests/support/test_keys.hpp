// Keys for tests: the same in every run, made from names.
#pragma once

#include "checklist/model/digest.hpp"
#include "sync/seal/frame.hpp"

#include <cstdint>
#include <string>

namespace crossarm::tests {

inline seal::KeyPair key_named(const std::string& name) {
    return seal::KeyPair::from_seed(model::sha256("a test's key: " + name));
}

/// The key of one life of a tablet.
inline seal::KeyPair key_of(const std::string& device, std::int64_t life = 1) {
    return key_named(device + " " + std::to_string(life));
}

inline const seal::KeyPair& office_key() {
    static const seal::KeyPair key = key_named("office");
    return key;
}

/// Knows the first life of one tablet.
inline seal::KeyRing ring_of(const std::string& device, std::int64_t life = 1) {
    seal::KeyRing ring;
    ring.add({key_of(device, life).public_key(), {seal::Owner::Kind::Tablet, device, life}});
    return ring;
}

/// Knows the office.
inline const seal::KeyRing& office_ring() {
    static const seal::KeyRing ring = [] {
        seal::KeyRing made;
        made.add(
            {office_key().public_key(), {seal::Owner::Kind::Office, "Quillmere Valley Power Cooperative"}});
        return made;
    }();
    return ring;
}

} // namespace crossarm::tests
