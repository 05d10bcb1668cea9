// The crossarm-office command without its surroundings: words in, text out, exit code back.
#pragma once

#include "checklist/model/timestamp.hpp"

#include <string>
#include <vector>

namespace crossarm::office {

/// What the command would print, and how it ends.
struct Ending {
    int code = 0; ///< 0 all done; 1 something that came in was refused; 2 it could not work
    std::string out;
    std::string err;
};

/// `words` are those behind the program's name; `now` is noted with bundles that are taken in.
[[nodiscard]] Ending run_command(const std::vector<std::string>& words, model::Timestamp now);

} // namespace crossarm::office
