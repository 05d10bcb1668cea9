#include "sync/office/sequence.hpp"

#include <map>
#include <optional>
#include <set>
#include <tuple>

namespace crossarm::office {

Sequence check_sequence(const std::vector<BundleRow>& bundles,
                        const std::function<bool(const std::string& digest)>& is_held) {
    using Number = std::tuple<std::string, std::int64_t, std::int64_t>;
    std::map<Number, std::set<std::string>> by_number;
    for (const BundleRow& row : bundles) {
        by_number[{row.device, row.life, row.seq}].insert(row.digest);
    }
    std::set<std::pair<Number, std::string>> missing;
    for (const BundleRow& row : bundles) {
        if (!row.prev.empty() && !is_held(row.prev)) {
            missing.insert({{row.device, row.life, row.seq - 1}, row.prev});
        }
    }
    Sequence sequence;
    for (const auto& [number, digest] : missing) {
        const auto& [device, life, seq] = number;
        sequence.gaps.push_back({device, life, seq, digest});
    }
    for (const auto& [number, digests] : by_number) {
        if (digests.size() > 1) {
            const auto& [device, life, seq] = number;
            sequence.forks.push_back({device, life, seq, {digests.begin(), digests.end()}});
        }
    }
    return sequence;
}

model::Result<Sequence> check_sequence(const OfficeStore& store) {
    const auto rows = store.orphans_and_doubles();
    if (!rows) {
        return rows.problem();
    }
    std::optional<model::Problem> problem;
    Sequence sequence = check_sequence(*rows, [&](const std::string& digest) {
        const auto is_held = store.has(digest);
        if (!is_held) {
            problem = is_held.problem();
        }
        return is_held && *is_held;
    });
    if (problem) {
        return *problem;
    }
    return sequence;
}

} // namespace crossarm::office
