#include "sync/bundle/register_check.hpp"

#include "sync/bundle/utf8.hpp"

#include <set>
#include <string_view>

namespace crossarm::bundle {

namespace {

using model::Problem;
using Place = std::function<std::string(const char* list, std::size_t row)>;

template<typename T>
std::set<std::string_view> unique_ids(const std::vector<T>& all, const char* list, const Place& place,
                                      std::vector<Problem>& problems) {
    std::set<std::string_view> ids;
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (!all[i].id.empty() && !ids.insert(all[i].id).second) {
            problems.push_back({place(list, i),
                                "the id " + in_quotes(all[i].id) + " stands here a second time",
                                "keep one of the two rows, or correct the id of one"});
        }
    }
    return ids;
}

template<typename T>
void known_structures(const std::vector<T>& all, const char* list, const std::set<std::string_view>& ids,
                      const model::Register& reg, const Place& place, std::vector<Problem>& problems) {
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (!ids.contains(all[i].structure)) {
            const std::string nearest = model::nearest_structure(reg, all[i].structure);
            problems.push_back({place(list, i),
                                "unknown structure " + in_quotes(all[i].structure) +
                                    (nearest.empty() ? "" : "; nearest is " + in_quotes(nearest)),
                                "correct the id, or add the structure to the register"});
        }
    }
}

} // namespace

std::vector<Problem> check_register(const model::Register& reg, const Place& place) {
    std::vector<Problem> problems;
    const auto ids = unique_ids(reg.structures, "structures", place, problems);
    unique_ids(reg.people, "people", place, problems);
    known_structures(reg.due, "due", ids, reg, place, problems);
    known_structures(reg.earlier, "earlier", ids, reg, place, problems);
    return problems;
}

} // namespace crossarm::bundle
