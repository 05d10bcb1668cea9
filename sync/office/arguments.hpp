// The words of a command line: names beginning with -- and what stands between them.
#pragma once

#include "checklist/model/result.hpp"

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::office {

/// Which names a command takes: with a value behind them, or alone.
struct Grammar {
    std::vector<std::string> with_value; ///< "store"
    std::vector<std::string> alone;      ///< "json"
};

class Arguments {
public:
    /// Problem for an unknown name (with the nearest known one), a value that is missing, a name given twice.
    [[nodiscard]] static model::Result<Arguments> read(const std::vector<std::string>& words,
                                                       const Grammar& grammar);

    [[nodiscard]] bool has(std::string_view name) const;
    /// "" when it was not given.
    [[nodiscard]] std::string value(std::string_view name) const;
    /// Problem when it was not given.
    [[nodiscard]] model::Result<std::string> needed(std::string_view name) const;
    [[nodiscard]] const std::vector<std::string>& plain() const { return plain_; }

private:
    std::map<std::string, std::string, std::less<>> named_;
    std::vector<std::string> plain_;
};

} // namespace crossarm::office
