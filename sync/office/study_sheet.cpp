#include "sync/office/study_sheet.hpp"

#include "checklist/rules/uprating_sketch.hpp"
#include "sync/bundle/sketch_svg.hpp"
#include "sync/bundle/utf8.hpp"

#include <array>

namespace crossarm::office {

namespace {

using model::Phrase;
using model::Quantity;
using model::Unit;
using model::Words;
using rules::Study;
using rules::StudyFacts;
using Places = std::vector<std::pair<std::string, Phrase::Value>>;

std::string plain(double value, int decimals) {
    return model::number_for_people(value, decimals);
}

std::string plain(const std::optional<double>& value, int decimals) {
    return value ? plain(*value, decimals) : "-";
}

class Writer {
public:
    Writer(const StudyFacts& facts, const Study& study, const Words& words)
        : f_(facts), s_(study), w_(words) {}

    Sheet sheet() {
        sheet_.title =
            said("study.title", {{"structure", f_.at.id}, {"name", f_.at.name}, {"feeder", f_.at.feeder}});
        summary();
        drawings();
        before_and_after();
        checks();
        ratings();
        alternatives();
        conditions();
        material_list();
        sheet_.sections.push_back({w_.say("study.section.note"), {{0, w_.say("office.disclaimer")}}, {}, {}});
        return std::move(sheet_);
    }
    std::vector<std::string> in_short() {
        summary();
        std::vector<std::string> out;
        for (SheetLine& line : sheet_.sections.front().lines) {
            out.push_back(std::move(line.text));
        }
        return out;
    }

private:
    [[nodiscard]] std::string said(const char* key, Places places) const {
        return bundle::printable(w_.say(Phrase{key, std::move(places)}));
    }
    [[nodiscard]] std::string said(const Phrase& phrase) const { return bundle::printable(w_.say(phrase)); }

    SheetSection& section(const char* key) {
        sheet_.sections.push_back({w_.say(key), {}, {}, {}});
        return sheet_.sections.back();
    }

    [[nodiscard]] std::vector<std::string> head(std::initializer_list<const char*> keys) const {
        std::vector<std::string> out;
        for (const char* key : keys) {
            out.push_back(w_.say(std::string("study.column.") + key));
        }
        return out;
    }

    [[nodiscard]] std::string yes_no(bool yes) const { return w_.say(yes ? "study.yes" : "study.no"); }

    void summary() {
        SheetSection& out = section("study.section.summary");
        const auto& plate = f_.at.plate;
        out.lines.push_back(
            {0, said("study.plate", {{"rating", Quantity{plate.rating_kVA, Unit::KilovoltAmpere}},
                                     {"hv", Quantity{plate.hv_kV, Unit::Kilovolt}},
                                     {"lv", Quantity{plate.lv_V, Unit::Volt}},
                                     {"make", plate.make},
                                     {"serial", plate.serial}})});
        if (s_.share_now_percent) {
            out.lines.push_back(
                {0, said("study.now", {{"share", Quantity{*s_.share_now_percent, Unit::Percent}},
                                       {"now", Quantity{s_.demand->now_kVA, Unit::KilovoltAmpere}}})});
        }
        if (s_.years_left) {
            out.lines.push_back(
                {0, *s_.years_left > 0.0
                        ? said("study.years_left", {{"years", Quantity{*s_.years_left, Unit::Year}}})
                        : w_.say("study.full")});
        }
        if (s_.proposal.rating_kVA) {
            out.lines.push_back(
                {0, said(s_.proposal.uprate ? "study.proposed" : "study.stays",
                         {{"rating", Quantity{*s_.proposal.rating_kVA, Unit::KilovoltAmpere}}})});
            out.lines.push_back({0, single_line()});
        }
        out.lines.push_back(
            {0, said("study.counts", {{"fail", std::to_string(s_.count(model::Grade::Repair))},
                                      {"marginal", std::to_string(s_.count(model::Grade::Watch))},
                                      {"pass", std::to_string(s_.count(model::Grade::Sound))},
                                      {"none", std::to_string(s_.without_verdict())}})});
    }

