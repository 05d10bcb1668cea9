// The office of the simulation: a real store and a folder that files arrive in, faults included.
#pragma once

#include "sync/office/intake.hpp"
#include "sync/seal/key_ring.hpp"
#include "tests/faults/faulty_disk.hpp"
#include "tests/support/faulty_files.hpp"
#include "tests/support/temp_store.hpp"

#include <random>
#include <set>
#include <string>
#include <vector>

namespace crossarm::tests {

class SimOffice {
public:
    SimOffice(const std::string& folder, FaultyDisk& disk, FaultyFiles& files, std::mt19937& dice);

    /// Makes a key known, as after people compared its fingerprint. False when this life has another key:
    /// then the tablet has to begin another.
    [[nodiscard]] bool enrol(const std::string& device, std::int64_t life, const seal::PublicKey& key);
    void enrol_as(SimOffice& other);
    void arrive(const std::string& bytes, const std::string& ending = ".json");
    /// Takes in what is there. The power may go off meanwhile; then it is repeated another time.
    void take_in(bool cut_power);
    void take_in_again();
    [[nodiscard]] std::string receipt_for(const std::string& device);
    [[nodiscard]] seal::KeyRing ring();

    [[nodiscard]] std::string dump();
    /// Digests of all bundles with their bytes.
    [[nodiscard]] std::vector<std::pair<std::string, std::string>> bundles();
    /// Hashes of all entries, each checked to be there once.
    [[nodiscard]] std::set<std::string> entries();
    [[nodiscard]] std::size_t forks();
    [[nodiscard]] std::size_t held();
    /// Why, for people who look at a seed that failed.
    [[nodiscard]] std::string reasons();

private:
    [[nodiscard]] office::OfficeStore open();

    std::string in_;
    std::string path_;
    FaultyDisk& disk_;
    FaultyFiles& files_;
    std::mt19937& dice_;
    int arrived_ = 0;
};

} // namespace crossarm::tests
