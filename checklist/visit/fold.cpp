// The fold: from entries to what a visit is now.
#include "checklist/visit/fold_permit.hpp"
#include "checklist/visit/state.hpp"

#include <algorithm>
#include <tuple>

namespace crossarm::visit {

namespace {

using model::Entry;
using model::Id;

std::vector<Entry> in_order(const std::vector<Entry>& entries) {
    std::vector<Entry> out = entries;
    std::ranges::sort(out, [](const Entry& a, const Entry& b) {
        return std::tie(a.device, a.seq, a.id) < std::tie(b.device, b.seq, b.id);
    });
    const auto same = std::ranges::unique(out, {}, &Entry::id);
    out.erase(same.begin(), same.end());
    return out;
}

const model::Found* as_found(const Entry& entry) {
    return std::get_if<model::Found>(&entry.body);
}

std::set<Id> withdrawn_ids(const std::vector<Entry>& entries) {
    std::set<Id> out;
    for (const Entry& entry : entries) {
        if (const auto* withdrawn = std::get_if<model::Withdrawn>(&entry.body)) {
            out.insert(withdrawn->entry);
        }
    }
    return out;
}

// A correction takes the place of what it names only while it was not withdrawn itself.
std::set<Id> replaced_ids(const std::vector<Entry>& entries, const std::set<Id>& withdrawn) {
    std::set<Id> out;
    for (const Entry& entry : entries) {
        const model::Found* found = as_found(entry);
        if (found != nullptr && found->replaces && !withdrawn.contains(entry.id)) {
            out.insert(*found->replaces);
        }
    }
    return out;
}

// What stands when a permit is prepared or issued is what it stands on.
bool is_foundation(const Entry& entry) {
    const auto* acted = std::get_if<model::PermitActed>(&entry.body);
    return acted != nullptr && (std::holds_alternative<model::permit::Prepared>(acted->act) ||
                                std::holds_alternative<model::permit::Issued>(acted->act));
}

void place_answers(const std::vector<Entry>& entries, const std::set<Id>& withdrawn, State& state) {
    const std::set<Id> replaced = replaced_ids(entries, withdrawn);
    std::map<std::string, std::map<std::string, Answer>> standing; // checkpoint -> device -> last answer
    for (const Entry& entry : entries) {
        if (is_foundation(entry)) {
            state.undoable.clear();
        }
        const model::Found* found = as_found(entry);
        if (found == nullptr || withdrawn.contains(entry.id)) {
            continue;
        }
        state.undoable.push_back(entry.id);
        if (!replaced.contains(entry.id)) {
            standing[found->finding.checkpoint][entry.device] =
                Answer{entry.id, entry.at, entry.by, entry.device, entry.seq, found->finding};
        }
    }
    for (const auto& [checkpoint, by_device] : standing) {
        state.answers[checkpoint] = by_device.rbegin()->second;
        const bool differ = std::ranges::any_of(by_device, [&](const auto& one) {
            return !(one.second.finding == by_device.begin()->second.finding);
        });
        if (differ) {
            Conflict conflict{checkpoint, {}};
            for (const auto& [device, answer] : by_device) {
                conflict.answers.push_back(answer);
            }
            state.conflicts.push_back(std::move(conflict));
        }
    }
}

bool is_doing(const model::permit::Act& act) {
    return !std::holds_alternative<model::permit::Suspended>(act) &&
           !std::holds_alternative<model::permit::LeadDecided>(act);
}

struct Apply {
    State& state;
    const Entry& entry;

    void operator()(const model::Opened& body) const {
        if (!state.structure.empty()) {
            return; // a second tablet opened the same visit; the first in order stands
        }
        state.structure = body.structure;
        state.protocol = body.protocol;
        state.day_pack = body.day_pack;
        state.opened_at = entry.at;
        state.opened_by = entry.by;
    }
    void operator()(const model::Found&) const { state.doers.insert(entry.by); }
    void operator()(const model::Withdrawn&) const { state.doers.insert(entry.by); }
    void operator()(const model::StageFinished& body) const {
        state.finished.insert(body.stage);
        state.doers.insert(entry.by);
    }
    void operator()(const model::DangerDecided& body) const {
        std::erase_if(state.decisions, [&](const Decision& one) { return one.entry == body.entry; });
        state.decisions.push_back({body.entry, body.checkpoint, body.decision, body.reason, entry.by});
    }
    void operator()(const model::Signed& body) const {
        state.signature = Signature{entry.by, entry.at, body.head, body.words};
    }
    void operator()(const model::BrokenOff& body) const {
        state.broken_off = body.reason;
        state.doers.insert(entry.by);
    }
    void operator()(const model::PermitActed& body) const {
        if (is_doing(body.act)) {
            state.doers.insert(entry.by);
        }
    }
    void operator()(const model::OtherKind&) const { ++state.left_out; }
};

} // namespace

State fold(const std::vector<Entry>& entries, const permit::Rules& rules) {
    State state;
    const std::vector<Entry> ordered = in_order(entries);
    for (const Entry& entry : ordered) {
        if (!state.visit) {
            state.visit = entry.visit;
        }
        model::require(*state.visit == entry.visit, "fold takes the entries of one visit");
        if (entry.at.utc_ms >= state.last_at.utc_ms) {
            state.last_at = entry.at;
        }
        std::visit(Apply{state, entry}, entry.body);
    }
    state.entries = ordered.size();
    const std::set<Id> withdrawn = withdrawn_ids(ordered);
    place_answers(ordered, withdrawn, state);
    state.permit = fold_permit(ordered, state.structure, rules);
    return state;
}

} // namespace crossarm::visit
