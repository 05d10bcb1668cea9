#include "sync/office/csv.hpp"

#include "sync/bundle/utf8.hpp"

#include <algorithm>
#include <utility>

namespace crossarm::office {

namespace {

using model::Problem;

std::string place(const std::string& file, std::size_t line) {
    return file + ":" + std::to_string(line);
}

/// One problem for each line that is not UTF-8.
void check_characters(std::string_view text, const std::string& file, std::vector<Problem>& problems) {
    std::size_t line = 1;
    while (!text.empty()) {
        const std::size_t end = text.find('\n');
        const std::string_view one = text.substr(0, end);
        if (const std::size_t bad = bundle::first_bad_utf8(one); bad != std::string_view::npos) {
            problems.push_back({place(file, line),
                                "byte " + std::to_string(bad + 1) + " of the line is not UTF-8",
                                "save the file as UTF-8"});
        } else if (one.find('\0') != std::string_view::npos) {
            problems.push_back(
                {place(file, line), "there is a NUL byte in the line", "save the file as text"});
        }
        text = end == std::string_view::npos ? std::string_view() : text.substr(end + 1);
        ++line;
    }
}

std::string trimmed(std::string_view text) {
    const std::size_t first = text.find_first_not_of(" \t");
    return first == std::string_view::npos
               ? std::string()
               : std::string(text.substr(first, text.find_last_not_of(" \t") - first + 1));
}

class Reader {
public:
    Reader(std::string_view text, const std::string& file, std::vector<Problem>& problems)
        : text_(text), file_(file), problems_(problems) {}

    std::vector<CsvRow> rows() {
        std::vector<CsvRow> rows;
        while (at_ < text_.size()) {
            CsvRow next{line_, {}};
            do {
                next.cells.push_back(cell());
            } while (take(','));
            end_of_line();
            if (next.cells.size() > 1 || !next.cells.front().empty()) {
                rows.push_back(std::move(next));
            }
        }
        return rows;
    }

private:
    [[nodiscard]] bool take(char c) {
        if (at_ < text_.size() && text_[at_] == c) {
            ++at_;
            return true;
        }
        return false;
    }

    std::string cell() {
        while (at_ < text_.size() && (text_[at_] == ' ' || text_[at_] == '\t')) {
            ++at_;
        }
        return take('"') ? quoted() : plain();
    }

    std::string plain() {
        const std::size_t end = std::min(text_.find_first_of(",\r\n", at_), text_.size());
        const std::string_view found = text_.substr(at_, end - at_);
        if (found.find('"') != std::string_view::npos) {
            wrong(line_, "a quote stands within a cell that does not begin with one",
                  "put the whole cell in quotes and write each quote in it twice");
        }
        at_ = end;
        return trimmed(found);
    }

    std::string quoted() {
        const std::size_t begins = line_;
        std::string out;
        while (at_ < text_.size()) {
            const char c = text_[at_++];
            if (c == '"' && !take('"')) {
                after_quotes();
                return out;
            }
            line_ += c == '\n' ? 1U : 0U;
            out += c;
        }
        wrong(begins, "a quote is opened here and never closed", "close it at the end of the cell");
        return out;
    }

    void after_quotes() {
        const std::size_t end = std::min(text_.find_first_of(",\r\n", at_), text_.size());
        if (!trimmed(text_.substr(at_, end - at_)).empty()) {
            wrong(line_, "something stands between a closing quote and the next comma",
                  "put the whole cell in quotes and write each quote in it twice");
        }
        at_ = end;
    }

    void end_of_line() {
        // CRLF, LF, or a lone CR.
        const bool had_return = take('\r');
        if (!take('\n') && !had_return && at_ < text_.size()) {
            ++at_;
        }
        ++line_;
    }

    void wrong(std::size_t line, const char* what, const char* remedy) {
        problems_.push_back({place(file_, line), what, remedy});
    }

    std::string_view text_;
    const std::string& file_;
    std::vector<Problem>& problems_;
    std::size_t at_ = 0;
    std::size_t line_ = 1;
};

std::string csv_cell(const std::string& text) {
    const bool spaced = text.starts_with(' ') || text.ends_with(' ');
    if (!spaced && text.find_first_of(",\"\r\n") == std::string::npos) {
        return text;
    }
    std::string out = "\"";
    for (const char c : text) {
        out += c == '"' ? "\"\"" : std::string(1, c);
    }
    return out + "\"";
}

} // namespace

std::vector<CsvRow> read_csv(std::string_view text, const std::string& file, std::vector<Problem>& problems) {
    if (text.starts_with("\xEF\xBB\xBF")) {
        text.remove_prefix(3);
    }
    const std::size_t before = problems.size();
    check_characters(text, file, problems);
    if (problems.size() != before) {
        return {};
    }
    std::vector<CsvRow> rows = Reader(text, file, problems).rows();
    if (rows.empty() && problems.size() == before) {
        problems.push_back(
            {place(file, 1), "the file is empty", "give a file with a header row and one row each"});
    }
    return rows;
}

std::string csv_line(const std::vector<std::string>& cells) {
    std::string line;
    for (std::size_t i = 0; i < cells.size(); ++i) {
        line += (i > 0 ? "," : "") + csv_cell(cells[i]);
    }
    return line + "\n";
}

} // namespace crossarm::office
