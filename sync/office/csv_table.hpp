// A CSV file with a header row: cells by column name.
#pragma once

#include "checklist/model/result.hpp"
#include "sync/office/csv.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::office {

/// Reads a file that must have exactly `columns`, in whatever order. Wrong header or row: Problem with file
/// and line, added to `problems`; a row with the wrong number of cells is left out.
class CsvTable {
public:
    CsvTable(std::string_view text, std::string file, const std::vector<std::string>& columns,
             std::vector<model::Problem>& problems);

    [[nodiscard]] std::size_t size() const { return rows_.size(); }
    [[nodiscard]] const std::string& cell(std::size_t row, std::string_view column) const;
    /// "people.csv:4"
    [[nodiscard]] std::string place(std::size_t row) const;
    /// Adds a problem at "people.csv:4: roles".
    void wrong(std::size_t row, std::string_view column, std::string what, std::string remedy);

private:
    void read_header(const CsvRow& header);

    std::string file_;
    std::vector<std::string> columns_;
    std::vector<std::size_t> order_; ///< column -> cell
    std::vector<CsvRow> rows_;
    std::vector<model::Problem>* problems_;
};

} // namespace crossarm::office