    [[nodiscard]] std::string single_line() const {
        const auto& p = s_.proposal;
        const std::string unknown = w_.say("study.open");
        const auto times = [](int n, double of, const char* unit) {
            return std::to_string(n) + " × " + plain(of, 1) + " " + unit;
        };
        return said("study.single_line",
                    {{"link", p.link ? rules::link_text(*p.link) : unknown},
                     {"rating", Quantity{*p.rating_kVA, Unit::KilovoltAmpere}},
                     {"fault", p.fault_kA ? for_people(Quantity{*p.fault_kA, Unit::KiloAmpere}, 1) : unknown},
                     {"breakers", p.breakers ? times(p.breakers->count, p.breakers->rating_A, "A") : unknown},
                     {"cable", p.cable ? times(p.cable->runs, p.cable->area_mm2, "mm²") : unknown}});
    }

    void drawings() {
        if (!s_.proposal.rating_kVA) {
            return;
        }
        SheetSection& out = section("study.section.sketch");
        out.drawings.push_back(bundle::sketch_svg(rules::sketch(rules::present_sketch(f_, s_)), w_));
        out.drawings.push_back(bundle::sketch_svg(rules::sketch(rules::proposed_sketch(f_, s_)), w_));
    }

    void before_and_after() {
        if (!s_.demand || !s_.proposal.rating_kVA) {
            return;
        }
        SheetSection& out = section("study.section.before_after");
        const auto& d = *s_.demand;
        const double before = f_.at.plate.rating_kVA;
        const double after = *s_.proposal.rating_kVA;
        const auto row = [&](const char* key, double a, double b) {
            out.table.rows.push_back({w_.say(std::string("study.row.") + key), plain(a, 1), plain(b, 1)});
        };
        out.table.head = head({"what", "before", "after"});
        row("could_carry", before, after);
        row("carries_now", d.now_kVA, d.now_kVA);
        row("applied", d.applied_kVA, d.applied_kVA);
        row("horizon", d.horizon_kVA, d.horizon_kVA);
        row("remains_now", before - d.now_kVA, after - d.now_kVA);
        row("remains_horizon", before - d.horizon_kVA, after - d.horizon_kVA);
    }

    void checks() {
        SheetSection& out = section("study.section.checks");
        for (const rules::StudyCheck& check : s_.checks) {
            const std::string title = w_.say("uprating.check." + check.name);
            const std::string result = w_.say("study.result." + result_of(check.outcome));
            out.lines.push_back({0, title + ": " + result});
            if (const auto* none = std::get_if<model::NoVerdict>(&check.outcome)) {
                out.lines.push_back({1, said(none->why)});
                continue;
            }
            verdict(out, std::get<model::Verdict>(check.outcome));
        }
    }

    void verdict(SheetSection& out, const model::Verdict& v) const {
        out.lines.push_back({1, said(v.because)});
        if (!v.action.key.empty()) {
            out.lines.push_back({1, said("study.mend", {{"action", said(v.action)}})});
        }
        for (const model::Working& working : v.workings) {
            out.lines.push_back(
                {2, said(working.how.empty() ? "office.working" : "office.working_how",
                         {{"name", w_.say(working.name)}, {"value", working.value}, {"how", working.how}})});
        }
        out.lines.push_back(
            {2, said("office.source",
                     {{"title", v.source.title}, {"clause", v.source.clause}, {"sure", v.source.sure}})});
        for (const Phrase& caution : v.cautions) {
            out.lines.push_back({2, said("office.caution", {{"caution", said(caution)}})});
        }
    }

