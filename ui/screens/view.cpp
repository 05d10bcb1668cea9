#include "ui/screens/view.hpp"

#include <algorithm>

namespace crossarm::ui {

namespace {

template<typename Items>
auto find_id(const Items& items, std::string_view id) {
    const auto found = std::ranges::find_if(items, [id](const auto& one) { return one.id == id; });
    return found == items.end() ? nullptr : &*found;
}

} // namespace

const visit::permit::Party* PermitView::party(std::string_view id) const {
    return find_id(state.parties, id);
}
const visit::permit::Point* PermitView::point(std::string_view id) const {
    return find_id(state.points, id);
}
const visit::permit::Earth* PermitView::earth(std::string_view id) const {
    return find_id(state.earths, id);
}
bool PermitView::works() const {
    return std::ranges::any_of(state.parties, [](const visit::permit::Party& party) {
        return party.holding == visit::permit::Holding::Accepted;
    });
}

} // namespace crossarm::ui
