#include "checklist/store/chain.hpp"

namespace crossarm::store {

model::Result<model::Entry> Chain::follow(const Row& row) {
    if (row.visit != visit_ || row.device != device_) {
        visit_ = row.visit;
        device_ = row.device;
        seq_ = 0;
        hash_.clear();
    }
    const std::string where = store_ + ": visit " + model::to_text(row.visit) + ", device " + row.device +
                              ", entry " + std::to_string(row.seq);
    const auto broken = [&where](const std::string& what) {
        return model::Problem{where, what, "do not go on with this store; keep the file and tell the office"};
    };
    if (row.seq != seq_ + 1) {
        return broken("entry " + std::to_string(seq_ + 1) + " is missing before it");
    }
    if (model::hash_of(row.text) != row.hash) {
        return broken("its text is not what was kept: the hash does not match");
    }
    auto entry = model::read_entry(row.text, where);
    if (!entry) {
        return broken("its text cannot be read: " + entry.problem().what);
    }
    if (entry->id != row.id || entry->visit != row.visit || entry->device != row.device ||
        entry->seq != row.seq) {
        return broken("its text belongs to another place in the journal");
    }
    if (entry->prev != hash_) {
        return broken("the entry before it was changed: the chain of hashes is broken");
    }
    seq_ = row.seq;
    hash_ = row.hash;
    return entry;
}

} // namespace crossarm::store
