#include "ui/touch/text_draft.hpp"

#include <algorithm>

namespace crossarm::ui {
namespace {

bool continues(char byte) {
    return (static_cast<unsigned char>(byte) & 0xC0U) == 0x80U;
}

} // namespace

bool type(TextDraft& draft, char character) {
    draft.notice.clear();
    if (character < ' ' || character > '~') {
        return false;
    }
    if (character == ' ' && (draft.text.empty() || draft.text.back() == ' ')) {
        draft.notice = "keyboard.one_space";
        return false;
    }
    const auto characters =
        draft.text.size() - static_cast<std::size_t>(std::ranges::count_if(draft.text, continues));
    if (characters >= draft.most) {
        draft.notice = "keyboard.full";
        return false;
    }
    if (draft.capitals && character >= 'a' && character <= 'z') {
        character = static_cast<char>(character - 'a' + 'A');
    }
    draft.capitals = false;
    draft.text += character;
    return true;
}

void delete_last(TextDraft& draft) {
    draft.notice.clear();
    while (!draft.text.empty() && continues(draft.text.back())) {
        draft.text.pop_back();
    }
    if (!draft.text.empty()) {
        draft.text.pop_back();
    }
}

} // namespace crossarm::ui
