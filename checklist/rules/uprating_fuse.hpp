// The HV fuse link that belongs to a transformer.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::rules {

/// A link by its marking, "16 K": rated current and class.
struct FuseLink {
    double rating_A = 0.0;
    char kind = 'K'; ///< 'K' or 'T'
    bool operator==(const FuseLink&) const = default;
};
/// Reads "16 K", "16K" or "16 A K"; nothing for anything else.
[[nodiscard]] std::optional<FuseLink> link_of(std::string_view text);
/// "16 K"
[[nodiscard]] std::string link_text(const FuseLink& link);

struct FuseReadings {
    double rating_kVA = 0.0;        ///< of the new transformer
    double hv_kV = 11.0;            ///< nominal
    std::optional<double> fault_kA; ///< at the HV side
    std::string fitted;             ///< as the register has it; may be empty
};

/// The link of the utility's table (rows by rating, columns "link" A and "class_t"); nothing when the table
/// was made for another voltage ("voltage", 10 % either way) or has no row for that rating: links are not
/// interpolated.
[[nodiscard]] std::optional<FuseLink> table_link(const FuseReadings& readings, const model::LimitSet& table);
/// Preferred links between "factor.low" and "factor.high" times the full-load current, rising.
[[nodiscard]] std::vector<double> window_links(double rating_kVA, double hv_kV,
                                               const model::LimitSet& window);

/// By the table: passes when the fitted link is that one, fails when another or none is fitted: the link is
/// changed with the transformer. Without a row: marginal, with the links of the window to choose from.
/// Refused when the HV fault level is above "fault.most" of the table or the voltage is another one. Subject
/// "uprating.hv_fuse".
[[nodiscard]] Outcome fuse_check(const FuseReadings& readings, const model::LimitSet& table,
                                 const model::LimitSet& window);

} // namespace crossarm::rules
