// How an uprating study is put together; only the study's own files include this.
#pragma once

#include "checklist/rules/uprating_study.hpp"

#include <cmath>

namespace crossarm::rules {

/// Where the site does not say.
inline constexpr double kUsualPowerFactor = 0.9;
inline constexpr double kUsualAir_C = 30.0;
inline constexpr double kUsualClearing_s = 1.0;

/// The library's sets for this study; an empty one where there is none, which every rule refuses.
class StudySets {
public:
    explicit StudySets(const model::LimitLibrary& library) : library_(library) {}
    [[nodiscard]] const model::LimitSet& of(std::string_view subject) const {
        const model::LimitSet* set = library_.for_subject(subject);
        return set != nullptr ? *set : empty_;
    }

private:
    const model::LimitLibrary& library_;
    model::LimitSet empty_;
};

[[nodiscard]] inline std::optional<int> whole(std::optional<double> x) {
    return x && std::isfinite(*x) && std::abs(*x) < 1000.0 ? std::optional(static_cast<int>(*x))
                                                           : std::nullopt;
}

[[nodiscard]] inline bool passed(const Outcome& outcome) {
    const auto* verdict = std::get_if<model::Verdict>(&outcome);
    return verdict != nullptr && verdict->grade <= model::Grade::Watch;
}

/// One study in the making: each step adds its checks and what it proposes.
class Studying {
public:
    Studying(const StudyFacts& facts, const model::LimitLibrary& library) : f_(facts), sets_(library) {}
    [[nodiscard]] Study study();

private:
    void check(const char* name, Outcome outcome) { s_.checks.push_back({name, std::move(outcome)}); }

    // from the load to the fault level and the high side
    void load();
    void present();
    /// The present transformer through the day of the peak.
    [[nodiscard]] Outcome worst_day(const ThermalFacts& own, double peak_kVA) const;
    void rating();
    void fault();
    void high_side();
    [[nodiscard]] std::vector<double> usual_day() const;
    [[nodiscard]] const StockUnit* in_stock(double rating) const;
    [[nodiscard]] std::optional<double> impedance_of(double rating, std::optional<double> own) const;

    // the low side
    void breakers();
    void grading();
    void cable();
    [[nodiscard]] std::optional<Cable> chosen_cable(const CablePlace& place) const;
    /// Each breaker against the runs behind it: In at most what they carry.
    void protected_cable(const Cable& cable, const CablePlace& place);
    [[nodiscard]] Outcome heat_of(const Cable& cable, const CablePlace& place) const;
    void drop(const Cable& cable, const CablePlace& place);
    void conditions(const Cable& cable, const CablePlace& place);
    [[nodiscard]] std::optional<CablePlace> cable_place() const;
    [[nodiscard]] std::optional<Breakers> fitted_breakers() const;
    [[nodiscard]] double neutral_at_horizon() const;
    [[nodiscard]] double uneven() const;

    // earth, support and alternatives
    void earth();
    void support();
    void alternatives();
    void single(const char* kind, double rating, bool is_present);
    void pair_of_units();
    [[nodiscard]] LifeFacts life_of(const LossFacts& losses, double share, std::optional<double> price) const;
    [[nodiscard]] double day_squares() const;
    [[nodiscard]] std::optional<LossFacts> losses_of(double rating, bool is_present, bool& usual) const;

    [[nodiscard]] double growth() const { return f_.site.growth_percent.value_or(0.0); }
    [[nodiscard]] double power_factor() const { return f_.site.power_factor.value_or(kUsualPowerFactor); }
    [[nodiscard]] double air() const { return f_.site.air_C.value_or(kUsualAir_C); }

    const StudyFacts& f_;
    StudySets sets_;
    Study s_;
    std::vector<double> day_; ///< shares of the peak
    ThermalFacts thermal_;
    double row_amps_ = 0.0; ///< LV full-load current of the proposed rating
    double second_kva_ = 0.0;
};

} // namespace crossarm::rules
