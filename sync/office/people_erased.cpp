#include "sync/office/people_erased.hpp"

#include "checklist/model/canonical.hpp"
#include "checklist/model/entry.hpp"
#include "checklist/store/database.hpp"
#include "sync/bundle/register_json.hpp"
#include "sync/bundle/structure_fields.hpp"
#include "sync/bundle/utf8.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>

namespace crossarm::office {

using model::Done;
using model::Problem;
using model::Result;

Done erase_person(const OfficeStore& store, const std::string& person, model::Timestamp at) {
    if (!bundle::is_plain_id(person)) {
        return Problem{"person", bundle::in_quotes(person) + " is not a person's id",
                       "give the id as it stands in the register, for example P-014"};
    }
    return store.work([&](store::Database& database) -> Done {
        store::Transaction transaction(database);
        {
            store::Statement insert(database, "INSERT INTO erased_person (person, erased_ms, erased_offset) "
                                              "VALUES (?1, ?2, ?3) ON CONFLICT (person) DO NOTHING");
            insert.bind(1, person).bind(2, at.utc_ms).bind(3, std::int64_t{at.offset_minutes}).finish();
        }
        transaction.commit();
        return {};
    });
}

Result<std::set<std::string>> erased_people(const OfficeStore& store) {
    std::set<std::string> out;
    const auto read = store.work([&](store::Database& database) -> Done {
        store::Statement rows(database, "SELECT person FROM erased_person");
        while (rows.step()) {
            out.insert(rows.text(0));
        }
        return {};
    });
    return read ? Result<std::set<std::string>>(std::move(out))
                : Result<std::set<std::string>>(read.problem());
}

Done leave_out_names(const OfficeStore& store, model::Register& reg) {
    const auto erased = erased_people(store);
    if (!erased) {
        return erased.problem();
    }
    for (model::Person& person : reg.people) {
        if (erased->contains(person.id)) {
            person.name = person.id;
        }
    }
    return {};
}

Result<std::string> export_person(const OfficeStore& store, const model::Register& reg,
                                  const std::string& person) {
    nlohmann::json out = {{"person", person}, {"register", nullptr}, {"entries", nlohmann::json::array()}};
    const auto named = std::ranges::find(reg.people, person, &model::Person::id);
    if (named != reg.people.end()) {
        out["register"] = bundle::to_json(*named);
    }
    const auto visits = store.visits();
    if (!visits) {
        return visits.problem();
    }
    for (const model::Id& visit : *visits) {
        const auto texts = store.texts(visit);
        if (!texts) {
            return texts.problem();
        }
        for (const std::string& text : *texts) {
            if (auto entry = nlohmann::json::parse(text); entry["by"] == person) {
                out["entries"].push_back(std::move(entry));
            }
        }
    }
    return model::canonical(out) + "\n";
}

} // namespace crossarm::office
