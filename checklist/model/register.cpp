#include "checklist/model/register.hpp"

#include <algorithm>
#include <numeric>

namespace crossarm::model {

namespace {

std::size_t edit_distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 0; i < a.size(); ++i) {
        std::size_t diagonal = row[0];
        row[0] = i + 1;
        for (std::size_t j = 0; j < b.size(); ++j) {
            const std::size_t above = row[j + 1];
            row[j + 1] = std::min({above + 1, row[j] + 1, diagonal + static_cast<std::size_t>(a[i] != b[j])});
            diagonal = above;
        }
    }
    return row.back();
}

template<typename T>
const T* find_by_id(const std::vector<T>& all, std::string_view id) {
    const auto found = std::ranges::find(all, id, &T::id);
    return found == all.end() ? nullptr : &*found;
}

} // namespace

bool Person::is(std::string_view role) const {
    return std::ranges::find(roles, role) != roles.end();
}

const Structure* Register::structure(std::string_view id) const {
    return find_by_id(structures, id);
}

const Person* Register::person(std::string_view id) const {
    return find_by_id(people, id);
}

std::vector<EarlierReading> Register::earlier_of(std::string_view structure_id,
                                                 std::string_view checkpoint) const {
    std::vector<EarlierReading> out;
    std::ranges::copy_if(earlier, std::back_inserter(out), [&](const EarlierReading& reading) {
        return reading.structure == structure_id && reading.checkpoint == checkpoint;
    });
    std::ranges::stable_sort(out, {}, &EarlierReading::on);
    return out;
}

std::string nearest_structure(const Register& reg, std::string_view id) {
    std::string best;
    std::size_t best_distance = 4;
    for (const Structure& candidate : reg.structures) {
        const std::size_t distance = edit_distance(candidate.id, id);
        if (distance < best_distance) {
            best_distance = distance;
            best = candidate.id;
        }
    }
    return best;
}

} // namespace crossarm::model
