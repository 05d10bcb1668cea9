#include "ui/touch/item_log.hpp"

#include <algorithm>

namespace crossarm::ui {

bool touchable(Kind kind) {
    switch (kind) {
    case Kind::Button:
    case Kind::HoldButton:
    case Kind::Row:
    case Kind::Choice:
    case Kind::Key:
    case Kind::Area:
    case Kind::Draw:
        return true;
    case Kind::Text:
    case Kind::Mark:
    case Kind::Band:
    case Kind::Scroll:
    case Kind::Field:
        break;
    }
    return false;
}

const Item* ItemLog::find(std::string_view path) const {
    const auto it = std::ranges::find(items, path, &Item::path);
    return it == items.end() ? nullptr : &*it;
}

} // namespace crossarm::ui
