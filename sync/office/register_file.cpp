#include "sync/office/register_file.hpp"

#include "checklist/model/canonical.hpp"
#include "checklist/model/json_reader.hpp"
#include "sync/bundle/atomic_file.hpp"
#include "sync/bundle/register_check.hpp"
#include "sync/bundle/register_json.hpp"
#include "sync/bundle/structure_fields.hpp"
#include "sync/bundle/utf8.hpp"
#include "sync/office/register_csv.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <filesystem>
#include <iterator>

namespace crossarm::office {

namespace {

using Json = nlohmann::json;
using model::JsonReader;
using model::Problem;

constexpr const char* kFormat = "crossarm.register/1";
constexpr std::size_t kMostProblems = 1'000;
// A whole utility's register: 100 000 structures of some 30 facts.
constexpr model::JsonBounds kBounds{32, 5'000'000, 128, 64U * 1024U};

/// Everything read so far, with the place of each row.
struct Gathered {
    Rows<model::Structure> structures;
    Rows<model::Person> people;
    Rows<model::DueVisit> due;
    Rows<model::EarlierReading> earlier;
    Rows<model::Utility> utility;
    std::vector<Problem> problems;

    [[nodiscard]] std::string place(std::string_view list, std::size_t row) const {
        return list == "structures" ? structures.places[row]
               : list == "people"   ? people.places[row]
               : list == "due"      ? due.places[row]
                                    : earlier.places[row];
    }
};

template<typename T>
void append(Rows<T>& to, Rows<T> more) {
    std::ranges::move(more.items, std::back_inserter(to.items));
    std::ranges::move(more.places, std::back_inserter(to.places));
}

template<typename T, typename Read>
void read_list(const Json& root, const std::string& file, const char* name, Read read, Rows<T>& rows,
               std::vector<Problem>& problems) {
    const auto list = root.find(name);
    if (list == root.end()) {
        return;
    }
    const std::string place = file + ": /" + name;
    if (!list->is_array()) {
        problems.push_back({place, "this is not a list", "write [ ... ] here"});
        return;
    }
    for (std::size_t i = 0; i < list->size(); ++i) {
        // Each row remembers its own first problem, so that every wrong row is told.
        const JsonReader reader((*list)[i], place + "/" + std::to_string(i));
        rows.items.push_back(read(reader));
        rows.places.push_back(place + "/" + std::to_string(i));
        if (reader.failed()) {
            problems.push_back(reader.problem());
        }
    }
}

void read_json(std::string_view text, const std::string& file, Gathered& all) {
    const auto root = model::parse_json(text, file, kBounds);
    if (!root) {
        all.problems.push_back(
            {root.problem().where, bundle::printable(root.problem().what), root.problem().remedy});
        return;
    }
    const JsonReader top(*root, file + ": ");
    top.only({"format", "structures", "people", "due", "earlier", "utility"});
    if (const std::string format = top.text("format"); format != kFormat) {
        top.wrong("format", bundle::in_quotes(format) + " is not " + bundle::in_quotes(kFormat),
                  "write the format of this version");
    }
    if (top.failed()) {
        all.problems.push_back(top.problem());
        return;
    }
    read_list(*root, file, "structures", bundle::read_structure, all.structures, all.problems);
    read_list(*root, file, "people", bundle::read_person, all.people, all.problems);
    read_list(*root, file, "due", bundle::read_due, all.due, all.problems);
    read_list(*root, file, "earlier", bundle::read_earlier, all.earlier, all.problems);
    if (top.has("utility")) {
        const JsonReader utility(root->at("utility"), file + ": /utility");
        all.utility.items.push_back(bundle::read_utility(utility));
        all.utility.places.push_back(file + ": /utility");
        if (utility.failed()) {
            all.problems.push_back(utility.problem());
        }
    }
}

/// Reads one file: a CSV list with `read_csv_list`, or a JSON register.
template<typename T, typename ReadCsv>
void read_file(const std::string& path, ReadCsv read_csv_list, Rows<T> Gathered::* list, Gathered& all) {
    if (path.empty()) {
        return;
    }
    const auto text = bundle::read_whole(path);
    if (!text) {
        all.problems.push_back(text.problem());
        return;
    }
    const std::string file = std::filesystem::path(path).filename().string();
    const std::string ending = std::filesystem::path(path).extension().string();
    if (ending == ".csv") {
        append(all.*list, read_csv_list(*text, file, all.problems));
    } else if (ending == ".json") {
        read_json(*text, file, all);
    } else {
        all.problems.push_back(
            {path, "the name ends neither in .csv nor in .json", "name the file after what it is"});
    }
}

template<typename T>
Json list(const std::vector<T>& items) {
    Json out = Json::array();
    for (const T& item : items) {
        out.push_back(bundle::to_json(item));
    }
    return out;
}

} // namespace

RegisterRead read_register(const RegisterFiles& files) {
    Gathered all;
    read_file(files.reg, read_structures_csv, &Gathered::structures, all);
    read_file(files.people, read_people_csv, &Gathered::people, all);
    read_file(files.due, read_due_csv, &Gathered::due, all);
    read_file(files.earlier, read_earlier_csv, &Gathered::earlier, all);
    read_file(files.utility, read_utility_csv, &Gathered::utility, all);
    if (all.utility.items.size() > 1) {
        all.problems.push_back({all.utility.places[1], "whom to call stands here a second time",
                                "give it once, in the register or in a file of its own"});
    }
    RegisterRead read;
    read.reg = {std::move(all.structures.items), std::move(all.people.items), std::move(all.due.items),
                std::move(all.earlier.items),
                all.utility.items.empty() ? model::Utility{} : std::move(all.utility.items.front())};
    // A file that could not be read at all would make every reference into it wrong too.
    if (!read.reg.structures.empty()) {
        std::ranges::move(
            bundle::check_register(read.reg,
                                   [&](const char* name, std::size_t row) { return all.place(name, row); }),
            std::back_inserter(all.problems));
    } else if (all.problems.empty()) {
        all.problems.push_back({files.reg, "there is no structure in it", "give a register with structures"});
    }
    if (!all.problems.empty()) {
        read.reg = {};
        read.problems = std::move(all.problems);
        read.problems.resize(std::min(read.problems.size(), kMostProblems));
    }
    return read;
}

std::string write_register_json(const model::Register& reg) {
    Json root = {{"format", kFormat},
                 {"structures", list(reg.structures)},
                 {"people", list(reg.people)},
                 {"due", list(reg.due)},
                 {"earlier", list(reg.earlier)}};
    if (reg.utility != model::Utility{}) {
        root["utility"] = bundle::to_json(reg.utility);
    }
    return model::canonical(root);
}

} // namespace crossarm::office
