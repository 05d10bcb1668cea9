#include "ui/touch/picker.hpp"

#include "ui/touch/button.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/scroll_area.hpp"

namespace crossarm::ui {

std::optional<std::size_t> picker(Touch& touch, std::string_view name, std::span<const Option> options,
                                  std::optional<std::size_t> chosen) {
    const ScrollArea area(touch, name);
    // As wide as the room: one column, in the order given.
    return choice(touch, name, options, chosen, touch.width() / touch.sizes().px_per_mm - 1);
}

} // namespace crossarm::ui
