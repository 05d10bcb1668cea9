// The office, with a folder for what comes in, tablets that it knows, and bundles to put there.
#pragma once

#include "checklist/model/digest.hpp"
#include "sync/bundle/bundle.hpp"
#include "sync/bundle/sealed_json.hpp"
#include "sync/office/intake.hpp"
#include "sync/office/office_keys.hpp"
#include "sync/office/office_store.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/sample_visit.hpp"
#include "tests/support/temp_store.hpp"

#include <nlohmann/json.hpp>

#include <filesystem>
#include <string>

namespace crossarm::tests {

constexpr model::Timestamp kOfficeNow{1'773'500'000'000, 60};

/// The key of one life of a sample tablet: it follows from its name.
inline seal::KeyPair desk_key(const std::string& device, std::int64_t life = 1) {
    return seal::KeyPair::from_seed(model::sha256("key of " + device + " " + std::to_string(life)));
}
/// A bundle sealed by the tablet that it names.
inline bundle::Sealed sealed(const bundle::Bundle& made) {
    return bundle::write_bundle(made, desk_key(made.device, made.life));
}
inline bundle::Sealed sealed_sample(unsigned seed) {
    return sealed(sample_bundle(seed));
}
/// Any body in the seal of sample tablet 1.
inline std::string sealed_body(const nlohmann::json& body) {
    return bundle::seal_json(body, seal::Kind::Bundle, desk_key(sample_device(1))).bytes;
}
/// Makes the tablet known at the office.
inline void pin(const office::OfficeStore& store, const std::string& device, std::int64_t life = 1) {
    const auto pinned =
        office::pin_tablet(store, {device, life, desk_key(device, life).public_key(), "P-001", kOfficeNow});
    INFO((pinned ? "" : model::to_text(pinned.problem())));
    REQUIRE(pinned.ok());
}

struct OfficeDesk {
    static constexpr unsigned kTablets = 4;
    TempFolder folder;
    std::string in = folder.file("in");
    std::string path = std::filesystem::canonical(folder.path()).string() + "/office.store";

    OfficeDesk() { std::filesystem::create_directory(in); }
    void put(const std::string& name, const std::string& bytes) const { write_file(in + "/" + name, bytes); }
    void empty() const {
        std::filesystem::remove_all(in);
        std::filesystem::create_directory(in);
    }
    [[nodiscard]] office::OfficeStore open() const {
        auto store = office::OfficeStore::open(path, office::OfficeStore::Make::Yes);
        INFO((store ? "" : model::to_text(store.problem())));
        REQUIRE(store.ok());
        for (unsigned tablet = 0; tablet < kTablets; ++tablet) {
            pin(*store, sample_device(tablet));
        }
        return std::move(store).value();
    }
    [[nodiscard]] office::Intake take_in(office::OfficeStore& store, bool move = false) const {
        auto intake = office::take_in(store, in, kOfficeNow, {move, nullptr});
        INFO((intake ? "" : model::to_text(intake.problem())));
        REQUIRE(intake.ok());
        return std::move(intake).value();
    }
};

} // namespace crossarm::tests
