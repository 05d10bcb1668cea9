// CSV text (RFC 4180) into rows of cells, and cells into a line of it.
#pragma once

#include "checklist/model/result.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::office {

struct CsvRow {
    std::size_t line = 1; ///< where the row begins in the file
    std::vector<std::string> cells;
    bool operator==(const CsvRow&) const = default;
};

/// Cells are separated by commas and may stand in double quotes ("" within is one quote; commas and line ends
/// within belong to the cell). Lines end with CRLF or LF; empty lines are passed over; one byte order mark at
/// the beginning too; spaces around a cell without quotes are cut off. Everything wrong is added to
/// `problems` (UTF-8, a NUL, quotes in the wrong place or left open): rows are then not to be used.
[[nodiscard]] std::vector<CsvRow> read_csv(std::string_view text, const std::string& file,
                                           std::vector<model::Problem>& problems);

/// The cells as one line with its end; what needs quotes has them.
[[nodiscard]] std::string csv_line(const std::vector<std::string>& cells);

} // namespace crossarm::office
