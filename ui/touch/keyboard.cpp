#include "ui/touch/keyboard.hpp"

#include "ui/touch/button.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/text.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

namespace crossarm::ui {
namespace {

constexpr std::string_view kRows[] = {"qwertyuiop", "asdfghjkl", "zxcvbnm"};
constexpr std::string_view kAlphabet = "abcdefghijklmnopqrstuvwxyz";
constexpr std::string_view kSigns = "1234567890.,-/():?+%";

void show_text(Touch& touch, const TextDraft& draft) {
    const Sizes& sizes = touch.sizes();
    const float width = touch.width() - 2 * sizes.pad();
    const std::string shown = draft.text + "_";
    const Lines lines = lay_out(touch.fonts(), shown, width, Letter::Value);
    const Rect rect = touch.take(lines.height + 2 * sizes.pad());
    const float line = sizes.line();
    touch.list().AddRect({rect.left + line / 2, rect.top + line / 2},
                         {rect.right - line / 2, rect.bottom - line / 2}, touch.theme()(Role::Edge), 0, 0,
                         line);
    draw_lines(touch, lines, rect.shrunk(sizes.pad()), touch.theme()(Role::Words), Letter::Value,
               Weight::Regular);
    Item item;
    item.path = touch.path("value");
    item.kind = Kind::Field;
    item.rect = rect;
    item.text = draft.text;
    item.label_width = lines.width;
    item.label_height = lines.height;
    item.label_room_width = width;
    item.label_room_height = rect.height();
    touch.put(std::move(item), Touch::Reacts::No); // a long word without spaces may be broken here
}

void press_key(Touch& touch, TextDraft& draft, const Rect& rect, char character) {
    const char label = draft.capitals && character >= 'a' && character <= 'z'
                           ? static_cast<char>(character - 'a' + 'A')
                           : character;
    const std::string name = std::string("key/") + character;
    const Touch::Press press =
        button_in(touch, name, rect, std::string_view(&label, 1), {.letter = Letter::Value}, Kind::Key);
    if (press.tapped) {
        type(draft, character);
    } else if (press.again) {
        draft.notice = "pad.twice";
    }
}

/// One line of keys of equal width, in the middle of `columns` columns.
void key_line(Touch& touch, TextDraft& draft, std::string_view keys, std::size_t columns) {
    const float gap = touch.sizes().gap();
    const Rect line = touch.take(touch.sizes().target());
    const auto count = static_cast<float>(columns);
    const float width = std::floor((line.width() - gap * (count - 1)) / count);
    float left = line.left + std::floor((count - static_cast<float>(keys.size())) * (width + gap) / 2);
    for (const char key : keys) {
        press_key(touch, draft, {left, line.top, left + width, line.bottom}, key);
        left += width + gap;
    }
}

/// A key that does more than add a character.
struct Act {
    const char* name;
    std::string words;
    ButtonLook look;
};

/// Keys in equally wide columns, in as few lines as their words allow.
struct Acts {
    std::vector<Act> keys;
    std::string why; ///< why nothing can be kept yet
    std::size_t columns = 1;
    float width = 0;
    [[nodiscard]] std::size_t lines() const { return (keys.size() + columns - 1) / columns; }
};

Acts lay_out_acts(Touch& touch, const TextDraft& draft, bool paged) {
    Acts acts;
    acts.why = draft.text.empty() ? touch.say("keyboard.empty") : std::string();
    acts.keys.push_back({"shift",
                         touch.say("keyboard.capitals"),
                         {.emphasis = draft.capitals ? Emphasis::Chosen : Emphasis::Plain}});
    acts.keys.push_back({"digits", touch.say(draft.digits ? "keyboard.letters" : "keyboard.digits"), {}});
    if (paged) {
        acts.keys.push_back({"page", touch.say("keyboard.more"), {}});
    }
    acts.keys.push_back({"delete", touch.say("pad.delete"), {}});
    acts.keys.push_back({"space", touch.say("keyboard.space"), {}});
    acts.keys.push_back({"keep", touch.say("pad.keep"), {.emphasis = Emphasis::Main}});

    const float gap = touch.sizes().gap();
    float least = touch.sizes().target();
    for (const Act& act : acts.keys) {
        const Lines words = lay_out(touch.fonts(), act.words, 1e6F, Letter::Body, Weight::Bold);
        least = std::max(least, std::ceil(words.width) + 2 * touch.sizes().pad());
    }
    const auto most =
        static_cast<std::size_t>(std::max(1.0F, std::floor((touch.width() + gap) / (least + gap))));
    const std::size_t lines = (acts.keys.size() + most - 1) / most;
    acts.columns = (acts.keys.size() + lines - 1) / lines;
    const auto count = static_cast<float>(acts.columns);
    acts.width = std::floor((touch.width() - gap * (count - 1)) / count);
    return acts;
}

/// The lines of characters that are shown, and in how many pages they come.
struct Layout {
    std::vector<std::string_view> lines;
    std::size_t columns = 0;
    std::size_t pages = 1;
};

Layout lay_out_keys(Touch& touch, TextDraft& draft) {
    const float gap = touch.sizes().gap();
    const float pitch = touch.sizes().target() + gap;
    const auto fitting = [&](float length) {
        return static_cast<std::size_t>(std::max(1.0F, std::floor((length + gap) / pitch)));
    };
    const auto room_beside = [&](bool paged) {
        const auto acts = static_cast<float>(lay_out_acts(touch, draft, paged).lines());
        return std::max<std::size_t>(2, fitting(touch.height_in_sight() - acts * pitch));
    };
    Layout layout;
    layout.columns = std::min<std::size_t>(10, fitting(touch.width()));
    if (!draft.digits && layout.columns == 10 && room_beside(/*paged=*/false) >= std::size(kRows)) {
        layout.lines.assign(std::begin(kRows), std::end(kRows));
        draft.page = 0;
        return layout;
    }
    const std::string_view all = draft.digits ? kSigns : kAlphabet;
    const std::size_t lines = (all.size() + layout.columns - 1) / layout.columns;
    if (lines > room_beside(/*paged=*/false)) {
        const std::size_t rows = room_beside(/*paged=*/true);
        layout.pages = (lines + rows - 1) / rows;
    }
    const std::size_t lines_a_page = (lines + layout.pages - 1) / layout.pages;
    draft.page = std::min(draft.page, layout.pages - 1);
    const std::size_t first = draft.page * lines_a_page;
    for (std::size_t line = first; line < std::min(lines, first + lines_a_page); ++line) {
        layout.lines.push_back(all.substr(line * layout.columns, layout.columns));
    }
    return layout;
}

/// Draws the acts and does them; true when the text is to be kept.
bool show_acts(Touch& touch, TextDraft& draft, std::size_t pages) {
    Acts acts = lay_out_acts(touch, draft, /*paged=*/pages > 1);
    acts.keys.back().look.why_disabled = acts.why;
    const float gap = touch.sizes().gap();
    bool keep = false;
    Rect line;
    for (std::size_t i = 0; i < acts.keys.size(); ++i) {
        const Act& act = acts.keys[i];
        if (i % acts.columns == 0) {
            float height = 0;
            for (std::size_t j = i; j < std::min(i + acts.columns, acts.keys.size()); ++j) {
                height =
                    std::max(height, button_height(touch, acts.keys[j].words, acts.keys[j].look, acts.width));
            }
            line = touch.take(height);
        }
        const float left = line.left + static_cast<float>(i % acts.columns) * (acts.width + gap);
        const std::string_view name = act.name;
        const Kind kind = name == "keep" ? Kind::Button : Kind::Key;
        const Touch::Press press = button_in(touch, name, {left, line.top, left + acts.width, line.bottom},
                                             act.words, act.look, kind);
        if (press.again) {
            draft.notice = "pad.twice";
        }
        if (!press.tapped) {
            continue;
        }
        if (name == "shift") {
            draft.capitals = !draft.capitals;
        } else if (name == "digits") {
            draft.digits = !draft.digits;
            draft.page = 0;
        } else if (name == "page") {
            draft.page = (draft.page + 1) % pages;
        } else if (name == "space") {
            type(draft, ' ');
        } else if (name == "delete") {
            delete_last(draft);
        } else {
            keep = true;
        }
    }
    return keep;
}

} // namespace

bool keyboard(Touch& touch, std::string_view name, TextDraft& draft) {
    const Scope scope(touch, name);
    if (!draft.title.empty()) {
        heading(touch, draft.title);
    }
    show_text(touch, draft);
    // One line for notices at all times, so that the keys do not jump.
    const float top = touch.room().top;
    if (!draft.notice.empty()) {
        text(touch, touch.say(draft.notice), {.weight = Weight::Bold, .role = Role::Warning});
    }
    const float kept = touch.fonts().size(Letter::Body, Weight::Bold);
    touch.skip(std::max(0.0F, kept - (touch.room().top - top)));

    const Layout layout = lay_out_keys(touch, draft);
    for (const std::string_view line : layout.lines) {
        key_line(touch, draft, line, layout.columns);
    }
    return show_acts(touch, draft, layout.pages);
}

} // namespace crossarm::ui
