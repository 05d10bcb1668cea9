#include "sync/office/dump.hpp"

#include "checklist/model/canonical.hpp"
#include "checklist/model/digest.hpp"
#include "sync/office/sequence.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>

namespace crossarm::office {

namespace {

void add(std::string& out, const nlohmann::json& line) {
    out += model::canonical(line);
    out += '\n';
}

} // namespace

model::Result<std::string> dump(const OfficeStore& store) {
    auto bundles = store.bundles();
    if (!bundles) {
        return bundles.problem();
    }
    std::string out;
    add(out, {{"format", "crossarm.office-dump/1"}});
    const auto sequence = check_sequence(store);
    if (!sequence) {
        return sequence.problem();
    }
    std::ranges::sort(*bundles, {}, &BundleRow::digest);
    for (const BundleRow& row : *bundles) {
        const auto raw = store.raw(row.digest);
        if (!raw) {
            return raw.problem();
        }
        add(out, {{"bundle", row.digest},
                  {"device", row.device},
                  {"life", row.life},
                  {"seq", row.seq},
                  {"prev", row.prev},
                  {"visit", model::to_text(row.visit)},
                  {"bytes", model::sha256_hex(*raw)}});
    }
    const auto visits = store.visits();
    if (!visits) {
        return visits.problem();
    }
    for (const model::Id& visit : *visits) {
        const auto texts = store.texts(visit);
        if (!texts) {
            return texts.problem();
        }
        for (const std::string& text : *texts) {
            out += text;
            out += '\n';
        }
    }
    for (const Gap& gap : sequence->gaps) {
        add(out, {{"gap", gap.digest}, {"device", gap.device}, {"life", gap.life}, {"seq", gap.seq}});
    }
    for (const Fork& fork : sequence->forks) {
        add(out, {{"fork", fork.digests}, {"device", fork.device}, {"life", fork.life}, {"seq", fork.seq}});
    }
    return out;
}

} // namespace crossarm::office
