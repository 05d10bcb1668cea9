#include "sync/bundle/day_pack.hpp"

#include "checklist/model/canonical.hpp"
#include "checklist/model/json_reader.hpp"
#include "sync/bundle/register_check.hpp"
#include "sync/bundle/register_json.hpp"
#include "sync/bundle/sealed_json.hpp"
#include "sync/bundle/structure_fields.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>

namespace crossarm::bundle {

namespace {

using Json = nlohmann::json;
using model::JsonReader;
using model::Result;

constexpr const char* kFormat = "crossarm.day-pack/1";

template<typename T>
Json list(const std::vector<T>& items) {
    Json out = Json::array();
    for (const T& item : items) {
        out.push_back(to_json(item));
    }
    return out;
}

template<typename T, typename Read>
std::vector<T> read_list(const JsonReader& reader, const char* name, Read read) {
    std::vector<T> out;
    for (const JsonReader& item : reader.objects(name)) {
        out.push_back(read(item));
    }
    return out;
}

model::Register read_register(const JsonReader& reader) {
    reader.only({"structures", "people", "due", "earlier", "utility"});
    model::Register reg;
    reg.structures = read_list<model::Structure>(reader, "structures", read_structure);
    reg.people = read_list<model::Person>(reader, "people", read_person);
    reg.due = read_list<model::DueVisit>(reader, "due", read_due);
    reg.earlier = read_list<model::EarlierReading>(reader, "earlier", read_earlier);
    if (reader.has("utility")) {
        reg.utility = read_utility(reader.object("utility"));
    }
    return reg;
}

} // namespace

std::string write_day_pack(const DayPack& pack, const seal::KeyPair& key,
                           const std::optional<seal::Vouch>& vouch) {
    Json chosen = Json::array();
    for (const auto& [subject, set] : pack.chosen_limits) {
        chosen.push_back({{"subject", subject}, {"set", set}});
    }
    Json body = {{"format", kFormat},
                 {"number", pack.number},
                 {"office", pack.office},
                 {"madeAt", model::to_text(pack.made_at)},
                 {"register",
                  {{"structures", list(pack.reg.structures)},
                   {"people", list(pack.reg.people)},
                   {"due", list(pack.reg.due)},
                   {"earlier", list(pack.reg.earlier)}}},
                 {"limits", list(pack.limits)},
                 {"chosenLimits", std::move(chosen)}};
    if (pack.reg.utility != model::Utility{}) {
        body["register"]["utility"] = to_json(pack.reg.utility);
    }
    if (!pack.receipts.empty()) {
        Json receipts = Json::array();
        for (const std::string& receipt : pack.receipts) {
            receipts.push_back(Json::parse(receipt));
        }
        body["receipts"] = std::move(receipts);
    }
    return seal_introduced_json(body, seal::Kind::DayPack, key, vouch).bytes;
}

Result<DayPack> read_day_pack(std::string_view bytes, std::string_view file, const seal::KeyRing& ring) {
    const auto sealed = open_sealed(bytes, file, seal::Kind::DayPack, kFormat, ring);
    if (!sealed) {
        return sealed.problem();
    }
    if (sealed->by.owner.kind != seal::Owner::Kind::Office) {
        return model::Problem{std::string(file) + ": /seal/by", "a tablet sealed it, not an office",
                              "load a day pack that the office made"};
    }
    const std::string place = std::string(file) + ": /body";
    const JsonReader reader(sealed->body, place);
    reader.only({"format", "number", "office", "madeAt", "register", "limits", "chosenLimits", "receipts"});
    DayPack pack;
    pack.number = reader.integer("number");
    if (pack.number < 1) {
        reader.wrong("number", "day packs are numbered from 1", "ask the office for a new day pack");
    }
    pack.office = reader.text("office");
    pack.made_at = reader.time("madeAt");
    pack.reg = read_register(reader.object("register"));
    for (const JsonReader& item : reader.objects("chosenLimits")) {
        item.only({"subject", "set"});
        pack.chosen_limits.emplace_back(item.text("subject"), item.text("set"));
    }
    if (reader.has("receipts")) {
        for (const JsonReader& item : reader.objects("receipts")) {
            pack.receipts.push_back(model::canonical(item.json()));
        }
    }
    const auto limits = reader.objects("limits");
    if (reader.failed()) {
        return reader.problem();
    }
    for (std::size_t i = 0; i < limits.size(); ++i) {
        const std::string at = place + "/limits/" + std::to_string(i);
        auto set = model::read_limit_set(model::canonical(limits[i].json()), at);
        if (!set) {
            return joined(set.problem(), at);
        }
        pack.limits.push_back(std::move(set).value());
    }
    for (const model::Problem& problem : check_register(pack.reg, [&](const char* list, std::size_t row) {
             return place + "/register/" + list + "/" + std::to_string(row);
         })) {
        return problem;
    }
    return pack;
}

} // namespace crossarm::bundle
