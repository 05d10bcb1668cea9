#include "ui/touch/pin_draft.hpp"

namespace crossarm::ui {
namespace {

void overwrite(char* begin, std::size_t size) {
    volatile char* at = begin; // a plain fill of what is never read again may be left out by the compiler
    for (std::size_t i = 0; i < size; ++i) {
        at[i] = 0;
    }
}

} // namespace

bool PinDraft::type(char digit) {
    if (count_ >= kMost || digit < '0' || digit > '9') {
        return false;
    }
    digits_[count_++] = digit;
    return true;
}

void PinDraft::wipe() {
    overwrite(digits_.data(), digits_.size());
    count_ = 0;
}

std::string PinDraft::take() {
    std::string taken(digits_.data(), count_);
    wipe();
    return taken;
}

void wipe(std::string& secret) {
    overwrite(secret.data(), secret.size());
    secret.clear();
}

} // namespace crossarm::ui
