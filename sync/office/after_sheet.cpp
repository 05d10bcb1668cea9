#include "sync/office/after_sheet.hpp"

#include "checklist/rules/loading.hpp"
#include "checklist/rules/uprating_fault.hpp"
#include "checklist/rules/uprating_sketch.hpp"
#include "sync/bundle/recorded_plate.hpp"
#include "sync/bundle/sketch_svg.hpp"
#include "sync/bundle/utf8.hpp"

#include <algorithm>
#include <numbers>

namespace crossarm::office {

namespace {

using model::Phrase;
using model::Quantity;
using model::Unit;
using rules::Study;
using rules::StudyFacts;
using Places = std::vector<std::pair<std::string, Phrase::Value>>;

std::string with(const std::optional<double>& x, Unit unit, int decimals) {
    return x ? model::for_people(Quantity{*x, unit}, decimals) : "-";
}

/// One side of the comparison.
struct Side {
    StudyFacts facts;
    Study study;
    rules::SketchFacts drawn;
};

Side side_of(StudyFacts facts, const model::LimitLibrary& library, const char* title) {
    facts.wish = {};
    Side side{std::move(facts), {}, {}};
    side.study = rules::uprating_study(side.facts, library);
    side.drawn = rules::present_sketch(side.facts, side.study);
    side.drawn.title = Phrase{title, {}};
    const model::Nameplate& plate = side.facts.at.plate;
    if (const model::LimitSet* set = library.for_subject("uprating.impedance")) {
        side.drawn.fault_kA = rules::worst_fault_kA(plate.rating_kVA, plate.lv_V, plate.impedance_percent,
                                                    side.facts.site.network_MVA, *set);
    }
    return side;
}

class Writer {
public:
    Writer(const AfterFacts& facts, const model::Words& words)
        : unit_(facts.unit), w_(words), before_(side_of(facts.before, facts.library, "after.sketch.before")),
          after_(side_of(facts_after(facts, rules::uprating_study(facts.before, facts.library)),
                         facts.library,
                         facts.unit != nullptr ? "after.sketch.after" : "after.sketch.planned")) {}

    Sheet sheet() {
        const model::Structure& at = before_.facts.at;
        sheet_.title = said(unit_ != nullptr ? "after.title" : "after.title_planned",
                            {{"structure", at.id}, {"name", at.name}, {"feeder", at.feeder}});
        summary();
        compared();
        SheetSection& drawings = section("after.section.sketch");
        drawings.drawings = {bundle::sketch_svg(rules::sketch(before_.drawn), w_),
                             bundle::sketch_svg(rules::sketch(after_.drawn), w_)};
        connected();
        if (unit_ != nullptr) {
            measured();
            lettered();
        }
        section("study.section.note").lines.push_back({0, w_.say("office.disclaimer")});
        return std::move(sheet_);
    }

private:
    [[nodiscard]] std::string said(const char* key, Places places) const {
        return bundle::printable(w_.say(Phrase{key, std::move(places)}));
    }
    SheetSection& section(const char* key) {
        sheet_.sections.push_back({w_.say(key), {}, {}, {}});
        return sheet_.sections.back();
    }

    /// Two units share the load by their impedances: what one of them alone would leave says nothing.
    [[nodiscard]] bool is_beside() const { return unit_ != nullptr && unit_->beside; }

    void summary() {
        SheetSection& out = section("study.section.summary");
        const double before = before_.facts.at.plate.rating_kVA;
        const double after = after_.facts.at.plate.rating_kVA;
        if (unit_ != nullptr) {
            out.lines.push_back({0, said(unit_->beside ? "after.second" : "after.put_up",
                                         {{"rating", Quantity{after, Unit::KilovoltAmpere}},
                                          {"make", unit_->after.make},
                                          {"serial", unit_->after.serial},
                                          {"day", model::for_people(model::day_of(unit_->signed_at))}})});
        } else {
            out.lines.push_back({0, w_.say("after.planned")});
        }
        if (is_beside()) {
            out.lines.push_back({0, w_.say("after.adds")});
            return;
        }
        out.lines.push_back(
            {0, said("after.frees", {{"before", Quantity{before, Unit::KilovoltAmpere}},
                                     {"after", Quantity{after, Unit::KilovoltAmpere}},
                                     {"more", with(after - before, Unit::KilovoltAmpere, 0)}})});
        if (const auto& d = after_.study.demand) {
            out.lines.push_back(
                {0, said("after.remains", {{"now", with(after - d->now_kVA, Unit::KilovoltAmpere, 0)},
                                           {"horizon", with(after - d->horizon_kVA, Unit::KilovoltAmpere, 0)},
                                           {"years", Quantity{static_cast<double>(after_.facts.horizon_years),
                                                              Unit::Year}}})});
        } else {
            out.lines.push_back({0, w_.say("after.no_load_known")});
        }
    }

    template<typename Cell>
    void row(const char* what, Cell cell) {
        sheet_.sections.back().table.rows.push_back(
            {w_.say(std::string("after.row.") + what), cell(before_), cell(after_)});
    }

