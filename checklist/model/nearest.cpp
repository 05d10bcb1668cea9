// Edit distance between short words.
#include "checklist/model/nearest.hpp"

#include <algorithm>
#include <numeric>

namespace crossarm::model {

namespace {

constexpr std::size_t kFarthest = 3;
constexpr std::size_t kLongest = 64;

std::size_t edits(std::string_view a, std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 0; i < a.size(); ++i) {
        std::size_t diagonal = row[0];
        row[0] = i + 1;
        for (std::size_t j = 0; j < b.size(); ++j) {
            const std::size_t above = row[j + 1];
            row[j + 1] = std::min({above + 1, row[j] + 1, diagonal + static_cast<std::size_t>(a[i] != b[j])});
            diagonal = above;
        }
    }
    return row.back();
}

} // namespace

std::string nearest_word(const std::vector<std::string>& known, std::string_view word) {
    std::string best;
    std::size_t fewest = std::min(kFarthest + 1, word.size());
    if (word.size() > kLongest) {
        return best;
    }
    for (const std::string& candidate : known) {
        const std::size_t needed = edits(candidate, word);
        if (needed < fewest) {
            fewest = needed;
            best = candidate;
        }
    }
    return best;
}

std::string unknown_word(std::string_view what, std::string_view word,
                         const std::vector<std::string>& known) {
    const std::string nearest = nearest_word(known, word);
    const std::string out = "unknown " + std::string(what) + " \"" + std::string(word) + "\"";
    return nearest.empty() ? out : out + "; nearest is \"" + nearest + "\"";
}

} // namespace crossarm::model
