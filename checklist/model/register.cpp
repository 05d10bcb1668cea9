#include "checklist/model/register.hpp"

#include "checklist/model/nearest.hpp"

#include <algorithm>

namespace crossarm::model {

namespace {

template<typename T>
const T* find_by_id(const std::vector<T>& all, std::string_view id) {
    const auto found = std::ranges::find(all, id, &T::id);
    return found == all.end() ? nullptr : &*found;
}

} // namespace

bool Person::is(std::string_view role) const {
    return std::ranges::find(roles, role) != roles.end();
}

bool Person::may(std::string_view what, Date on) const {
    return std::ranges::any_of(competences, [&](const Competence& competence) {
        return competence.what == what && on <= competence.until;
    });
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
    std::vector<std::string> known;
    known.reserve(reg.structures.size());
    for (const Structure& structure : reg.structures) {
        known.push_back(structure.id);
    }
    return nearest_word(known, id);
}

} // namespace crossarm::model
