#include "checklist/rules/uprating_sketch.hpp"

#include "checklist/rules/loading.hpp"
#include "checklist/rules/uprating_check.hpp"

#include <algorithm>
#include <utility>

namespace crossarm::rules {
namespace {

using model::for_people;
using model::Phrase;
using model::Quantity;
using model::Unit;

constexpr double kWidth = 86.0;
constexpr double kHeight = 118.0;
constexpr double kSpine = 16.0; // where the line runs down
constexpr double kWords = 27.0; // where the texts begin
constexpr double kLetter = 2.7;
constexpr double kStep = 3.6; // from one line of text to the next
constexpr double kBar = 88.0; // height of the busbar
constexpr int kMostDrawn = 6;

std::string with(const std::optional<double>& x, Unit unit, int decimals) {
    return x ? for_people(Quantity{*x, unit}, decimals) : std::string();
}

class Pen {
public:
    explicit Pen(const SketchFacts& facts) : f_(facts) {
        s_.width_mm = kWidth;
        s_.height_mm = kHeight;
        s_.letter_mm = kLetter;
    }

    Sketch drawn() {
        s_.texts.push_back({0.0, 4.0, true, f_.title});
        line_side();
        fuse();
        transformer();
        earth();
        cable();
        breakers();
        demand();
        return std::move(s_);
    }

private:
    void line(double x1, double y1, double x2, double y2) { s_.lines.push_back({x1, y1, x2, y2}); }
    void words(double y, Phrase says, bool strong = false) {
        s_.texts.push_back({kWords, y, strong, std::move(says)});
    }
    /// The sentence with the value in it, or that it is not known.
    void value(double y, const char* key, const char* unknown, std::string text, Places more = {}) {
        if (text.empty()) {
            words(y, say(unknown));
            return;
        }
        more.emplace_back("value", std::move(text));
        words(y, say(key, std::move(more)));
    }

    void line_side() {
        line(kSpine - 10.0, 10.0, kSpine + 8.0, 10.0);
        line(kSpine, 10.0, kSpine, 17.0);
        words(11.0, say("uprating.sketch.line", {{"value", with(f_.hv_kV, Unit::Kilovolt, 1)}}));
    }

    void fuse() {
        constexpr double kTop = 17.0;
        constexpr double kBottom = 25.0;
        for (const double x : {kSpine - 1.5, kSpine + 1.5}) {
            line(x, kTop, x, kBottom);
        }
        for (const double y : {kTop, kBottom}) {
            line(kSpine - 1.5, y, kSpine + 1.5, y);
        }
        line(kSpine, kTop, kSpine, 37.0);
        value(20.0, "uprating.sketch.link", "uprating.sketch.link_unknown", f_.link);
        value(20.0 + kStep, "uprating.sketch.full_hv", "uprating.sketch.not_known",
              with(full_load_A(f_.rating_kVA, 1000.0 * f_.hv_kV), Unit::Ampere, 1));
        value(32.0, "uprating.sketch.lead", "uprating.sketch.lead_unknown",
              with(f_.hv_lead_mm2, Unit::SquareMillimetre, 0));
    }

    void transformer() {
        s_.circles.push_back({kSpine, 41.5, 4.5});
        s_.circles.push_back({kSpine, 47.5, 4.5});
        words(40.0,
              say("uprating.sketch.transformer",
                  {{"rating", with(f_.rating_kVA, Unit::KilovoltAmpere, 1)}, {"group", f_.vector_group}}),
              true);
        words(40.0 + kStep, say("uprating.sketch.ratio", {{"hv", with(f_.hv_kV, Unit::Kilovolt, 1)},
                                                          {"lv", with(f_.lv_V, Unit::Volt, 0)}}));
        value(40.0 + 2.0 * kStep, "uprating.sketch.impedance", "uprating.sketch.impedance_unknown",
              with(f_.impedance_percent, Unit::Percent, 2));
        value(40.0 + 3.0 * kStep, "uprating.sketch.full_lv", "uprating.sketch.not_known",
              with(full_load_A(f_.rating_kVA, f_.lv_V), Unit::Ampere, 0));
        value(40.0 + 4.0 * kStep, "uprating.sketch.fault", "uprating.sketch.fault_unknown",
              with(f_.fault_kA, Unit::KiloAmpere, 1));
    }

    void earth() {
        constexpr double kX = 5.0;
        constexpr double kY = 62.0;
        line(kSpine - 4.5, 47.5, kX, 47.5);
        line(kX, 47.5, kX, kY);
        for (const auto& [half, down] : {std::pair(3.0, 0.0), std::pair(2.0, 1.2), std::pair(1.0, 2.4)}) {
            line(kX - half, kY + down, kX + half, kY + down);
        }
        const Places metal = {{"metal", f_.earth_metal}};
        value(62.0, f_.earth_metal.empty() ? "uprating.sketch.earth_plain" : "uprating.sketch.earth",
              "uprating.sketch.earth_unknown", with(f_.earth_mm2, Unit::SquareMillimetre, 0),
              f_.earth_metal.empty() ? Places() : metal);
        value(62.0 + kStep, "uprating.sketch.electrode", "uprating.sketch.electrode_unknown",
              with(f_.electrode_ohm, Unit::Ohm, 2));
    }

