// Reading the members of a JSON object one after the other, remembering the first thing that is wrong.
#pragma once

#include "checklist/model/ids.hpp"
#include "checklist/model/result.hpp"
#include "checklist/model/timestamp.hpp"

#include <nlohmann/json_fwd.hpp>

#include <cstdint>
#include <memory>
#include <string>
#include <utility>
#include <vector>

namespace crossarm::model {

/// Asks an object for its members by name and type. The first missing or wrong member is remembered with its
/// place; later questions answer with empty values, so that a reader can be written straight down and ask
/// once at the end. Readers of inner objects share the memory of the outer one.
class JsonReader {
public:
    /// `place` begins every problem's place: "pack.json: " for the top, then "/body/due/3" and so on.
    JsonReader(const nlohmann::json& json, std::string place);

    [[nodiscard]] bool has(const char* name) const;
    [[nodiscard]] std::string text(const char* name) const;
    [[nodiscard]] std::string text_or(const char* name, const std::string& otherwise) const;
    [[nodiscard]] double number(const char* name) const; ///< finite
    [[nodiscard]] double number_or(const char* name, double otherwise) const;
    [[nodiscard]] std::int64_t integer(const char* name) const; ///< 41 and 41.0 both
    [[nodiscard]] bool boolean_or(const char* name, bool otherwise) const;
    [[nodiscard]] Id id(const char* name) const;
    [[nodiscard]] Timestamp time(const char* name) const;
    [[nodiscard]] Date date(const char* name) const;
    [[nodiscard]] JsonReader object(const char* name) const;
    /// The items of an array of objects.
    [[nodiscard]] std::vector<JsonReader> objects(const char* name) const;
    [[nodiscard]] std::vector<std::string> texts(const char* name) const;
    [[nodiscard]] const nlohmann::json& raw(const char* name) const;

    /// Members that are there but not in `known` are a problem ("unknown member").
    void only(std::initializer_list<const char*> known) const;
    /// Remembers a problem of the caller's own about a member.
    void wrong(const char* name, const std::string& what, const std::string& remedy) const;

    [[nodiscard]] const nlohmann::json& json() const;
    [[nodiscard]] std::string place(const char* name) const;
    [[nodiscard]] bool failed() const { return memory_->failed; }
    [[nodiscard]] const Problem& problem() const { return memory_->problem; }
    /// The value when nothing went wrong, else the first problem.
    template<typename T>
    [[nodiscard]] Result<T> done(T value) const {
        return failed() ? Result<T>(problem()) : Result<T>(std::move(value));
    }

private:
    struct Memory {
        bool failed = false;
        Problem problem;
    };
    JsonReader(const nlohmann::json& json, std::string place, std::shared_ptr<Memory> memory);
    [[nodiscard]] const nlohmann::json* find(const char* name) const;

    const nlohmann::json* json_;
    std::string place_;
    std::shared_ptr<Memory> memory_;
};

} // namespace crossarm::model
