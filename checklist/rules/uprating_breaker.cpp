#include "checklist/rules/uprating_breaker.hpp"

#include "checklist/rules/uprating_check.hpp"

#include <algorithm>

namespace crossarm::rules {
namespace {

using model::Unit;

constexpr std::string_view kSubject = "uprating.breaker";
constexpr double kMarginalShare = 0.9;

bool possible(const BreakerNeeds& n) {
    return within(n.current_A, 1e-3, 20'000.0) && within(n.fault_kA, 1e-3, 200.0) && n.count >= 0 &&
           n.count <= 8;
}

/// The smallest value of a column that is at least `least`; nothing when all are smaller.
std::optional<double> next_up(const model::LimitTable& table, std::string_view column, Unit unit,
                              double least) {
    std::optional<double> best;
    for (const model::LimitRow& row : table.rows) {
        const auto value = cell(table, row, column, unit);
        if (value && *value >= least && (!best || *value < *best)) {
            best = value;
        }
    }
    return best;
}

} // namespace

std::optional<double> share_of_way_A(double current_A, int count, const model::LimitSet& set) {
    const auto uneven = set.value("parallel.uneven", Unit::Percent);
    if (!uneven || !within(current_A, 1e-3, 20'000.0) || count < 1 || count > 8) {
        return std::nullopt;
    }
    return count == 1 ? current_A : current_A / count * (1.0 + *uneven / 100.0);
}

std::optional<Breakers> choose_breakers(const BreakerNeeds& n, const model::LimitSet& set) {
    const auto largest = set.value("frame.largest", Unit::Ampere);
    const auto most = set.value("parallel.most", Unit::One);
    const model::LimitTable* frames = set.table("frames");
    const model::LimitTable* breaking = set.table("breaking");
    if (!possible(n) || !largest || !most || frames == nullptr || breaking == nullptr) {
        return std::nullopt;
    }
    const auto icu = next_up(*breaking, "icu", Unit::KiloAmpere, n.fault_kA / kMarginalShare);
    const int first = n.count > 0 ? n.count : 1;
    const int last = n.count > 0 ? n.count : static_cast<int>(*most);
    for (int ways = first; ways <= last && icu; ++ways) {
        const auto way_A = share_of_way_A(n.current_A, ways, set);
        const auto rating = way_A ? next_up(*frames, "rating", Unit::Ampere, *way_A) : std::nullopt;
        if (rating && *rating <= *largest) {
            return Breakers{ways, *rating, *icu};
        }
    }
    return std::nullopt;
}

Outcome breaker_check(const Breakers& b, const BreakerNeeds& n, const model::LimitSet& set) {
    const auto way_A = share_of_way_A(n.current_A, b.count, set);
    if (!possible(n) || !way_A || !within(b.rating_A, 1.0, 6300.0) || !within(b.icu_kA, 0.5, 200.0)) {
        return refuse(kSubject, say("no.uprating.breaker"));
    }
    const Places places = {{"count", count(b.count)},
                           {"rating", ampere(b.rating_A)},
                           {"way", ampere(*way_A)},
                           {"icu", kilo_ampere(b.icu_kA)},
                           {"fault", kilo_ampere(n.fault_kA)}};
    model::Verdict v =
        passes(kSubject, set.source_of("parallel.uneven"),
               say(b.count > 1 ? "because.uprating.breakers" : "because.uprating.breaker", places));
    v.workings = {{"work.uprating.lv_current", ampere(n.current_A), ""},
                  {"work.uprating.ways", count(b.count), ""},
                  {"work.uprating.way_current", ampere(*way_A), "full load / ways, uneven share added"},
                  {"work.uprating.breaker_rating", ampere(b.rating_A), ""},
                  {"work.uprating.fault", kilo_ampere(n.fault_kA), ""},
                  {"work.uprating.breaking", kilo_ampere(b.icu_kA), "Icu"}};
    if (b.icu_kA < n.fault_kA) {
        fails(v, say("because.uprating.breaker_weak", places),
              say("action.uprating.stronger_breaker", places));
    } else if (b.rating_A < *way_A) {
        fails(v, say("because.uprating.breaker_small", places),
              say("action.uprating.larger_breaker", places));
    } else if (n.fault_kA > kMarginalShare * b.icu_kA) {
        marginal(v, say("because.uprating.breaker_near", places),
                 say("action.uprating.stronger_breaker", places));
    }
    if (b.count > 1) {
        v.cautions.push_back(say("caution.uprating.ways"));
    }
    return v;
}

Outcome breaker_choice(const BreakerNeeds& n, const model::LimitSet& set) {
    const auto chosen = choose_breakers(n, set);
    if (!chosen) {
        return refuse(kSubject, say("no.uprating.breaker"));
    }
    return breaker_check(*chosen, n, set);
}

} // namespace crossarm::rules
