#include "sync/office/register_csv.hpp"

#include "checklist/model/canonical.hpp"
#include "sync/bundle/register_json.hpp"
#include "sync/bundle/structure_fields.hpp"
#include "sync/bundle/utf8.hpp"
#include "sync/office/csv_table.hpp"

#include <nlohmann/json.hpp>

#include <charconv>
#include <cmath>
#include <optional>

namespace crossarm::office {

namespace {

using bundle::Fact;
using bundle::in_quotes;
using bundle::StructureField;
using model::Problem;

std::optional<double> number_in(const std::string& cell) {
    double value = 0.0;
    const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
    if (error != std::errc() || end != cell.data() + cell.size() || !std::isfinite(value)) {
        return std::nullopt;
    }
    return value;
}

std::vector<std::string> split(const std::string& cell) {
    std::vector<std::string> words;
    for (std::size_t at = 0; at < cell.size();) {
        const std::size_t begin = cell.find_first_not_of(' ', at);
        if (begin == std::string::npos) {
            break;
        }
        at = std::min(cell.find(' ', begin), cell.size());
        words.push_back(cell.substr(begin, at - begin));
    }
    return words;
}

void read_fact(CsvTable& table, std::size_t row, const StructureField& field, model::Structure& structure) {
    const std::string& cell = table.cell(row, field.name);
    Fact fact;
    if (bundle::is_number(field) && !cell.empty()) {
        const auto number = number_in(cell);
        if (!number) {
            table.wrong(row, field.name, in_quotes(cell) + " is not a number", field.remedy);
            return;
        }
        fact = *number;
    } else if (bundle::is_yes_no(field) && !cell.empty()) {
        if (cell != "yes" && cell != "no") {
            table.wrong(row, field.name, in_quotes(cell) + " is neither yes nor no", field.remedy);
            return;
        }
        fact = cell == "yes";
    } else if (!cell.empty()) {
        fact = cell;
    }
    if (const auto wrong = bundle::put(structure, field, fact)) {
        table.wrong(row, field.name, *wrong, field.remedy);
    }
}

model::Date read_date(CsvTable& table, std::size_t row, const char* column) {
    const std::string& cell = table.cell(row, column);
    const auto date = model::parse_date(cell, "");
    if (!date) {
        table.wrong(row, column, in_quotes(cell) + " is not a date",
                    "write year, month and day, for example 2026-03-14");
        return {};
    }
    return *date;
}

/// "climb:2027-03-31 first_aid:2026-12-31"; those that cannot be read are told and left out.
std::vector<model::Competence> read_competences(CsvTable& table, std::size_t row) {
    constexpr const char* kRemedy =
        "write each competence with its last day, for example climb:2027-03-31, separated by spaces";
    std::vector<model::Competence> competences;
    for (const std::string& word : split(table.cell(row, "competences"))) {
        const std::size_t colon = word.find(':');
        const auto until =
            model::parse_date(colon == std::string::npos ? "" : std::string_view(word).substr(colon + 1), "");
        if (until) {
            competences.push_back({word.substr(0, colon), *until});
        } else {
            table.wrong(row, "competences", in_quotes(word) + " has no date", kRemedy);
        }
    }
    if (const auto wrong = bundle::wrong_competences(competences)) {
        table.wrong(row, "competences", *wrong, kRemedy);
    }
    return competences;
}

/// Readings of `kind` number or numbers.
std::optional<model::Value> read_numbers(CsvTable& table, std::size_t row, bool one) {
    const auto unit = model::unit_of(table.cell(row, "unit"));
    if (!unit) {
        table.wrong(row, "unit", in_quotes(table.cell(row, "unit")) + " is not a unit known here",
                    "write a UCUM code, for example kV; 1 for a count");
        return std::nullopt;
    }
    model::Readings readings;
    for (const std::string& word : split(table.cell(row, "value"))) {
        const auto number = number_in(word);
        if (!number) {
            table.wrong(row, "value", in_quotes(word) + " is not a number",
                        "write numbers with a point, separated by spaces");
            return std::nullopt;
        }
        readings.values.push_back({*number, *unit});
    }
    if (readings.values.empty() || (one && readings.values.size() != 1)) {
        table.wrong(row, "value", std::to_string(readings.values.size()) + " numbers stand here",
                    one ? "write one number, or the kind numbers" : "write at least one number");
        return std::nullopt;
    }
    return one ? model::Value(readings.values.front()) : model::Value(readings);
}

std::optional<model::Value> read_value(CsvTable& table, std::size_t row) {
    const std::string& kind = table.cell(row, "kind");
    const std::string& value = table.cell(row, "value");
    if (kind == "number" || kind == "numbers") {
        return read_numbers(table, row, kind == "number");
    }
    if (!table.cell(row, "unit").empty()) {
        table.wrong(row, "unit", "only numbers have a unit", "leave it empty");
        return std::nullopt;
    }
    if (kind == "grade") {
        const auto grade = model::grade_of(value);
        if (!grade) {
            table.wrong(row, "value", in_quotes(value) + " is not a grade",
                        "write sound, watch, repair or danger");
        }
        return grade ? std::optional<model::Value>(*grade) : std::nullopt;
    }
    if (kind == "choice" || kind == "text") {
        if (value.empty()) {
            table.wrong(row, "value", "nothing is written here", "write what was recorded");
            return std::nullopt;
        }
        return kind == "text" ? model::Value(model::Remark{value})
                              : model::Value(model::Choice{split(value)});
    }
    table.wrong(row, "kind", in_quotes(kind) + " is not one of: grade, choice, number, numbers, text",
                "write the kind of what was recorded");
    return std::nullopt;
}

template<typename T, typename Read>
Rows<T> read_rows(std::string_view text, const std::string& file, const std::vector<std::string>& columns,
                  std::vector<Problem>& problems, Read read) {
    CsvTable table(text, file, columns, problems);
    Rows<T> rows;
    for (std::size_t row = 0; row < table.size(); ++row) {
        rows.items.push_back(read(table, row));
        rows.places.push_back(table.place(row));
    }
    return rows;
}

} // namespace

Rows<model::Structure> read_structures_csv(std::string_view text, const std::string& file,
                                           std::vector<Problem>& problems) {
    std::vector<std::string> columns;
    for (const StructureField& field : bundle::structure_fields()) {
        columns.emplace_back(field.name);
    }
    return read_rows<model::Structure>(text, file, columns, problems, [](CsvTable& table, std::size_t row) {
        model::Structure structure;
        for (const StructureField& field : bundle::structure_fields()) {
            read_fact(table, row, field, structure);
        }
        if (const auto wrong = bundle::contradiction(structure)) {
            table.wrong(row, "critical_customers", *wrong, "correct one of the two");
        }
        return structure;
    });
}

std::string write_structures_csv(const std::vector<model::Structure>& structures) {
    std::vector<std::string> columns;
    for (const StructureField& field : bundle::structure_fields()) {
        columns.emplace_back(field.name);
    }
    std::string out = csv_line(columns);
    for (const model::Structure& structure : structures) {
        const nlohmann::json facts = bundle::to_json(structure);
        std::vector<std::string> cells;
        for (const std::string& column : columns) {
            const auto fact = facts.find(column);
            cells.push_back(fact == facts.end()  ? ""
                            : fact->is_string()  ? fact->get<std::string>()
                            : fact->is_boolean() ? (fact->get<bool>() ? "yes" : "no")
                                                 : model::canonical_number(fact->get<double>()));
        }
        out += csv_line(cells);
    }
    return out;
}

Rows<model::Person> read_people_csv(std::string_view text, const std::string& file,
                                    std::vector<Problem>& problems) {
    return read_rows<model::Person>(
        text, file, {"id", "name", "roles", "competences"}, problems, [](CsvTable& table, std::size_t row) {
            model::Person person{table.cell(row, "id"), table.cell(row, "name"),
                                 split(table.cell(row, "roles"))};
            if (!bundle::is_plain_id(person.id)) {
                table.wrong(row, "id",
                            in_quotes(person.id) + " is not an id of letters, digits, '-', '_' and '.'",
                            "write the person's number, for example P-014");
            }
            if (person.name.empty()) {
                table.wrong(row, "name", "nothing is written here", "write the person's name");
            }
            if (const auto wrong = bundle::wrong_roles(person.roles)) {
                table.wrong(row, "roles", *wrong, "write the person's roles, separated by spaces");
            }
            person.competences = read_competences(table, row);
            return person;
        });
}

Rows<model::Utility> read_utility_csv(std::string_view text, const std::string& file,
                                      std::vector<Problem>& problems) {
    const std::size_t before = problems.size();
    auto rows = read_rows<model::Utility>(
        text, file, {"control_room_call", "emergency_call"}, problems, [](CsvTable& table, std::size_t row) {
            for (const char* column : {"control_room_call", "emergency_call"}) {
                if (const auto wrong = bundle::wrong_call(table.cell(row, column))) {
                    table.wrong(row, column, *wrong, "write whom to call and the number, or leave it empty");
                }
            }
            return model::Utility{table.cell(row, "control_room_call"), table.cell(row, "emergency_call")};
        });
    if (rows.items.size() != 1 && problems.size() == before) {
        problems.push_back({file, "there are " + std::to_string(rows.items.size()) + " rows",
                            "give one row below the names of the columns"});
    }
    return rows;
}

Rows<model::DueVisit> read_due_csv(std::string_view text, const std::string& file,
                                   std::vector<Problem>& problems) {
    return read_rows<model::DueVisit>(text, file, {"structure", "kind", "due", "reason"}, problems,
                                      [](CsvTable& table, std::size_t row) {
                                          model::DueVisit due;
                                          due.structure = table.cell(row, "structure");
                                          due.kind = table.cell(row, "kind");
                                          due.due = read_date(table, row, "due");
                                          due.reason = table.cell(row, "reason");
                                          if (const auto wrong = bundle::wrong_kind(due.kind)) {
                                              table.wrong(row, "kind", *wrong, "write upkeep or uprating");
                                          }
                                          return due;
                                      });
}

Rows<model::EarlierReading> read_earlier_csv(std::string_view text, const std::string& file,
                                             std::vector<Problem>& problems) {
    return read_rows<model::EarlierReading>(
        text, file, {"structure", "checkpoint", "date", "kind", "value", "unit"}, problems,
        [](CsvTable& table, std::size_t row) {
            model::EarlierReading earlier;
            earlier.structure = table.cell(row, "structure");
            earlier.checkpoint = table.cell(row, "checkpoint");
            if (earlier.checkpoint.empty()) {
                table.wrong(row, "checkpoint", "nothing is written here", "write the checkpoint's id");
            }
            earlier.on = read_date(table, row, "date");
            if (auto value = read_value(table, row)) {
                earlier.value = std::move(*value);
            }
            return earlier;
        });
}

} // namespace crossarm::office
