// The chain of hashes: every entry names the one before it in its visit on its device.
#pragma once

#include "checklist/model/entry.hpp"
#include "checklist/model/result.hpp"

#include <cstdint>
#include <string>

namespace crossarm::store {

/// An entry as the table has it.
struct Row {
    model::Id id;
    model::Id visit;
    std::string device;
    std::int64_t seq = 0;
    std::string text; ///< canonical
    std::string hash; ///< of `text`, hexadecimal
};

/// Takes rows by visit, device and sequence, and checks each: hash of the text, sequence without gap from 1,
/// link to the one before, columns that repeat the text.
class Chain {
public:
    /// `store` is the file's name, for Problems.
    explicit Chain(std::string store) : store_(std::move(store)) {}
    /// The entry that the text says, or where the chain is broken.
    [[nodiscard]] model::Result<model::Entry> follow(const Row& row);

private:
    std::string store_;
    model::Id visit_;
    std::string device_;
    std::int64_t seq_ = 0;
    std::string hash_;
};

} // namespace crossarm::store
