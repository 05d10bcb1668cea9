#include "checklist/rules/outage.hpp"

#include "checklist/rules/answer.hpp"

namespace crossarm::rules {

using model::Quantity;
using model::Unit;

std::optional<OutageFigures> outage_figures(const std::vector<OutageStage>& stages, int customers_served,
                                            double momentary_min) {
    constexpr int kMostCustomers = 10'000'000;
    if (stages.empty() || customers_served < 1 || customers_served > kMostCustomers ||
        !within(momentary_min, 0.0, 60.0)) {
        return std::nullopt;
    }
    OutageFigures f;
    double all = 0.0;
    for (const OutageStage& stage : stages) {
        if (!within(stage.minutes, 0.0, 100'000.0) || stage.customers < 0 ||
            stage.customers > kMostCustomers) {
            return std::nullopt;
        }
        all += stage.customers;
        if (stage.minutes > momentary_min) {
            f.customer_minutes += stage.minutes * stage.customers;
            f.customers_interrupted += stage.customers;
        } else {
            f.momentary_customers += stage.customers;
        }
    }
    if (all > customers_served) {
        return std::nullopt;
    }
    f.saidi_min = f.customer_minutes / customers_served;
    f.saifi = f.customers_interrupted / customers_served;
    return f;
}

Outcome outage(const std::vector<OutageStage>& stages, int customers_served, const model::LimitSet& set) {
    constexpr std::string_view kSubject = "outage";
    Needs needs(set);
    const double momentary_min = needs.take("momentary.at_most", Unit::Minute);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const auto f = outage_figures(stages, customers_served, momentary_min);
    if (!f) {
        return refuse(kSubject, say("no.outage.reading"));
    }
    model::Verdict v;
    v.subject = kSubject;
    v.source = set.source_of("momentary.at_most");
    v.workings = {{"work.outage.customer_minutes", {f->customer_minutes, Unit::Minute}, ""},
                  {"work.outage.interrupted", {f->customers_interrupted, Unit::One}, ""},
                  {"work.outage.momentary", {f->momentary_customers, Unit::One}, ""},
                  {"work.outage.served", {static_cast<double>(customers_served), Unit::One}, ""},
                  {"work.outage.saidi", {f->saidi_min, Unit::Minute}, ""},
                  {"work.outage.saifi", {f->saifi, Unit::One}, ""}};
    v.because = say("because.outage.cost", {{"customers", Quantity{f->customers_interrupted, Unit::One}},
                                            {"minutes", Quantity{f->customer_minutes, Unit::Minute}},
                                            {"saidi", Quantity{f->saidi_min, Unit::Minute}}});
    return v;
}

} // namespace crossarm::rules
