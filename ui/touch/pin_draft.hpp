// A PIN while it is being typed: held in one place, shown nowhere, wiped when done with.
#pragma once

#include <array>
#include <cstddef>
#include <string>

namespace crossarm::ui {

class PinDraft {
public:
    static constexpr std::size_t kMost = 12; ///< digits

    PinDraft() = default;
    ~PinDraft() { wipe(); }
    PinDraft(const PinDraft&) = delete; // no second copy lies about
    PinDraft& operator=(const PinDraft&) = delete;

    std::size_t least = 4; ///< fewer digits are not done
    std::string title;     ///< whose PIN, and what for
    std::string notice;    ///< a whole sentence about the last try ("Wrong PIN. Wait 4 s."); empty when none

    /// Takes a digit. False when kMost are there already, or it is none.
    bool type(char digit);
    /// Overwrites the digits; title and notice stay.
    void wipe();
    [[nodiscard]] std::size_t count() const { return count_; }
    [[nodiscard]] bool enough() const { return count_ >= least; }
    /// The digits, which are wiped here. Whoever takes them wipes them too.
    [[nodiscard]] std::string take();

private:
    std::array<char, kMost> digits_{};
    std::size_t count_ = 0;
};

/// Overwrites a text before it is let go.
void wipe(std::string& secret);

} // namespace crossarm::ui
