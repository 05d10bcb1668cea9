#include "sync/bundle/bundle_entries.hpp"

#include "checklist/visit/state.hpp"

#include <set>

namespace crossarm::bundle {

namespace {

using model::Done;
using model::Entry;
using model::Problem;

constexpr const char* kRemedy = "write the bundle again on the tablet and bring that one";

/// What the fold needs to say who worked: not what was found, which may be long.
std::vector<Entry> without_values(const std::vector<Entry>& entries) {
    std::vector<Entry> bare;
    bare.reserve(entries.size());
    for (const Entry& entry : entries) {
        const auto* found = std::get_if<model::Found>(&entry.body);
        bare.push_back({entry.id, entry.visit, entry.device, entry.seq, entry.at, entry.by,
                        found != nullptr ? model::Body(model::Found{
                                               {"", found->finding.checkpoint, {}, "", ""}, found->replaces})
                                         : entry.body,
                        entry.prev});
    }
    return bare;
}

struct Chain {
    const Bundle& bundle;
    const std::vector<Entry>& entries;
    const std::vector<std::string>& hashes;
    const std::string& place;

    [[nodiscard]] Problem wrong(std::size_t i, const char* member, std::string what) const {
        return {place + "/" + std::to_string(i) + "/" + member, std::move(what), kRemedy};
    }
    [[nodiscard]] bool begins(std::size_t i) const {
        return i == 0 || entries[i].device != entries[i - 1].device;
    }
    [[nodiscard]] bool is_amendment() const { return bundle.revision > 1; }
    [[nodiscard]] Done links() const;
    [[nodiscard]] Done whole(bool is_opened, bool is_signed) const;
    [[nodiscard]] Done opened(std::size_t i, const model::Opened& body) const;
    [[nodiscard]] Done signatures() const;
    /// Nothing that changes the visit may follow a signature; kinds of newer versions may.
    [[nodiscard]] bool may_follow(std::size_t i) const {
        return std::holds_alternative<model::OtherKind>(entries[i].body) ||
               std::holds_alternative<model::Signed>(entries[i].body);
    }
};

Done Chain::links() const {
    std::set<model::Id> ids;
    for (std::size_t i = 0; i < entries.size(); ++i) {
        const Entry& entry = entries[i];
        if (entry.visit != bundle.visit) {
            return wrong(i, "visit", "the entry belongs to another visit");
        }
        if (!ids.insert(entry.id).second) {
            return wrong(i, "id", "two entries have this id");
        }
        if (begins(i) && i > 0 && entry.device <= entries[i - 1].device) {
            return wrong(i, "device", "the entries are not in order of device");
        }
        // An amendment may begin where the bundles before it end.
        const bool may_begin = is_amendment() && begins(i);
        const std::int64_t expected = begins(i) ? 1 : entries[i - 1].seq + 1;
        if (entry.seq != expected && !may_begin) {
            return wrong(i, "seq",
                         "entry " + std::to_string(expected) +
                             " of this device is missing: " + std::to_string(entry.seq) + " stands here");
        }
        if (may_begin && entry.seq > 1) {
            if (entry.prev.empty()) {
                return wrong(i, "prev", "it names no entry before it, and is not this device's first");
            }
            continue;
        }
        if (entry.prev != (begins(i) ? std::string() : hashes[i - 1])) {
            return wrong(i, "prev", "the chain is broken: this is not the hash of the entry before");
        }
    }
    return {};
}

Done Chain::opened(std::size_t i, const model::Opened& body) const {
    if (body.structure != bundle.structure.id) {
        return wrong(i, "data/structure",
                     "the visit was opened at " + body.structure + ", the bundle's register is of " +
                         bundle.structure.id);
    }
    if (body.protocol != bundle.protocol || body.protocol_digest != bundle.protocol_digest) {
        return wrong(i, "data/protocol", "the visit was opened under another protocol than the bundle names");
    }
    return {};
}

Done Chain::signatures() const {
    // Who counts as a doer is the fold's word; it needs no protocol for that.
    const std::set<std::string> doers = visit::fold(without_values(entries)).doers;
    bool is_opened = false;
    bool is_signed = false;
    bool is_closed = false; // this device's part, by a signature
    for (std::size_t i = 0; i < entries.size(); ++i) {
        const model::Body& body = entries[i].body;
        is_closed = is_closed && !begins(i);
        if (is_closed && !may_follow(i) && !is_amendment()) {
            return wrong(i, "kind", "something was recorded after the signature");
        }
        if (const auto* opening = std::get_if<model::Opened>(&body)) {
            if (auto checked = opened(i, *opening); !checked) {
                return checked;
            }
            is_opened = true;
        }
        const auto* signature = std::get_if<model::Signed>(&body);
        if (signature == nullptr) {
            // What an amendment adds on a device is signed again after it.
            is_signed = is_signed && (!is_amendment() || may_follow(i));
            continue;
        }
        if (signature->head != entries[i].prev) {
            return wrong(i, "data/head", "what was signed is not the entry before the signature");
        }
        if (doers.contains(entries[i].by)) {
            return wrong(i, "by", entries[i].by + " signed the visit and also worked on it");
        }
        is_closed = true;
        is_signed = true;
    }
    return whole(is_opened, is_signed);
}

Done Chain::whole(bool is_opened, bool is_signed) const {
    if (!is_opened && !is_amendment()) {
        return Problem{place, "the visit was never opened", kRemedy};
    }
    if (bundle.is_open) {
        return {};
    }
    if (!is_signed) {
        return Problem{place,
                       is_amendment() ? "nobody has signed the amendment" : "nobody has signed the visit",
                       kRemedy};
    }
    return {};
}

} // namespace

Done check_entries(const Bundle& bundle, const std::vector<Entry>& entries,
                   const std::vector<std::string>& hashes, const std::string& place) {
    const Chain chain{bundle, entries, hashes, place};
    if (auto linked = chain.links(); !linked) {
        return linked;
    }
    return chain.signatures();
}

} // namespace crossarm::bundle
