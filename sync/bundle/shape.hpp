// Reads a JSON tree from outside by its expected shape and notes everything that does not fit, with its
// place.
//
// The checks stand in code and not in a schema library: reading and checking are one pass that cannot
// disagree, every Problem carries the JSON pointer, and no file is needed at run time. The schemas in
// assets/schemas say the same to other programs; a test holds the two together with an independent validator.
#pragma once

#include "checklist/model/result.hpp"

#include <nlohmann/json_fwd.hpp>

#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::bundle {

/// What was wrong in one file. At most 100 problems are kept.
struct Report {
    std::string file;
    std::string remedy; ///< where no better one is known
    std::vector<model::Problem> problems;

    void note(std::string where, std::string what, std::string better_remedy = {});
};

/// One place in the tree. A getter that finds something else notes it and gives an empty value; below a place
/// that is missing nothing more is noted.
class Shape {
public:
    Shape(const nlohmann::json& value, std::string pointer, Report& report);

    [[nodiscard]] bool has(std::string_view name) const;
    [[nodiscard]] Shape at(std::string_view name) const;
    /// Notes every name of the object that is not one of these.
    void only(std::initializer_list<std::string_view> names) const;
    [[nodiscard]] std::vector<Shape> items(std::size_t most) const;

    [[nodiscard]] std::string text(std::size_t most_bytes = 64U * 1024U) const;
    [[nodiscard]] std::string one_of(std::initializer_list<std::string_view> words) const;
    /// 64 lower-case hexadecimal digits, or "" when `may_be_empty`.
    [[nodiscard]] std::string digest(bool may_be_empty = false) const;
    [[nodiscard]] std::int64_t whole(std::int64_t low, std::int64_t high) const;
    [[nodiscard]] double number(double low, double high) const;
    [[nodiscard]] bool yes_no() const;

    void wrong(std::string what, std::string remedy = {}) const;
    [[nodiscard]] const nlohmann::json& json() const { return *value_; }
    [[nodiscard]] std::string where() const; ///< "file: /pointer"
    [[nodiscard]] bool missing() const { return missing_; }
    [[nodiscard]] Report& report() const { return *report_; }

private:
    const nlohmann::json* value_;
    std::string pointer_;
    Report* report_;
    bool missing_ = false;
};

/// A number as canonical text, for sentences.
[[nodiscard]] std::string plain(double value);

} // namespace crossarm::bundle
