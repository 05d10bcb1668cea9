// The invented scenario fits the shipped protocol: what the demo shows as history could have been recorded.
#include "checklist/model/protocol.hpp"
#include "tests/house/project_files.hpp"
#include "tests/support/catch.hpp"

#include <map>
#include <set>

using namespace crossarm;
using namespace crossarm::house;

namespace {

// The scenario's files keep commas and quotes out of their cells.
std::vector<std::string> cells_of(const std::string& line) {
    std::vector<std::string> cells(1);
    for (const char c : line) {
        if (c == ',') {
            cells.emplace_back();
        } else {
            cells.back() += c;
        }
    }
    return cells;
}

std::vector<std::vector<std::string>> rows_of(const std::string& name) {
    std::vector<std::vector<std::string>> rows;
    for (const std::string& line : lines_of(files_below({"demo/scenario"}, {name}).at(0).text)) {
        rows.push_back(cells_of(line));
    }
    rows.erase(rows.begin()); // the names of the columns
    return rows;
}

struct Reading {
    std::string kind, value, unit;
};

std::string fault_of_numbers(const Reading& reading, model::Unit unit, const model::Range& hard,
                             std::size_t count) {
    std::istringstream in(reading.value);
    std::size_t found = 0;
    for (double number = 0.0; in >> number; ++found) {
        if (!hard.holds(number)) {
            return "out of the hard range";
        }
    }
    return found != count                                        ? "wrong number of readings"
           : reading.unit != code(unit)                          ? "wrong unit"
           : reading.kind != (count == 1 ? "number" : "numbers") ? "wrong kind"
                                                                 : "";
}

// Empty when the reading could be the answer at the checkpoint.
std::string fault_of(const Reading& reading, const model::Input& input) {
    if (const auto* number = std::get_if<model::NumberInput>(&input)) {
        return fault_of_numbers(reading, number->unit, number->hard, 1);
    }
    if (const auto* numbers = std::get_if<model::NumbersInput>(&input)) {
        return fault_of_numbers(reading, numbers->unit, numbers->hard, numbers->names.size());
    }
    if (const auto* choice = std::get_if<model::ChoiceInput>(&input)) {
        const bool known = std::any_of(choice->options.begin(), choice->options.end(),
                                       [&](const auto& option) { return option.id == reading.value; });
        return reading.kind == "choice" && known ? "" : "no such option";
    }
    if (std::holds_alternative<model::GradeInput>(input)) {
        return reading.kind == "grade" && model::grade_of(reading.value) ? "" : "no such grade";
    }
    return reading.kind == "text" ? "" : "wrong kind";
}

} // namespace

TEST_CASE("the scenario has structures enough, each with years of history") {
    std::map<std::string, std::set<std::string>> years;
    for (const auto& row : rows_of("/earlier.csv")) {
        years[row.at(0)].insert(row.at(2).substr(0, 4));
    }
    const auto structures = rows_of("/register.csv");
    CHECK(structures.size() >= 12);
    std::set<std::string> known;
    for (const auto& structure : structures) {
        INFO(structure.at(0));
        CHECK(structure.size() == 30);
        CHECK(years[structure.at(0)].size() >= 3);
        known.insert(structure.at(0));
    }
    CHECK(years.size() == structures.size());
    for (const auto& due : rows_of("/due.csv")) {
        INFO(due.at(0));
        CHECK(known.contains(due.at(0)));
    }
}

TEST_CASE("every earlier reading of the scenario fits its checkpoint") {
    const ProjectFile file = files_below({"assets/protocols"}, {"upkeep.json"}).at(0);
    const auto protocol = model::read_protocol(file.text, file.path);
    REQUIRE(protocol.ok());
    for (const auto& row : rows_of("/earlier.csv")) {
        REQUIRE(row.size() == 6);
        INFO(row[0] << " " << row[1] << " " << row[2] << ": " << row[4]);
        const model::Checkpoint* checkpoint = protocol->checkpoint(row[1]);
        REQUIRE(checkpoint != nullptr);
        CHECK(fault_of({row[3], row[4], row[5]}, checkpoint->input).empty());
    }
}