    void ratings() {
        if (s_.rows.empty()) {
            return;
        }
        SheetSection& out = section("study.section.ratings");
        out.table.head = head({"rating", "hv", "lv", "share_now", "share_horizon", "headroom_now",
                               "headroom_horizon", "hot_spot", "ageing", "serves", "stock"});
        for (const rules::RatingRow& row : s_.rows) {
            out.table.rows.push_back({plain(row.rating_kVA, 1), plain(row.hv_A, 2), plain(row.lv_A, 1),
                                      plain(row.share_now_percent, 0), plain(row.share_horizon_percent, 0),
                                      plain(row.headroom_now_kVA, 1), plain(row.headroom_horizon_kVA, 1),
                                      plain(row.hot_spot_C, 0), plain(row.ageing, 2), yes_no(row.serves),
                                      yes_no(row.in_stock)});
        }
    }

    void alternatives() {
        if (s_.alternatives.empty()) {
            return;
        }
        SheetSection& out = section("study.section.alternatives");
        out.table.head = head({"way", "rating", "serves", "headroom_now", "headroom_horizon", "first_year",
                               "life", "price", "worth"});
        bool usual = false;
        for (const rules::Alternative& a : s_.alternatives) {
            std::array<std::string, 3> lost = {"-", "-", "-"};
            if (a.cost) {
                usual = usual || a.losses_usual;
                lost = {plain(a.cost->first_year_kWh, 0) + (a.losses_usual ? " *" : ""),
                        plain(a.cost->all_kWh, 0), plain(a.cost->all_now, 0)};
            }
            out.table.rows.push_back({w_.say("study.way." + a.kind), plain(a.rating_kVA, 1), yes_no(a.serves),
                                      plain(a.headroom_now_kVA, 1), plain(a.headroom_horizon_kVA, 1), lost[0],
                                      lost[1], plain(a.price, 0), lost[2]});
        }
        out.lines.push_back(
            {0,
             said("study.life", {{"years", Quantity{static_cast<double>(f_.prices.life_years), Unit::Year}},
                                 {"interest", Quantity{f_.prices.interest_percent, Unit::Percent}}})});
        if (usual) {
            out.lines.push_back({0, w_.say("study.usual_losses")});
        }
        if (!f_.prices.energy) {
            out.lines.push_back({0, w_.say("study.no_prices")});
        }
    }

    void conditions() {
        if (s_.conditions.empty()) {
            return;
        }
        SheetSection& out = section("study.section.conditions");
        out.lines.push_back({0, w_.say("study.conditions")});
        out.table.head = head({"laid", "around", "soil", "carries", "enough"});
        for (const rules::Condition& c : s_.conditions) {
            out.table.rows.push_back({w_.say("uprating.laid." + std::string(rules::name(c.laid))),
                                      plain(c.around_C, 0), c.soil_Km_W > 0.0 ? plain(c.soil_Km_W, 1) : "-",
                                      plain(c.carries_A, 1),
                                      c.carries_A ? yes_no(c.enough) : w_.say("study.not_in_table")});
        }
    }

    void material_list() {
        SheetSection& out = section("study.section.materials");
        if (s_.materials.empty()) {
            out.lines.push_back({0, w_.say("study.no_materials")});
            return;
        }
        out.table.head = head({"goes", "item", "quantity"});
        for (const rules::Material& m : s_.materials) {
            out.table.rows.push_back(
                {w_.say("study.goes." + std::string(rules::name(m.goes))), said(m.what),
                 m.quantity.value > 0.0 ? for_people(m.quantity, 0) : w_.say("study.open")});
        }
    }

    const StudyFacts& f_;
    const Study& s_;
    const Words& w_;
    Sheet sheet_;
};

} // namespace

Sheet study_sheet(const StudyFacts& facts, const Study& study, const Words& words) {
    return Writer(facts, study, words).sheet();
}

std::vector<std::string> study_summary(const StudyFacts& facts, const Study& study, const Words& words) {
    return Writer(facts, study, words).in_short();
}

std::string result_of(const rules::Outcome& outcome) {
    const auto* verdict = std::get_if<model::Verdict>(&outcome);
    if (verdict == nullptr) {
        return "none";
    }
    return verdict->grade == model::Grade::Sound   ? "pass"
           : verdict->grade == model::Grade::Watch ? "marginal"
                                                   : "fail";
}

} // namespace crossarm::office
