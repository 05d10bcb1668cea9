// Uprating studies for other programs: JSON of one study, CSV and JSON of a ranking, CSV of materials.
#pragma once

#include "checklist/model/words.hpp"
#include "checklist/rules/uprating_study.hpp"

#include <string>
#include <vector>

namespace crossarm::office {

/// One line of a ranking: what a study came to, without its workings.
struct RankedStudy {
    rules::Urgency urgency;
    std::string name;
    std::string feeder;
    double present_kVA = 0.0;
    std::optional<double> now_kVA;
    std::optional<double> horizon_kVA;
    std::optional<double> hot_spot_C;
    std::optional<double> ageing;
    rules::Proposal proposal;
    std::optional<double> headroom_now_kVA; ///< with the proposed rating
    std::optional<double> headroom_horizon_kVA;
    std::optional<double> hv_A;
    std::optional<double> lv_A;
    std::optional<model::Grade> worst; ///< of all checks; nothing when none has a verdict
    int fail = 0;
    int marginal = 0;
    int pass = 0;
    int none = 0;
};
[[nodiscard]] RankedStudy ranked(const rules::Study& study, const model::Structure& at);

/// Canonical JSON, "crossarm.study/1".
[[nodiscard]] std::string study_json(const rules::StudyFacts& facts, const rules::Study& study);
/// Canonical JSON, "crossarm.study-ranking/1", in the order given.
[[nodiscard]] std::string ranking_json(const std::vector<RankedStudy>& rows);
/// RFC 4180 with a header; what is not known is empty.
[[nodiscard]] std::string ranking_csv(const std::vector<RankedStudy>& rows);
[[nodiscard]] std::string materials_csv(const rules::Study& study, const model::Words& words);

} // namespace crossarm::office
