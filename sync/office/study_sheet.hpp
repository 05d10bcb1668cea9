// An uprating study as a sheet of paragraphs and tables, to be written out as text or as a printed page.
#pragma once

#include "checklist/model/words.hpp"
#include "checklist/rules/uprating_study.hpp"

#include <string>
#include <vector>

namespace crossarm::office {

struct SheetLine {
    int indent = 0;
    std::string text;
};

struct SheetTable {
    std::vector<std::string> head;
    std::vector<std::vector<std::string>> rows; ///< each as long as the head
};

struct SheetSection {
    std::string title;
    std::vector<SheetLine> lines;
    SheetTable table;                       ///< head empty: none
    std::vector<std::string> drawings = {}; ///< inline SVG, side by side; on the page only
};

struct Sheet {
    std::string title;
    std::vector<SheetSection> sections;
};

[[nodiscard]] Sheet study_sheet(const rules::StudyFacts& facts, const rules::Study& study,
                                const model::Words& words);
/// The first section of the sheet alone: the study in short, a sentence each.
[[nodiscard]] std::vector<std::string> study_summary(const rules::StudyFacts& facts,
                                                     const rules::Study& study, const model::Words& words);

/// Plain text, tables in columns.
[[nodiscard]] std::string sheet_text(const Sheet& sheet);
/// A whole HTML page that prints on A4 without anything else.
[[nodiscard]] std::string sheet_page(const Sheet& sheet);

/// "pass", "marginal", "fail" or "none": how a check ended.
[[nodiscard]] std::string result_of(const rules::Outcome& outcome);

} // namespace crossarm::office
