// Files that can fail: every write, sync and new name of our own code goes through here (the linker wraps
// the calls), so that a test can fill the disk, break it or cut the power at the n-th of them.
#pragma once

#include <cstdint>
#include <functional>
#include <random>
#include <string>

namespace crossarm::tests {

class FaultyFiles {
public:
    enum class Fails { Once, Forever };

    FaultyFiles();
    FaultyFiles(const FaultyFiles&) = delete;
    FaultyFiles& operator=(const FaultyFiles&) = delete;
    ~FaultyFiles();

    /// The `nth` operation from now on (from 1) fails with `error` (ENOSPC, EIO), and those after it when for
    /// ever. A write that fails leaves half of its bytes.
    void fail(std::int64_t nth, int error, Fails fails);
    /// Another part of the machine that can lose its power: when it has, nothing works here either.
    void together_with(std::function<bool()> power_is_off);
    [[nodiscard]] bool has_failed() const;
    void heal();
    /// Ends all faults and leaves what a power cut would have left: files that were not synced are cut
    /// somewhere, new names in folders that were not synced are there or not.
    void power_comes_back(std::mt19937& dice);
};

} // namespace crossarm::tests