    void compared() {
        SheetSection& out = section("after.section.compared");
        out.table.head = {w_.say("after.column.what"), w_.say("after.column.before"),
                          w_.say(unit_ != nullptr ? "after.column.after" : "after.column.planned")};
        const auto rating = [](const Side& s) { return s.facts.at.plate.rating_kVA; };
        const auto kVA = [](double x) { return with(x, Unit::KilovoltAmpere, 1); };
        row("could_carry", [&](const Side& s) { return kVA(rating(s)); });
        row("hv", [&](const Side& s) {
            return with(rules::full_load_A(rating(s), 1000.0 * s.facts.at.plate.hv_kV), Unit::Ampere, 2);
        });
        row("lv", [&](const Side& s) {
            return with(rules::full_load_A(rating(s), s.facts.at.plate.lv_V), Unit::Ampere, 0);
        });
        if (before_.study.demand && after_.study.demand && !is_beside()) {
            row("carries_now", [&](const Side& s) { return kVA(s.study.demand->now_kVA); });
            row("share", [&](const Side& s) { return with(s.study.share_now_percent, Unit::Percent, 0); });
            row("applied", [&](const Side& s) { return kVA(s.study.demand->applied_kVA); });
            row("horizon", [&](const Side& s) { return kVA(s.study.demand->horizon_kVA); });
            row("remains_now", [&](const Side& s) { return kVA(rating(s) - s.study.demand->now_kVA); });
            row("remains_horizon",
                [&](const Side& s) { return kVA(rating(s) - s.study.demand->horizon_kVA); });
            row("hot_spot", [&](const Side& s) { return with(s.study.hot_spot_now_C, Unit::Celsius, 0); });
        }
        row("fault", [](const Side& s) { return with(s.drawn.fault_kA, Unit::KiloAmpere, 1); });
        row("link",
            [](const Side& s) { return s.drawn.link.empty() ? "-" : bundle::printable(s.drawn.link); });
        row("breakers", [](const Side& s) {
            return s.drawn.breakers ? std::to_string(s.drawn.breakers->count) + " × " +
                                          with(s.drawn.breakers->rating_A, Unit::Ampere, 0)
                                    : std::string("-");
        });
        row("cable", [](const Side& s) {
            return s.drawn.cable ? std::to_string(s.drawn.cable->runs) + " × " +
                                       with(s.drawn.cable->area_mm2, Unit::SquareMillimetre, 0)
                                 : std::string("-");
        });
    }

    void connected() {
        SheetSection& out = section("after.section.connected");
        for (const rules::BilledLoad& load : before_.facts.loads) {
            out.table.rows.push_back(
                {bundle::printable(load.name), with(load.connected_kVA, Unit::KilovoltAmpere, 0),
                 with(load.connected_kVA * load.demand_factor / load.diversity, Unit::KilovoltAmpere, 1),
                 w_.say(load.applied ? "after.applied" : "after.connected")});
        }
        if (out.table.rows.empty()) {
            out.lines.push_back({0, w_.say("after.no_loads")});
            return;
        }
        out.table.head = {w_.say("after.column.load"), w_.say("after.column.connected"),
                          w_.say("after.column.asked"), w_.say("after.column.state")};
    }

    void reading(const char* what, const char* checkpoint, Unit unit, int decimals) {
        const auto values = readings_at(unit_->state, checkpoint);
        std::string text;
        for (std::size_t i = 0; i < values.size(); ++i) {
            text += (i == 0 ? "" : " · ") + model::number_for_people(values[i], decimals);
        }
        const std::string_view letters = model::symbol(unit);
        sheet_.sections.back().table.rows.push_back(
            {w_.say(std::string("after.measured.") + what),
             values.empty() ? w_.say("after.unseen")
                            : text + (letters.empty() ? "" : "\u00a0" + std::string(letters))});
    }

    void measured() {
        SheetSection& out = section("after.section.measured");
        out.table.head = {w_.say("after.column.what"), w_.say("after.column.reading")};
        reading("line_voltage", "restore.voltage", Unit::Volt, 0);
        reading("phase_voltage", "restore.phase_voltage", Unit::Volt, 0);
        reading("tap", "tank.tap", Unit::One, 0);
        reading("load", "restore.load", Unit::Ampere, 0);
        reading("overload", "lv_breaker.overload", Unit::Ampere, 0);
        reading("neutral_electrode", "earth_electrodes.neutral", Unit::Ohm, 2);
        reading("outage", "restore.outage", Unit::Minute, 0);
        const auto load_A = readings_at(unit_->state, "restore.load");
        if (load_A.size() >= 3) {
            const double most = *std::max_element(load_A.begin(), load_A.begin() + 3);
            const double kVA = std::numbers::sqrt3 * unit_->after.lv_V * most / 1000.0;
            out.lines.push_back(
                {0, said("after.load_now",
                         {{"load", with(kVA, Unit::KilovoltAmpere, 1)},
                          {"share", with(100.0 * kVA / unit_->after.rating_kVA, Unit::Percent, 0)}})});
        }
    }

    void lettered() {
        model::Structure at = before_.facts.at;
        at.plate = unit_->after;
        std::string all;
        for (const std::string& line : bundle::lettering(at)) {
            all += (all.empty() ? "" : " · ") + bundle::printable(line);
        }
        section("after.section.lettering").lines.push_back({0, all});
    }

    const NewUnit* unit_;
    const model::Words& w_;
    Side before_;
    Side after_;
    Sheet sheet_;
};

} // namespace

Sheet after_sheet(const AfterFacts& facts, const model::Words& words) {
    return Writer(facts, words).sheet();
}

} // namespace crossarm::office
