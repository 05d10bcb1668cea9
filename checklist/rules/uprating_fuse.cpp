#include "checklist/rules/uprating_fuse.hpp"

#include "checklist/rules/loading.hpp"
#include "checklist/rules/uprating_check.hpp"

#include <charconv>
#include <cmath>

namespace crossarm::rules {
namespace {

using model::Unit;

bool made_for(const FuseReadings& r, const model::LimitSet& table) {
    const auto voltage = table.value("voltage", Unit::Kilovolt);
    return voltage && std::abs(r.hv_kV - *voltage) <= 0.1 * *voltage;
}

const model::LimitRow* row_for(const FuseReadings& r, const model::LimitSet& set) {
    const model::LimitTable* links = set.table("links");
    return links == nullptr ? nullptr : row_of(*links, model::number_for_people(r.rating_kVA));
}

std::string list_of(const std::vector<double>& links) {
    std::string text;
    for (const double link : links) {
        text += (text.empty() ? "" : ", ") + model::number_for_people(link);
    }
    return text;
}

} // namespace

std::optional<FuseLink> link_of(std::string_view text) {
    double rating_A = 0.0;
    const auto read = std::from_chars(text.data(), text.data() + text.size(), rating_A);
    if (read.ec != std::errc() || !within(rating_A, 1.0, 400.0)) {
        return std::nullopt;
    }
    std::string rest;
    for (const char c : text.substr(static_cast<std::size_t>(read.ptr - text.data()))) {
        rest += c == ' ' ? "" : std::string(1, c);
    }
    if (rest == "AK" || rest == "AT") {
        rest.erase(0, 1);
    }
    if (rest != "K" && rest != "T") {
        return std::nullopt;
    }
    return FuseLink{rating_A, rest[0]};
}

std::string link_text(const FuseLink& link) {
    return model::number_for_people(link.rating_A) + " " + link.kind;
}

std::optional<FuseLink> table_link(const FuseReadings& r, const model::LimitSet& set) {
    const model::LimitRow* row = made_for(r, set) ? row_for(r, set) : nullptr;
    if (row == nullptr) {
        return std::nullopt;
    }
    const model::LimitTable& links = *set.table("links");
    const auto link = cell(links, *row, "link", Unit::Ampere);
    const auto is_t = cell(links, *row, "class_t", Unit::One);
    return link && is_t ? std::optional(FuseLink{*link, *is_t > 0.0 ? 'T' : 'K'}) : std::nullopt;
}

std::vector<double> window_links(double rating_kVA, double hv_kV, const model::LimitSet& window) {
    std::vector<double> fit;
    const auto full_A = full_load_A(rating_kVA, 1000.0 * hv_kV);
    const auto low = window.value("factor.low", Unit::One);
    const auto high = window.value("factor.high", Unit::One);
    const model::LimitTable* links = window.table("links");
    if (!full_A || !low || !high || links == nullptr) {
        return fit;
    }
    for (const model::LimitRow& row : links->rows) {
        const auto link = cell(*links, row, "link", Unit::Ampere);
        if (link && *link >= *low * *full_A && *link <= *high * *full_A) {
            fit.push_back(*link);
        }
    }
    return fit;
}

Outcome fuse_check(const FuseReadings& r, const model::LimitSet& table, const model::LimitSet& window) {
    constexpr std::string_view kSubject = "uprating.hv_fuse";
    const auto full_A = full_load_A(r.rating_kVA, 1000.0 * r.hv_kV);
    if (!full_A || (r.fault_kA && !within(*r.fault_kA, 0.01, 200.0))) {
        return refuse(kSubject, say("no.uprating.fuse"));
    }
    if (!made_for(r, table)) {
        return refuse(kSubject, say("no.uprating.fuse_voltage", {{"set", table.title}}));
    }
    const auto most_kA = table.value("fault.most", Unit::KiloAmpere);
    if (r.fault_kA && most_kA && *r.fault_kA > *most_kA) {
        return refuse(kSubject, say("no.uprating.fuse_fault",
                                    {{"fault", kilo_ampere(*r.fault_kA)}, {"most", kilo_ampere(*most_kA)}}));
    }
    const auto link = table_link(r, table);
    const auto fitted = link_of(r.fitted);
    Places places = {{"rating", kilo_volt_ampere(r.rating_kVA)},
                     {"current", ampere(*full_A)},
                     {"fitted", r.fitted.empty() ? std::string("-") : r.fitted}};
    if (!link) {
        const auto choice = window_links(r.rating_kVA, r.hv_kV, window);
        if (choice.empty()) {
            return refuse(kSubject, say("no.uprating.fuse_none", places));
        }
        places.emplace_back("links", list_of(choice));
        model::Verdict v = passes(kSubject, window.source_of("factor.low"), {});
        v.workings = {{"work.uprating.hv_current", ampere(*full_A), "S / (√3 × U)"},
                      {"work.uprating.link_lowest", ampere(choice.front()), "1.3 × full load and above"},
                      {"work.uprating.link_highest", ampere(choice.back()), "up to 3 × full load"}};
        marginal(v, say("because.uprating.fuse_window", places), say("action.uprating.ask_fuse"));
        v.cautions.push_back(say("caution.uprating.fuse"));
        return v;
    }
    places.emplace_back("link", link_text(*link));
    const model::LimitTable& links = *table.table("links");
    model::Verdict v =
        passes(kSubject, source_of(table, links, *row_for(r, table)), say("because.uprating.fuse", places));
    v.workings = {{"work.uprating.hv_current", ampere(*full_A), "S / (√3 × U)"},
                  {"work.uprating.link", ampere(link->rating_A), ""},
                  {"work.uprating.link_factor", count(link->rating_A / *full_A), "link / full load"}};
    if (!fitted || *fitted != *link) {
        fails(v, say("because.uprating.fuse_change", places), say("action.uprating.change_fuse", places));
    }
    v.cautions.push_back(say("caution.uprating.fuse"));
    return v;
}

} // namespace crossarm::rules
