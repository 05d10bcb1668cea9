#include "tests/proof/explore.hpp"

#include <algorithm>
#include <deque>
#include <optional>
#include <random>
#include <unordered_map>

namespace crossarm::proof {

namespace {

using namespace visit::permit;

constexpr std::size_t kWitnesses = 150; // of a guard; drawn evenly from all that there are

const std::string kStructure = "QM-0101";

struct Node {
    State state;
    std::size_t now = 0;
    std::uint32_t id = 0;
};

/// The state after the move, when no guard refuses; the first broken property is told to `complaint`.
std::optional<State> carry_out(const World& world, const Move& move, const State& state, std::size_t now,
                               std::span<const Guard> guards, std::string& complaint) {
    const Rules& rules = world.rules;
    std::optional<State> current;
    for (const Wish& wish : move.wishes) {
        const State& before = current ? *current : state;
        if (refusal({rules, world.powers, before, wish.act, wish.by, moment(now), kStructure}, guards)) {
            return std::nullopt;
        }
        State after = apply(before, wish.act, wish.by, moment(now));
        if (const Property* property = broken({world, before, after, wish, moment(now)});
            property != nullptr && complaint.empty()) {
            complaint = property->name;
        }
        current = std::move(after);
    }
    return current;
}

class Walk {
public:
    Walk(const World& world, std::span<const Guard> guards, std::size_t most)
        : world_(world), guards_(guards), most_(most) {}

    void reach(State state, std::size_t now, std::uint32_t from, std::size_t by) {
        const auto [found, is_new] =
            ids_.try_emplace(key_of(state, now), static_cast<std::uint32_t>(ids_.size()));
        const std::uint32_t id = found->second;
        edges_.emplace_back(from, id);
        if (!is_new) {
            return;
        }
        came_.emplace_back(from, static_cast<std::uint32_t>(by));
        if (is_closed(state)) {
            closed_.push_back(id);
        }
        if (const char* wrong = broken_by_time(world_, state, moment(now));
            wrong != nullptr && out.complaint.empty()) {
            out.complaint = std::string(wrong) + trace(id);
        }
        open_.push_back({std::move(state), now, id});
    }

    /// False when it stopped early: a broken property, or more states than it may visit.
    bool run(bool with_witnesses) {
        while (!open_.empty() && out.complaint.empty()) {
            if (ids_.size() > most_) {
                return false;
            }
            const Node node = std::move(open_.front());
            open_.pop_front();
            for (std::size_t i = 0; i < world_.moves.size(); ++i) {
                const Move& move = world_.moves[i];
                if (!is_offered(move, node.state)) {
                    continue;
                }
                if (with_witnesses && move.wishes.size() == 1) {
                    witness(node, i);
                }
                std::string complaint;
                auto after = carry_out(world_, move, node.state, node.now, guards_, complaint);
                if (after) {
                    reach(std::move(*after), node.now, node.id, i);
                }
                if (!complaint.empty() && out.complaint.empty()) {
                    out.complaint = complaint + ": " + move.name + trace(node.id);
                }
            }
            const auto next = std::ranges::upper_bound(world_.moments, node.now);
            if (next != world_.moments.end()) {
                reach(node.state, *next, node.id, world_.moves.size());
            }
        }
        return out.complaint.empty();
    }

    void look_for_dead_ends() {
        std::vector<std::uint32_t> begin(ids_.size() + 1, 0);
        for (const auto& [from, to] : edges_) {
            if (from != to && from != kNobody) {
                ++begin[to + 1];
            }
        }
        for (std::size_t i = 1; i < begin.size(); ++i) {
            begin[i] += begin[i - 1];
        }
        std::vector<std::uint32_t> back(begin.back());
        std::vector<std::uint32_t> next(begin.begin(), begin.end() - 1);
        for (const auto& [from, to] : edges_) {
            if (from != to && from != kNobody) {
                back[next[to]++] = from;
            }
        }
        std::vector<bool> ends(ids_.size(), false);
        std::vector<std::uint32_t> open = closed_;
        for (const std::uint32_t id : open) {
            ends[id] = true;
        }
        std::size_t count = open.size();
        while (!open.empty()) {
            const std::uint32_t id = open.back();
            open.pop_back();
            for (std::uint32_t i = begin[id]; i < begin[id + 1]; ++i) {
                if (!ends[back[i]]) {
                    ends[back[i]] = true;
                    ++count;
                    open.push_back(back[i]);
                }
            }
        }
        out.dead_ends = ids_.size() - count;
        for (std::uint32_t id = 0; id < ends.size() && out.dead_end.empty(); ++id) {
            if (!ends[id]) {
                out.dead_end = trace(id);
            }
        }
    }

    void count() {
        out.states = ids_.size();
        out.edges = edges_.size() - 1;
        out.closed = closed_.size();
    }

    static constexpr std::uint32_t kNobody = 0xFFFFFFFFU;
    Explored out;

private:
    [[nodiscard]] std::string trace(std::uint32_t id) const {
        std::string text;
        while (id != kNobody) {
            const auto [from, by] = came_[id];
            text = from == kNobody
                       ? text
                       : "\n  " + (by < world_.moves.size() ? world_.moves[by].name : "time passes") + text;
            id = from;
        }
        return text;
    }

    void witness(const Node& node, std::size_t move) {
        const Wish& wish = world_.moves[move].wishes.front();
        const Wished wished{world_.rules, world_.powers,    node.state, wish.act,
                            wish.by,      moment(node.now), kStructure};
        const Guard* only = nullptr;
        for (const Guard& guard : guards_) {
            if (guard.refuses(wished)) {
                if (only != nullptr) {
                    return;
                }
                only = &guard;
            }
        }
        if (only == nullptr) {
            return;
        }
        auto& list = out.witnesses[only->name];
        const std::size_t seen = ++seen_[only->name];
        if (list.size() < kWitnesses) {
            list.push_back({node.state, node.now, move});
        } else if (const std::size_t at = random_() % seen; at < kWitnesses) {
            list[at] = {node.state, node.now, move};
        }
    }

    const World& world_;
    std::span<const Guard> guards_;
    std::size_t most_;
    std::unordered_map<Key, std::uint32_t, KeyHash> ids_;
    std::vector<std::pair<std::uint32_t, std::uint32_t>> edges_, came_;
    std::vector<std::uint32_t> closed_;
    std::deque<Node> open_;
    std::map<std::string, std::size_t> seen_;
    std::mt19937 random_{20261125}; // NOLINT(cert-msc32-c,cert-msc51-cpp): the same draw on every run
};

} // namespace

Explored explore(const World& world, std::span<const Guard> guards, bool with_witnesses) {
    Walk walk(world, guards, 50'000'000);
    walk.reach(world.start, 0, Walk::kNobody, 0);
    walk.run(with_witnesses);
    walk.look_for_dead_ends();
    walk.count();
    return std::move(walk.out);
}

std::string consequence(const World& world, const Witness& witness, std::span<const Guard> guards,
                        std::size_t most) {
    std::string complaint;
    auto after = carry_out(world, world.moves[witness.move], witness.state, witness.now, guards, complaint);
    if (!after || !complaint.empty()) {
        return complaint;
    }
    Walk walk(world, guards, most);
    walk.reach(std::move(*after), witness.now, Walk::kNobody, 0);
    if (!walk.run(false)) {
        return walk.out.complaint.substr(0, walk.out.complaint.find_first_of(":\n"));
    }
    walk.look_for_dead_ends();
    return walk.out.dead_ends > 0 ? "dead end" : "";
}

} // namespace crossarm::proof
