// The crossarm-office command without its surroundings: words in, text out, exit code back.
#pragma once

#include "checklist/model/timestamp.hpp"
#include "sync/office/progress.hpp"

#include <functional>
#include <string>
#include <vector>

namespace crossarm::office {

/// What the command would print, and how it ends.
struct Ending {
    int code = 0; ///< 0 all done; 1 something that came in was refused; 2 it could not work
    std::string out;
    std::string err;
};

/// What a command needs from around it. The last three are for work that goes on for long: what it says
/// meanwhile, whether it is to go on, and how far it has come (may be empty).
struct Surroundings {
    std::function<model::Timestamp()> now;
    std::function<void(const std::string&)> out;
    std::function<void(const std::string&)> err;
    std::function<bool()> go_on;
    Progress progress = {};
};

/// `words` are those behind the program's name.
[[nodiscard]] Ending run_command(const std::vector<std::string>& words, const Surroundings& around);
/// The same at one moment, with everything that is said in the ending. `words` are those behind the program's
/// name; `now` is noted with bundles that are taken in.
[[nodiscard]] Ending run_command(const std::vector<std::string>& words, model::Timestamp now);

} // namespace crossarm::office
