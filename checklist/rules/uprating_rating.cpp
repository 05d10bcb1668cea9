#include "checklist/rules/uprating_rating.hpp"

#include "checklist/rules/loading.hpp"
#include "checklist/rules/uprating_check.hpp"

#include <algorithm>

namespace crossarm::rules {
namespace {

using model::Unit;

constexpr double kMost_kVA = 100'000.0;
/// Ten minutes: fine enough for the ageing of a day of hourly values.
constexpr double kGrain_min = 10.0;
constexpr double kMostShare = 2.0;

struct Bounds {
    double share_percent = 0.0;
    double marginal_percent = 0.0;
    double ageing = 0.0;
    double hot_spot_C = 0.0;
    double top_oil_C = 0.0;
};

std::optional<Bounds> bounds_of(const RatingSets& sets) {
    const auto share = sets.planning.value("share.planned", Unit::Percent);
    const auto marginal = sets.planning.value("share.marginal", Unit::Percent);
    const auto ageing = sets.planning.value("ageing.most", Unit::One);
    const auto hot_spot = sets.loading.value("normal.hot_spot", Unit::Celsius);
    const auto top_oil = sets.loading.value("normal.top_oil", Unit::Celsius);
    if (!share || !marginal || !ageing || !hot_spot || !top_oil) {
        return std::nullopt;
    }
    return Bounds{*share, *marginal, *ageing, *hot_spot, *top_oil};
}

bool possible(const RatingFacts& f) {
    return within(f.present_kVA, 1.0, 10'000.0) && within(f.now_kVA, 1e-6, kMost_kVA) &&
           within(f.horizon_kVA, 1e-6, kMost_kVA) && within(f.ambient_C, -50.0, 60.0) && !f.day.empty() &&
           std::all_of(f.day.begin(), f.day.end(), [](double x) { return within(x, 0.0, 1.0); }) &&
           rules::possible(f.thermal);
}

/// The worst day of the horizon on this rating; above twice the rating nothing is worked out.
void warm(RatingRow& row, const RatingFacts& f) {
    const double share = f.horizon_kVA / row.rating_kVA;
    if (share > kMostShare) {
        return;
    }
    std::vector<LoadStep> profile;
    profile.reserve(f.day.size());
    for (const double x : f.day) {
        profile.push_back({1440.0 / static_cast<double>(f.day.size()), share * x, f.ambient_C});
    }
    const auto start = periodic_start(f.thermal, profile);
    const auto run =
        start ? run_profile(f.thermal, *start, profile, Paper::Normal, kGrain_min) : std::nullopt;
    if (run) {
        row.hot_spot_C = run->highest_hot_spot_C;
        row.top_oil_C = run->highest_top_oil_C;
        row.ageing = run->mean_ageing_rate();
    }
}

std::optional<RatingRow> row_for(double rating_kVA, const RatingFacts& f, const Bounds& b) {
    const auto hv_A = full_load_A(rating_kVA, f.hv_V);
    const auto lv_A = full_load_A(rating_kVA, f.lv_V);
    if (!hv_A || !lv_A) {
        return std::nullopt;
    }
    RatingRow row;
    row.rating_kVA = rating_kVA;
    row.hv_A = *hv_A;
    row.lv_A = *lv_A;
    row.share_now_percent = 100.0 * f.now_kVA / rating_kVA;
    row.share_horizon_percent = 100.0 * f.horizon_kVA / rating_kVA;
    const double usable_kVA = rating_kVA * b.share_percent / 100.0;
    row.headroom_now_kVA = usable_kVA - f.now_kVA;
    row.headroom_horizon_kVA = usable_kVA - f.horizon_kVA;
    warm(row, f);
    row.serves = row.share_horizon_percent <= b.share_percent && row.hot_spot_C &&
                 *row.hot_spot_C <= b.hot_spot_C && *row.top_oil_C <= b.top_oil_C && *row.ageing <= b.ageing;
    row.in_stock = f.stock_kVA.empty() ||
                   std::find(f.stock_kVA.begin(), f.stock_kVA.end(), rating_kVA) != f.stock_kVA.end();
    return row;
}

} // namespace

std::optional<std::vector<RatingRow>> rating_rows(const RatingFacts& f, const RatingSets& sets) {
    const auto bounds = bounds_of(sets);
    const model::LimitTable* table = sets.ratings.table("ratings");
    if (!bounds || table == nullptr || !possible(f)) {
        return std::nullopt;
    }
    std::vector<RatingRow> rows;
    for (const model::LimitRow& limit : table->rows) {
        const auto rating_kVA = cell(*table, limit, "rating", Unit::KilovoltAmpere);
        const auto row = rating_kVA ? row_for(*rating_kVA, f, *bounds) : std::nullopt;
        if (!row) {
            return std::nullopt;
        }
        rows.push_back(*row);
    }
    std::sort(rows.begin(), rows.end(),
              [](const auto& a, const auto& b) { return a.rating_kVA < b.rating_kVA; });
    return rows;
}

RatingChoice choose_rating(const std::vector<RatingRow>& rows) {
    RatingChoice choice;
    for (const RatingRow& row : rows) {
        if (!row.in_stock) {
            continue;
        }
        if (choice.chosen != nullptr) {
            choice.larger = &row;
            break;
        }
        if (row.serves) {
            choice.chosen = &row;
        } else {
            choice.smaller = &row;
        }
    }
    return choice;
}

std::optional<double> parallel_kVA(const Partner& a, const Partner& b) {
    for (const Partner* p : {&a, &b}) {
        if (!within(p->rating_kVA, 1.0, 10'000.0) || !within(p->impedance_percent, 0.5, 20.0)) {
            return std::nullopt;
        }
    }
    return std::min(a.impedance_percent, b.impedance_percent) *
           (a.rating_kVA / a.impedance_percent + b.rating_kVA / b.impedance_percent);
}

std::optional<double> parallel_share(const Partner& a, const Partner& b) {
    if (!parallel_kVA(a, b)) {
        return std::nullopt;
    }
    const double to_a = a.rating_kVA / a.impedance_percent;
    return to_a / (to_a + b.rating_kVA / b.impedance_percent);
}

Outcome rating_check(const RatingFacts& f, const RatingSets& sets) {
    constexpr std::string_view kSubject = "uprating.rating";
    const auto bounds = bounds_of(sets);
    const auto rows = rating_rows(f, sets);
    if (!bounds || !rows || rows->empty()) {
        return refuse(kSubject, say("no.uprating.rating"));
    }
    const RatingChoice choice = choose_rating(*rows);
    const RatingRow& row = choice.chosen != nullptr ? *choice.chosen : rows->back();
    model::Source source = sets.planning.source_of("share.planned");
    const Places places = {{"rating", kilo_volt_ampere(row.rating_kVA)},
                           {"present", kilo_volt_ampere(f.present_kVA)},
                           {"horizon", kilo_volt_ampere(f.horizon_kVA)},
                           {"share", percent(row.share_horizon_percent)},
                           {"headroom", kilo_volt_ampere(row.headroom_horizon_kVA)}};
    model::Verdict v = passes(kSubject, std::move(source), say("because.uprating.rating", places));
    v.workings = {{"work.uprating.rating", kilo_volt_ampere(row.rating_kVA), sets.ratings.title},
                  {"work.uprating.hv_current", ampere(row.hv_A), "S / (√3 × U)"},
                  {"work.uprating.lv_current", ampere(row.lv_A), "S / (√3 × U)"},
                  {"work.uprating.share_horizon", percent(row.share_horizon_percent), ""},
                  {"work.uprating.headroom_now", kilo_volt_ampere(row.headroom_now_kVA), ""},
                  {"work.uprating.headroom_horizon", kilo_volt_ampere(row.headroom_horizon_kVA), ""}};
    if (row.hot_spot_C) {
        v.workings.push_back({"work.uprating.hot_spot", {*row.hot_spot_C, Unit::Celsius}, ""});
        v.workings.push_back({"work.uprating.ageing", count(*row.ageing), "2^((θ - 98) / 6)"});
    }
    if (choice.chosen == nullptr) {
        fails(v, say("because.uprating.rating_none", places), say("action.uprating.split"));
    } else if (row.rating_kVA <= f.present_kVA) {
        v.because = say("because.uprating.rating_present", places);
    } else if (row.share_horizon_percent > bounds->marginal_percent) {
        v.source = sets.planning.source_of("share.marginal");
        marginal(v, say("because.uprating.rating_marginal", places), say("action.uprating.next_larger"));
    }
    v.cautions.push_back(say("caution.loading.model"));
    return v;
}

double second_unit_kVA(const RatingFacts& f, const std::vector<RatingRow>& rows, double present_impedance,
                       double new_impedance) {
    for (const RatingRow& row : rows) {
        const auto together =
            parallel_kVA({f.present_kVA, present_impedance}, {row.rating_kVA, new_impedance});
        if (row.in_stock && together && *together >= f.horizon_kVA) {
            return row.rating_kVA;
        }
    }
    return 0.0;
}

Outcome second_unit_check(const RatingFacts& f, const RatingSets& sets, double present_impedance,
                          double new_impedance) {
    constexpr std::string_view kSubject = "uprating.second_unit";
    const auto most_apart = sets.planning.value("parallel.impedance", Unit::Percent);
    const auto rows = rating_rows(f, sets);
    if (!most_apart || !rows || !within(present_impedance, 0.5, 20.0) || !within(new_impedance, 0.5, 20.0)) {
        return refuse(kSubject, say("no.uprating.rating"));
    }
    const double second_kVA = second_unit_kVA(f, *rows, present_impedance, new_impedance);
    const double mean = 0.5 * (present_impedance + new_impedance);
    const double apart = 100.0 * std::max(present_impedance - mean, mean - present_impedance) / mean;
    const Partner present{f.present_kVA, present_impedance};
    const Partner second{second_kVA, new_impedance};
    const Places places = {{"second", kilo_volt_ampere(second_kVA)},
                           {"present", kilo_volt_ampere(f.present_kVA)},
                           {"horizon", kilo_volt_ampere(f.horizon_kVA)},
                           {"together", kilo_volt_ampere(parallel_kVA(present, second).value_or(0.0))}};
    model::Verdict v = passes(kSubject, sets.planning.source_of("parallel.impedance"),
                              say("because.uprating.second", places));
    v.workings = {{"work.uprating.impedance_present", percent(present_impedance), ""},
                  {"work.uprating.impedance_new", percent(new_impedance), ""}};
    if (second_kVA <= 0.0) {
        fails(v, say("because.uprating.second_none", places), say("action.uprating.split"));
        return v;
    }
    v.workings.push_back({"work.uprating.second", kilo_volt_ampere(second_kVA), ""});
    v.workings.push_back({"work.uprating.together", kilo_volt_ampere(*parallel_kVA(present, second)),
                          "lowest Z × (S1 / Z1 + S2 / Z2)"});
    v.workings.push_back({"work.uprating.present_takes", percent(100.0 * *parallel_share(present, second)),
                          "(S1 / Z1) / (S1 / Z1 + S2 / Z2)"});
    // Each impedance against the mean of the two, so 10 % apart means 5 % either way.
    if (apart > *most_apart / 2.0) {
        marginal(v, say("because.uprating.second_apart", places), say("action.uprating.match_impedance"));
    }
    v.cautions.push_back(say("caution.uprating.parallel"));
    return v;
}

} // namespace crossarm::rules
