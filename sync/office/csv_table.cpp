#include "sync/office/csv_table.hpp"

#include "checklist/model/nearest.hpp"
#include "sync/bundle/utf8.hpp"

#include <algorithm>
#include <utility>

namespace crossarm::office {

namespace {

using model::Problem;

std::size_t index_of(const std::vector<std::string>& names, std::string_view name) {
    return static_cast<std::size_t>(std::ranges::find(names, name) - names.begin());
}

} // namespace

CsvTable::CsvTable(std::string_view text, std::string file, const std::vector<std::string>& columns,
                   std::vector<Problem>& problems)
    : file_(std::move(file)), columns_(columns), problems_(&problems) {
    const std::size_t before = problems.size();
    std::vector<CsvRow> rows = read_csv(text, file_, problems);
    if (problems.size() != before) {
        return;
    }
    read_header(rows.front());
    if (problems.size() != before) {
        return;
    }
    for (std::size_t i = 1; i < rows.size(); ++i) {
        if (rows[i].cells.size() != columns_.size()) {
            problems.push_back(
                {file_ + ":" + std::to_string(rows[i].line),
                 "the row has " + std::to_string(rows[i].cells.size()) + " cells, the header has " +
                     std::to_string(columns_.size()),
                 "give the row one cell for each column; a cell with a comma stands in quotes"});
        } else {
            rows_.push_back(std::move(rows[i]));
        }
    }
}

void CsvTable::read_header(const CsvRow& header) {
    const std::string place = file_ + ":" + std::to_string(header.line);
    if (header.cells.size() == 1 && header.cells.front().find_first_of(";\t") != std::string::npos) {
        problems_->push_back(
            {place, "the cells are not separated by commas", "save the file with commas between the cells"});
        return;
    }
    for (std::size_t i = 0; i < header.cells.size(); ++i) {
        const std::string& name = header.cells[i];
        if (index_of(columns_, name) == columns_.size()) {
            const std::string nearest = model::nearest_word(columns_, name);
            problems_->push_back({place,
                                  "unknown column " + bundle::in_quotes(name) +
                                      (nearest.empty() ? "" : "; nearest is " + bundle::in_quotes(nearest)),
                                  "correct its name, or take the column out"});
        } else if (index_of(header.cells, name) != i) {
            problems_->push_back({place, "the column " + bundle::in_quotes(name) + " is there twice",
                                  "take one of the two out"});
        }
    }
    for (const std::string& column : columns_) {
        order_.push_back(index_of(header.cells, column));
        if (order_.back() == header.cells.size()) {
            problems_->push_back({place, "the column " + bundle::in_quotes(column) + " is missing",
                                  "add it to the header; what is not known stays empty in the rows"});
        }
    }
}

const std::string& CsvTable::cell(std::size_t row, std::string_view column) const {
    const std::size_t index = index_of(columns_, column);
    model::require(index < columns_.size(), "a cell is asked for by the name of its column");
    return rows_[row].cells[order_[index]];
}

std::string CsvTable::place(std::size_t row) const {
    return file_ + ":" + std::to_string(rows_[row].line);
}

void CsvTable::wrong(std::size_t row, std::string_view column, std::string what, std::string remedy) {
    problems_->push_back({place(row) + ": " + std::string(column), std::move(what), std::move(remedy)});
}

} // namespace crossarm::office
