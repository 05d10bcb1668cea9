// Finds and reads the data files that the programs come with: words, limits, protocols.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/model/protocol.hpp"
#include "checklist/model/result.hpp"
#include "checklist/model/words.hpp"

#include <string>
#include <string_view>

namespace crossarm::bundle {

/// The assets folder: where CROSSARM_ASSETS points, else "assets" beside the program, else the source tree's.
/// When CROSSARM_ASSETS is set nothing else is tried. Problem names every place looked at.
[[nodiscard]] model::Result<std::string> assets_dir();

/// Every file of words/<language>, in order of names, as one language.
[[nodiscard]] model::Result<model::Words> load_words(const std::string& assets, std::string_view language);

/// Every set in limits/, in order of file names, and the choice in chosen_limits.json. Problem for two sets
/// with one id, or a choice of a set that is not there or is made for another subject.
[[nodiscard]] model::Result<model::LimitLibrary> load_limits(const std::string& assets);

/// The protocol of that id in protocols/ (looked up in the files, whatever their names).
[[nodiscard]] model::Result<model::Protocol> load_protocol(const std::string& assets, std::string_view id);

} // namespace crossarm::bundle
