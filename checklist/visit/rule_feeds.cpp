#include "checklist/visit/rule_feeds.hpp"

#include "checklist/visit/adapters.hpp"

#include <array>

namespace crossarm::visit {

namespace {

struct Adapter {
    std::string_view rule;
    Fed (*feed)(const Feed&);
};

constexpr std::array kAdapters = {
    Adapter{"oil.breakdown", feed_breakdown},
    Adapter{"oil.look", feed_look},
    Adapter{"breather.gel", feed_gel},
    Adapter{"breather.cup", feed_cup},
    Adapter{"tank.level", feed_level},
    Adapter{"tank.leak", feed_leak},
    Adapter{"bushing.damage", feed_damage},
    Adapter{"insulation.resistance", feed_insulation},
    Adapter{"vegetation.clearance", feed_clearance},
    Adapter{"vegetation.trim", feed_trim},
    Adapter{"joint.rise", feed_joints},
    Adapter{"loading.share", feed_load},
    Adapter{"voltage.unbalance", feed_unbalance},
    Adapter{"earth.electrode", feed_electrode},
    Adapter{"conditions.wind", feed_wind},
    Adapter{"gear.test_date", feed_gear},
};

} // namespace

std::optional<rules::Outcome> feed_rule(std::string_view rule, const Feed& feed) {
    for (const Adapter& adapter : kAdapters) {
        if (adapter.rule == rule) {
            return adapter.feed(feed);
        }
    }
    return std::nullopt;
}

std::vector<std::string> rule_names() {
    std::vector<std::string> out;
    for (const Adapter& adapter : kAdapters) {
        out.emplace_back(adapter.rule);
    }
    return out;
}

} // namespace crossarm::visit
