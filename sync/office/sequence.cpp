#include "sync/office/sequence.hpp"

#include <map>
#include <set>
#include <tuple>

namespace crossarm::office {

Sequence check_sequence(const std::vector<BundleRow>& bundles) {
    using Number = std::tuple<std::string, std::int64_t, std::int64_t>;
    std::set<std::string> held;
    std::map<Number, std::set<std::string>> by_number;
    for (const BundleRow& row : bundles) {
        held.insert(row.digest);
        by_number[{row.device, row.life, row.seq}].insert(row.digest);
    }
    std::set<std::pair<Number, std::string>> missing;
    for (const BundleRow& row : bundles) {
        if (!row.prev.empty() && !held.contains(row.prev)) {
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

} // namespace crossarm::office
