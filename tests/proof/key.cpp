#include "tests/proof/key.hpp"

#include "checklist/model/result.hpp"
#include "checklist/visit/permit_facts.hpp"

#include <algorithm>

namespace crossarm::proof {

namespace {

using namespace visit::permit;

class Bits {
public:
    Key key;
    void put(std::uint64_t value, unsigned width) {
        model::require(value < (1ULL << width) && at_ + width <= 128, "a state fits its key");
        if (at_ < 64 && at_ + width > 64) {
            at_ = 64; // nothing lies across both words
        }
        (at_ < 64 ? key.low : key.high) |= value << (at_ % 64);
        at_ += width;
    }

private:
    unsigned at_ = 0;
};

std::uint64_t person(const std::string& id) {
    return id.empty() ? 0 : static_cast<std::uint64_t>(id.front() - '0');
}
std::uint64_t party_number(const std::string& id) {
    return id.empty() ? 0 : static_cast<std::uint64_t>(id.front() - 'A' + 1);
}
std::uint64_t moment_of(model::Timestamp at) {
    const auto found = std::ranges::find(kMoments, at.utc_ms);
    return static_cast<std::uint64_t>(found - kMoments.begin());
}
// Ends: none, over at the second moment, at the third, never in this world.
std::uint64_t end_of(model::Timestamp until) {
    return until.utc_ms == 0 ? 0 : until.utc_ms < kMoments[1] ? 1 : until.utc_ms < kMoments[2] ? 2 : 3;
}

void put(Bits& bits, const Proof& proof, Side side) {
    bits.put(proof.before ? 1 : 0, 1);
    bits.put(proof.after ? 1 : 0, 1);
    for (const std::string_view conductor : conductors(side)) {
        bits.put(proof.without_indication.contains(conductor) ? 1 : 0, 1);
    }
    bits.put(proof.before ? moment_of(proof.at) : 0, 2);
    bits.put(proof.detector == "E" ? 1 : 0, 1);
}

// Of a party that is back only what a later issue asks is kept: whether it had worked, and since when.
void put(Bits& bits, const Party* party) {
    const bool held = party != nullptr && holds(*party);
    bits.put(party == nullptr ? 0 : 1 + static_cast<std::uint64_t>(party->holding), 3);
    bits.put(!held ? 0 : person(party->holder), 2);
    bits.put(!held ? 0 : person(party->issuer), 2);
    bits.put(!held ? 0 : end_of(party->until), 2);
    bits.put(party == nullptr ? 0 : moment_of(party->issued_at), 2);
    bits.put(party != nullptr && party->ever_accepted ? 1 : 0, 1);
    bits.put(party == nullptr ? 0 : static_cast<std::uint64_t>(std::clamp(tools_missing(*party), -1, 2) + 1),
             2);
}

} // namespace

Key key_of(const State& state, std::size_t now) {
    Bits bits;
    bits.put(now, 2);
    bits.put(state.prepared ? 1 : 0, 1);
    bits.put(state.cancelled ? 1 : 0, 1);
    for (const char* id : {"H1", "H2", "L1"}) {
        const Point* point = point_of(state, id);
        bits.put(point == nullptr ? 0 : 1, 1);
        bits.put(point != nullptr && point->open ? 1 : 0, 1);
        bits.put(point != nullptr && point->locked ? 1 : 0, 1);
    }
    bits.put(!state.supplies ? 0 : state.supplies->solar == "earthed" ? 2 : 1, 2);
    put(bits, state.hv, Side::Hv);
    put(bits, state.lv, Side::Lv);
    for (const char* id : {"CH", "CL", "WE"}) {
        const Earth* earth = earth_of(state, id);
        bits.put(earth != nullptr && earth->earth_end ? 1 : 0, 1);
        bits.put(earth != nullptr && earth->line_end ? 1 : 0, 1);
    }
    bits.put(std::min<std::uint64_t>(state.live_parts.size(), 1), 1);
    bits.put(state.zone.empty() ? 0 : 1, 1);
    bits.put(earth_excused(state, Side::Hv) ? 1 : 0, 1);
    bits.put(earth_excused(state, Side::Lv) ? 1 : 0, 1);
    put(bits, party_of(state, "A"));
    put(bits, party_of(state, "B"));
    for (const char* id : {"1", "2", "3"}) {
        const auto on = state.on.find(id);
        bits.put(on == state.on.end() ? 0 : party_number(on->second), 2);
        bits.put(state.briefed.contains(id) ? 1 : 0, 1);
    }
    return bits.key;
}

} // namespace crossarm::proof
