// What cannot be read or touched in a frame: words cut, things out of the glass, small or on one another.
#pragma once

#include "tests/support/still_platform.hpp"
#include "ui/touch/item_log.hpp"

#include <string>
#include <vector>

namespace crossarm::tests {

/// What is wrong with the frame that is shown, a sentence each.
inline std::vector<std::string> wrong_with(const std::vector<ui::Item>& items, const Glass& glass,
                                           bool glove) {
    const float px = glass.px_per_mm;
    const float least = (glove ? 20.0F : 15.0F) * px - 1.01F;
    std::vector<std::string> wrong;
    for (std::size_t i = 0; i < items.size(); ++i) {
        const ui::Item& a = items[i];
        const bool touched = ui::touchable(a.kind);
        if (a.cut()) {
            wrong.push_back(a.path + (a.word_broken ? " breaks a word: " : " is cut: ") + a.text);
        }
        if (a.rect.left < -1 || a.rect.right > static_cast<float>(glass.width_px) + 1) {
            wrong.push_back(a.path + " runs out of the glass");
        }
        if (touched && (a.rect.width() < least || a.rect.height() < (a.grave ? 24 * px - 1.01F : least))) {
            wrong.push_back(a.path + " is small");
        }
        if (touched && !a.enabled && a.why_disabled.empty()) {
            wrong.push_back(a.path + " does not say why it cannot be touched");
        }
        if (a.kind == ui::Kind::Scroll && a.rect.height() < least) {
            wrong.push_back(a.path + " shows less than one target");
        }
        for (std::size_t j = i + 1; touched && j < items.size(); ++j) {
            const ui::Item& other = items[j];
            const ui::Rect both = ui::common(a.visible(), other.visible());
            if (ui::touchable(other.kind) && both.width() > 1 && both.height() > 1) {
                wrong.push_back(a.path + " lies over " + other.path);
            }
        }
    }
    return wrong;
}

} // namespace crossarm::tests
