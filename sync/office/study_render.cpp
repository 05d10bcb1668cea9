// A study's sheet written out: as text, and as a page to print.
#include "sync/bundle/html.hpp"
#include "sync/office/study_sheet.hpp"

#include <algorithm>

namespace crossarm::office {

namespace {

constexpr const char* kStyle = R"(
@page { size: A4; margin: 15mm }
body { font-family: sans-serif; font-size: 10pt; color: #000; background: #fff; max-width: 180mm; margin: auto }
h1 { font-size: 14pt } h2 { font-size: 11pt; margin: 5mm 0 1mm; break-after: avoid }
p { margin: 0.4mm 0 } .i1 { margin-left: 5mm } .i2 { margin-left: 10mm; font-size: 8.5pt }
.i0 { font-weight: bold; margin-top: 1.6mm }
table { border-collapse: collapse; width: 100%; font-size: 8.5pt }
th, td { border: 0.2mm solid #555; padding: 0.6mm 1.2mm; text-align: right; vertical-align: top }
.drawings { display: flex; gap: 6mm; break-inside: avoid } .drawings svg { flex: none }
th:first-child, td:first-child, td.text, th.text { text-align: left } tr { break-inside: avoid }
)";

/// Letters, not bytes: continuation bytes of UTF-8 take no column.
std::size_t width(const std::string& text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

bool is_number(const std::string& cell) {
    return !cell.empty() &&
           (cell == "-" || (cell[0] >= '0' && cell[0] <= '9') || cell.starts_with("\xE2\x88\x92"));
}

void add_table(std::string& out, const SheetTable& table) {
    std::vector<std::size_t> widths;
    for (std::size_t i = 0; i < table.head.size(); ++i) {
        std::size_t most = width(table.head[i]);
        for (const auto& row : table.rows) {
            most = std::max(most, width(row[i]));
        }
        widths.push_back(most);
    }
    const auto add_row = [&](const std::vector<std::string>& row) {
        std::string line = " ";
        for (std::size_t i = 0; i < row.size(); ++i) {
            const std::string fill(widths[i] - width(row[i]), ' ');
            line += " " + (is_number(row[i]) && i > 0 ? fill + row[i] : row[i] + fill) + " ";
        }
        line.erase(line.find_last_not_of(' ') + 1);
        out += line + "\n";
    };
    add_row(table.head);
    for (const auto& row : table.rows) {
        add_row(row);
    }
}

} // namespace

std::string sheet_text(const Sheet& sheet) {
    std::string out = sheet.title + "\n";
    for (const SheetSection& section : sheet.sections) {
        if (section.lines.empty() && section.table.head.empty()) {
            continue;
        }
        out += "\n" + section.title + "\n";
        for (const SheetLine& line : section.lines) {
            out += std::string(2 + 2 * static_cast<std::size_t>(line.indent), ' ') + line.text + "\n";
        }
        if (!section.table.head.empty()) {
            add_table(out, section.table);
        }
    }
    return out;
}

std::string sheet_page(const Sheet& sheet) {
    std::string body = bundle::element("h1", sheet.title) + "\n";
    for (const SheetSection& section : sheet.sections) {
        body += bundle::element("h2", section.title) + "\n";
        const bool has_steps = std::any_of(section.lines.begin(), section.lines.end(),
                                           [](const SheetLine& line) { return line.indent > 0; });
        for (const SheetLine& line : section.lines) {
            body += has_steps ? "<p class=\"i" + std::to_string(line.indent) + "\">" : "<p>";
            body += bundle::escaped(line.text) + "</p>\n";
        }
        if (!section.drawings.empty()) {
            body += "<div class=\"drawings\">";
            for (const std::string& drawing : section.drawings) {
                body += drawing;
            }
            body += "</div>\n";
        }
        if (section.table.head.empty()) {
            continue;
        }
        body += "<table><thead><tr>";
        for (std::size_t i = 0; i < section.table.head.size(); ++i) {
            const bool numbers = !section.table.rows.empty() && is_number(section.table.rows.front()[i]);
            body +=
                (numbers ? "<th>" : "<th class=\"text\">") + bundle::escaped(section.table.head[i]) + "</th>";
        }
        body += "</tr></thead><tbody>\n";
        for (const auto& row : section.table.rows) {
            body += "<tr>";
            for (const std::string& cell : row) {
                body += (is_number(cell) ? "<td>" : "<td class=\"text\">") + bundle::escaped(cell) + "</td>";
            }
            body += "</tr>\n";
        }
        body += "</tbody></table>\n";
    }
    return bundle::html_page(sheet.title, kStyle, body);
}

} // namespace crossarm::office