    void cable() {
        line(kSpine, 52.0, kSpine, kBar);
        constexpr double kMark = 73.0;
        const int runs = f_.cable ? std::clamp(f_.cable->runs, 1, kMostDrawn) : 0;
        for (int i = 0; i < runs; ++i) {
            const double y = kMark + 1.6 * i;
            line(kSpine - 2.0, y + 1.2, kSpine + 2.0, y - 1.2);
        }
        if (!f_.cable) {
            words(74.0, say("uprating.sketch.cable_unknown"));
            return;
        }
        words(74.0,
              say("uprating.sketch.cable", {{"runs", model::number_for_people(f_.cable->runs, 0)},
                                            {"size", with(f_.cable->area_mm2, Unit::SquareMillimetre, 0)}}));
        const std::string metres = with(f_.cable_m, Unit::Metre, 1);
        if (!f_.cable_metal.empty() && !metres.empty()) {
            words(74.0 + kStep,
                  say("uprating.sketch.cable_kind", {{"metal", f_.cable_metal}, {"length", metres}}));
        }
    }

    void breakers() {
        const int ways = f_.breakers ? std::clamp(f_.breakers->count, 1, kMostDrawn) : 1;
        constexpr double kApart = 9.0;
        const double last = kSpine + kApart * (ways - 1);
        line(kSpine - 5.0, kBar, last + 5.0, kBar);
        for (int i = 0; i < ways; ++i) {
            const double x = kSpine + kApart * i;
            constexpr double kContact = 95.0;
            line(x, kBar, x, kContact);
            line(x - 1.3, kContact - 1.3, x + 1.3, kContact + 1.3);
            line(x - 1.3, kContact + 1.3, x + 1.3, kContact - 1.3);
            line(x, kContact, x - 3.0, kContact + 6.0);
            line(x, kContact + 7.0, x, kContact + 11.0);
            line(x, kContact + 11.0, x - 1.2, kContact + 9.0);
            line(x, kContact + 11.0, x + 1.2, kContact + 9.0);
        }
        const double y = 110.5;
        if (!f_.breakers) {
            s_.texts.push_back({0.0, y, false, say("uprating.sketch.breakers_unknown")});
            return;
        }
        const Places places = {{"count", model::number_for_people(f_.breakers->count, 0)},
                               {"rating", with(f_.breakers->rating_A, Unit::Ampere, 0)},
                               {"icu", with(f_.breakers->icu_kA, Unit::KiloAmpere, 0)}};
        s_.texts.push_back({0.0, y, false,
                            say(f_.breakers->icu_kA > 0.0 ? "uprating.sketch.breakers"
                                                          : "uprating.sketch.breakers_icu_unknown",
                                places)});
    }

    void demand() {
        if (!f_.now_kVA || !f_.horizon_kVA) {
            return;
        }
        s_.texts.push_back(
            {0.0, 110.5 + kStep, false,
             say("uprating.sketch.demand", {{"now", with(f_.now_kVA, Unit::KilovoltAmpere, 0)},
                                            {"horizon", with(f_.horizon_kVA, Unit::KilovoltAmpere, 0)}})});
    }

    const SketchFacts& f_;
    Sketch s_;
};

SketchFacts of_both(const StudyFacts& facts, const Study& study) {
    SketchFacts s;
    s.hv_kV = facts.at.plate.hv_kV;
    s.lv_V = facts.at.plate.lv_V;
    s.vector_group = facts.at.plate.vector_group;
    s.hv_lead_mm2 = facts.site.hv_lead_mm2;
    s.cable_metal = facts.site.cable_metal;
    s.cable_m = facts.site.cable_m;
    s.earth_metal = facts.site.earth_metal;
    s.electrode_ohm = facts.site.electrode_ohm;
    if (study.demand) {
        s.now_kVA = study.demand->now_kVA;
        s.horizon_kVA = study.demand->horizon_kVA;
    }
    return s;
}

/// A working of the check of that name.
std::optional<double> worked_out(const Study& study, std::string_view check, std::string_view working) {
    for (const StudyCheck& one : study.checks) {
        const auto* v = std::get_if<model::Verdict>(&one.outcome);
        if (v == nullptr || one.name != check) {
            continue;
        }
        for (const model::Working& w : v->workings) {
            if (w.name == working) {
                return w.value.value;
            }
        }
    }
    return std::nullopt;
}

} // namespace

SketchFacts present_sketch(const StudyFacts& facts, const Study& study) {
    SketchFacts s = of_both(facts, study);
    s.title = say("uprating.sketch.present");
    s.rating_kVA = facts.at.plate.rating_kVA;
    s.impedance_percent = facts.at.plate.impedance_percent;
    s.link = facts.at.plate.hv_fuse;
    s.fault_kA = worked_out(study, "fault", "work.uprating.fault_before");
    if (facts.site.cable_mm2) {
        s.cable = Cable{*facts.site.cable_mm2, static_cast<int>(facts.site.cable_runs.value_or(1.0))};
    }
    if (facts.site.breaker_A) {
        s.breakers = Breakers{static_cast<int>(facts.site.breakers.value_or(1.0)), *facts.site.breaker_A,
                              facts.site.breaker_kA.value_or(0.0)};
    }
    s.earth_mm2 = facts.site.earth_mm2;
    return s;
}

SketchFacts proposed_sketch(const StudyFacts& facts, const Study& study) {
    SketchFacts s = of_both(facts, study);
    const Proposal& p = study.proposal;
    s.title = say("uprating.sketch.proposed");
    s.rating_kVA = p.rating_kVA.value_or(facts.at.plate.rating_kVA);
    s.impedance_percent = worked_out(study, "fault", "work.uprating.impedance_new");
    s.link = p.link ? link_text(*p.link) : "";
    s.fault_kA = p.fault_kA;
    s.cable = p.cable;
    s.breakers = p.breakers;
    s.earth_mm2 = p.earth_mm2;
    return s;
}

Sketch sketch(const SketchFacts& facts) {
    return Pen(facts).drawn();
}

} // namespace crossarm::rules
