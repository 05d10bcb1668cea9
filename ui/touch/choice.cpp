#include "ui/touch/choice.hpp"

#include "ui/touch/button.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/text.hpp"

#include <algorithm>
#include <cmath>

namespace crossarm::ui {
namespace {

ButtonLook look_of(const Option& option, bool is_chosen) {
    return {.emphasis = is_chosen ? Emphasis::Chosen : Emphasis::Plain,
            .why_disabled = option.why_disabled,
            .mark = option.mark,
            .second = option.second};
}

/// Width that holds the longest word of an option whole.
float least_width(const Touch& touch, const Option& option) {
    const Sizes& sizes = touch.sizes();
    const Fonts& fonts = touch.fonts();
    const float longest =
        std::max({longest_word(fonts, option.label, Weight::Bold), longest_word(fonts, option.second),
                  longest_word(fonts, option.why_disabled)});
    return longest + 2 * sizes.pad() + (option.mark ? sizes.mark() + sizes.pad() : 0);
}

} // namespace

std::optional<std::size_t> choice(Touch& touch, std::string_view name, std::span<const Option> options,
                                  std::optional<std::size_t> chosen, float least_width_mm) {
    if (options.empty()) {
        return std::nullopt;
    }
    const Sizes& sizes = touch.sizes();
    const float gap = sizes.gap();
    const float room = touch.width();
    float least = sizes.mm(least_width_mm);
    for (const Option& option : options) {
        least = std::max(least, least_width(touch, option));
    }
    const auto most = static_cast<std::size_t>(std::max(1.0F, std::floor((room + gap) / (least + gap))));
    const std::size_t rows = (options.size() + most - 1) / most;
    const std::size_t columns = (options.size() + rows - 1) / rows;
    const auto count = static_cast<float>(columns);
    const float width = std::floor((room - gap * (count - 1)) / count);

    const Scope scope(touch, name);
    std::optional<std::size_t> touched;
    for (std::size_t first = 0; first < options.size(); first += columns) {
        const std::size_t end = std::min(first + columns, options.size());
        float height = 0;
        for (std::size_t i = first; i < end; ++i) {
            height =
                std::max(height, button_height(touch, options[i].label, look_of(options[i], false), width));
        }
        const Rect line = touch.take(height);
        for (std::size_t i = first; i < end; ++i) {
            const float left = line.left + static_cast<float>(i - first) * (width + gap);
            const Rect rect{left, line.top, left + width, line.bottom};
            const Option& option = options[i];
            if (button_in(touch, option.name, rect, option.label, look_of(option, chosen == i), Kind::Choice)
                    .tapped) {
                touched = i;
            }
        }
    }
    return touched;
}

} // namespace crossarm::ui
