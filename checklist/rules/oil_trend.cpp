// The trend of one oil reading.
#include "checklist/rules/oil_trend.hpp"

#include "checklist/rules/grading.hpp"

#include <algorithm>
#include <cmath>

namespace crossarm::rules {

using model::Grade;
using model::Quantity;
using model::Unit;

namespace {

constexpr double kDaysInYear = 365.25;

const model::Limit* repair_limit(const model::LimitSet& limits, const Followed& followed) {
    const char* names[] = {followed.falling_is_bad ? ".repair_below" : ".repair_above",
                           followed.falling_is_bad ? ".repair_at_most" : ".repair_from"};
    for (const char* name : names) {
        const auto* limit = limits.find(followed.property + name);
        if (limit != nullptr && limit->value.unit == followed.unit) {
            return limit;
        }
    }
    return nullptr;
}

} // namespace

std::optional<Trend> trend_of(const std::vector<Sample>& samples) {
    if (samples.size() < 2) {
        return std::nullopt;
    }
    const auto count = static_cast<double>(samples.size());
    double mean_day = 0.0;
    double mean_value = 0.0;
    for (std::size_t i = 0; i < samples.size(); ++i) {
        if (!within(samples[i].value, -1e9, 1e9) || (i > 0 && samples[i].on < samples[i - 1].on)) {
            return std::nullopt;
        }
        mean_day += samples[i].on.days / count;
        mean_value += samples[i].value / count;
    }
    double spread = 0.0;
    double together = 0.0;
    for (const Sample& sample : samples) {
        const double day = sample.on.days - mean_day;
        spread += day * day;
        together += day * (sample.value - mean_value);
    }
    if (samples.front().on == samples.back().on || spread <= 0.0) {
        return std::nullopt;
    }
    const double per_day = together / spread;
    return Trend{per_day * kDaysInYear, mean_value + per_day * (samples.back().on.days - mean_day),
                 per_day * (samples.back().on.days - samples.front().on.days)};
}

std::optional<double> days_until(const Trend& trend, double limit, bool falling_is_bad) {
    const double to_go = falling_is_bad ? trend.now - limit : limit - trend.now;
    if (to_go <= 0.0) {
        return 0.0;
    }
    const double worse_per_day = (falling_is_bad ? -trend.per_year : trend.per_year) / kDaysInYear;
    if (worse_per_day <= 0.0) {
        return std::nullopt;
    }
    const double days = to_go / worse_per_day;
    return std::isfinite(days) ? std::optional(days) : std::nullopt;
}

std::optional<double> repeatability_kV(double mean_kV, const model::LimitSet& shots) {
    const auto scatter = shots.value("shots.usual_scatter", Unit::Percent);
    if (!scatter || !within(mean_kV, 1e-9, 200.0)) {
        return std::nullopt;
    }
    return 2.8 * *scatter / 100.0 * mean_kV;
}

Outcome oil_trend(const std::vector<Sample>& samples, const Followed& followed, const model::LimitSet& limits,
                  const model::LimitSet& practice) {
    constexpr const char* kSubject = "oil.trend";
    const auto ahead = practice.value("trend.ahead", Unit::Day);
    const auto least = practice.value("trend.samples", Unit::One);
    const auto* limit = repair_limit(limits, followed);
    if (!ahead || !least || limit == nullptr) {
        return no_verdict(kSubject, "oil.no_limit", {{"set", limits.title}});
    }
    const auto count = static_cast<double>(samples.size());
    const auto trend = trend_of(samples);
    if (count < *least) {
        return no_verdict(kSubject, "oil.trend.too_few",
                          {{"have", Quantity{count, Unit::One}}, {"need", Quantity{*least, Unit::One}}});
    }
    if (!trend || !within(followed.noise, 0.0, 1e9)) {
        return no_verdict(kSubject, "oil.trend.impossible");
    }
    const double worse = followed.falling_is_bad ? -trend->change : trend->change;
    const bool told = worse > followed.noise;
    const auto days = days_until(*trend, limit->value.value, followed.falling_is_bad);
    const bool soon = told && days && *days <= *ahead;

    model::Verdict verdict;
    verdict.subject = kSubject;
    verdict.grade = soon ? Grade::Watch : Grade::Sound;
    verdict.when = usual_when(verdict.grade);
    verdict.source = source_of(limits, *limit);
    const Quantity change{trend->change, followed.unit};
    verdict.because = {!told  ? "oil.trend.none"
                       : soon ? "oil.trend.soon"
                              : "oil.trend.later",
                       {{"change", change},
                        {"limit", limit->value},
                        {"days", Quantity{days ? std::floor(*days) : 0.0, Unit::Day}}}};
    verdict.workings = {{"work.oil.trend_year", {trend->per_year, followed.unit}, ""},
                        {"work.oil.trend_change", change, ""},
                        {"work.oil.trend_noise", {followed.noise, followed.unit}, ""},
                        {"work.oil.limit", limit->value, limits.title}};
    if (days) {
        verdict.workings.push_back({"work.oil.trend_days", {*days, Unit::Day}, ""});
    }
    if (soon) {
        verdict.action = {"oil.trend.action", {}};
    }
    return verdict;
}

} // namespace crossarm::rules
