// Everything that uprating studies of a register need, read once, and the ranking of all its structures.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/model/register.hpp"
#include "checklist/model/words.hpp"
#include "sync/office/arguments.hpp"
#include "sync/office/command.hpp"
#include "sync/office/new_units.hpp"
#include "sync/office/progress.hpp"
#include "sync/office/study_export.hpp"
#include "sync/office/study_files.hpp"

#include <optional>
#include <vector>

namespace crossarm::office {

struct StudyDesk {
    model::Register reg;
    StudyInputs in;
    model::LimitLibrary library;
    model::Words words;
    rules::Wish wish;
    std::vector<NewUnit> units; ///< of the office store; none without one
    int years = 10;             ///< to the horizon

    [[nodiscard]] rules::StudyFacts facts(const model::Structure& at) const;
};

/// Reads what the arguments name: register (needed), sites, loads, asked, stock, prices, years, rating,
/// breakers, cable, store, assets. Nothing when all is there, else how a command ends.
[[nodiscard]] std::optional<Ending> fill_desk(StudyDesk& desk, const Arguments& arguments);

/// A study of every structure, the most urgent first. Two at a time; the outcome does not depend on it.
[[nodiscard]] std::vector<RankedStudy> ranking(const StudyDesk& desk, const Progress& progress = {});

} // namespace crossarm::office
