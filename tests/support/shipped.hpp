// The limit sets as shipped, and sentences as people get them, for tests of the rules.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/model/words.hpp"
#include "checklist/rules/outcome.hpp"
#include "tests/support/catch.hpp"

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>

namespace crossarm::tests {

inline std::string text_of_file(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

/// The set in assets/limits/<name>.json; fails the test when it cannot be read.
inline model::LimitSet shipped_limits(const std::string& name) {
    const auto path = std::filesystem::path(CROSSARM_SOURCE_DIR) / "assets" / "limits" / (name + ".json");
    auto set = model::read_limit_set(text_of_file(path), path.filename().string());
    if (!set.ok()) {
        FAIL(model::to_text(set.problem()));
    }
    return *set;
}

/// The English verdict words as shipped.
inline const model::Words& shipped_words() {
    static const model::Words words = [] {
        model::Words all;
        const auto folder = std::filesystem::path(CROSSARM_SOURCE_DIR) / "assets" / "words" / "en";
        for (const auto& file : std::filesystem::directory_iterator(folder)) {
            const std::string name = file.path().filename().string();
            if (name.starts_with("verdicts_")) {
                const auto done = all.add(text_of_file(file.path()), name);
                if (!done.ok()) {
                    FAIL(model::to_text(done.problem()));
                }
            }
        }
        return all;
    }();
    return words;
}

inline void check_sentence(const model::Phrase& phrase) {
    const std::string sentence = shipped_words().say(phrase);
    INFO(phrase.key << ": " << sentence);
    CHECK(shipped_words().has(phrase.key));
    CHECK(sentence.find('{') == std::string::npos);
}

/// The verdict in an answer; fails the test when the rule refused. Checks that every sentence in it is there,
/// that its source is named, and that an action has its urgency.
inline model::Verdict verdict_in(const rules::Outcome& outcome) {
    if (const auto* no = std::get_if<model::NoVerdict>(&outcome)) {
        FAIL("refused: " << shipped_words().say(no->why));
    }
    const auto& verdict = std::get<model::Verdict>(outcome);
    INFO(verdict.subject);
    check_sentence(verdict.because);
    CHECK(verdict.action.key.empty() == !verdict.when.has_value());
    if (!verdict.action.key.empty()) {
        check_sentence(verdict.action);
    }
    for (const auto& caution : verdict.cautions) {
        check_sentence(caution);
    }
    for (const auto& working : verdict.workings) {
        check_sentence({working.name, {}});
        CHECK(std::isfinite(working.value.value));
    }
    CHECK(!verdict.source.set.empty());
    CHECK(!verdict.source.clause.empty());
    CHECK(!verdict.source.sure.empty());
    return verdict;
}

/// The key of a refusal; "" when the rule gave a verdict. Checks that its sentence is there.
inline std::string refusal_in(const rules::Outcome& outcome) {
    const auto* no = std::get_if<model::NoVerdict>(&outcome);
    if (no == nullptr) {
        return "";
    }
    check_sentence(no->why);
    return no->why.key;
}

/// The value of a working; fails the test when it is not there.
inline double working(const model::Verdict& verdict, std::string_view name) {
    for (const auto& line : verdict.workings) {
        if (line.name == name) {
            return line.value.value;
        }
    }
    FAIL("no working " << name);
    return 0.0;
}

} // namespace crossarm::tests
