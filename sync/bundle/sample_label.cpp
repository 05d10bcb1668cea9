#include "sync/bundle/sample_label.hpp"

#include "sync/bundle/html.hpp"

#include <algorithm>
#include <utility>

namespace crossarm::bundle {

namespace {

/// The answer in words: the option's title, the text, the number with its unit; "" when there is none.
std::string said_at(const LabelFacts& facts, const std::string& id) {
    const visit::Answer* answer = visit::answer_at(facts.state, id);
    const model::Checkpoint* checkpoint = facts.protocol.checkpoint(id);
    if (answer == nullptr || checkpoint == nullptr) {
        return "";
    }
    if (const model::Option* option = visit::picked_option(*checkpoint, *answer)) {
        return option->title;
    }
    if (const auto* remark = std::get_if<model::Remark>(&answer->finding.value)) {
        return remark->text;
    }
    const auto* quantity = std::get_if<model::Quantity>(&answer->finding.value);
    return quantity == nullptr ? "" : model::for_people(*quantity);
}

/// The texts that are not empty, with a comma and a space between.
std::string joined(const std::vector<std::string>& texts) {
    std::string out;
    for (const std::string& text : texts) {
        out += out.empty() || text.empty() ? text : ", " + text;
    }
    return out;
}

std::string name_of(const LabelFacts& facts, const std::string& person) {
    const auto found = std::ranges::find(facts.people, person, &model::Person::id);
    return found == facts.people.end() ? person : found->name;
}

std::string rating(const model::Nameplate& plate) {
    return joined({model::for_people({plate.rating_kVA, model::Unit::KilovoltAmpere}),
                   model::for_people({plate.hv_kV, model::Unit::Kilovolt}) + " / " +
                       model::for_people({plate.lv_V, model::Unit::Volt})});
}

using Line = std::pair<std::string_view, std::string>;

std::vector<Line> lines_of(const LabelFacts& facts, const model::Words& words) {
    const model::Structure& at = facts.structure;
    const visit::Answer* drawn = visit::answer_at(facts.state, "oil.drawn");
    // A permit that never came to be accepted isolates nothing.
    const std::string permit =
        visit::permit::ever_accepted(facts.state.permit) ? facts.state.permit.number : std::string();
    const auto litres = at.plate.oil_litres;
    return {
        {"sample_label.owner", std::string(facts.owner)},
        {"sample_label.structure", joined({at.id, at.name})},
        {"sample_label.site", at.feeder},
        {"sample_label.serial", joined({at.plate.make, at.plate.serial})},
        {"sample_label.made",
         at.plate.made_year ? model::number_for_people(static_cast<double>(*at.plate.made_year)) : ""},
        {"sample_label.rating", rating(at.plate)},
        {"sample_label.liquid",
         joined({std::string(facts.liquid), litres ? model::for_people({*litres, model::Unit::Litre}) : ""})},
        {"sample_label.pcb", said_at(facts, "oil.pcb")},
        {"sample_label.point", said_at(facts, "oil.drawn")},
        {"sample_label.flushed", said_at(facts, "oil.flushed")},
        {"sample_label.when",
         drawn == nullptr ? model::for_people(facts.printed) : model::for_people(drawn->at)},
        {"sample_label.sampler", drawn == nullptr ? "" : name_of(facts, drawn->by)},
        {"sample_label.oil_temperature", said_at(facts, "oil.temperature")},
        {"sample_label.supply", drawn == nullptr || permit.empty()
                                    ? ""
                                    : words.say({"sample_label.isolated", {{"permit", permit}}})},
        {"sample_label.humidity", said_at(facts, "oil.humidity")},
        {"sample_label.weather", said_at(facts, "oil.weather")},
        {"sample_label.container", said_at(facts, "oil.bottle")},
        {"sample_label.reason", std::string(facts.reason)},
        {"sample_label.tests", std::string(facts.tests)},
    };
}

constexpr std::string_view kStyle = "@page{size:100mm 70mm;margin:2.5mm}"
                                    "*{box-sizing:border-box;margin:0;padding:0}"
                                    "body{width:95mm;font:2.5mm/1.15 sans-serif;color:#000;background:#fff}"
                                    "h1{font-size:4.4mm;border-bottom:.4mm solid #000;margin-bottom:.8mm}"
                                    "dl{columns:2;column-gap:3mm}"
                                    "div{min-height:5.5mm;border-bottom:.2mm solid #000;break-inside:avoid}"
                                    "dt{font-size:1.9mm}dd{font-weight:bold;overflow-wrap:anywhere}";

} // namespace

std::string sample_label(const LabelFacts& facts, const model::Words& words) {
    const std::string number = said_at(facts, "oil.sample_id");
    const std::string heading = words.say("sample_label.number");
    std::string body = element("h1", heading + ": " + number) + "\n<dl>\n";
    for (const auto& [key, value] : lines_of(facts, words)) {
        body += "<div>" + element("dt", words.say(key)) + element("dd", value) + "</div>\n";
    }
    return html_page(joined({heading, number}), kStyle, body + "</dl>\n");
}

std::string suggested_sample_id(std::string_view structure, model::Timestamp at,
                                const std::vector<std::string>& taken) {
    const std::string day = model::to_text(model::day_of(at)); // 2026-11-25
    const std::string begin =
        std::string(structure) + "-" + day.substr(2, 2) + day.substr(5, 2) + day.substr(8, 2) + "-";
    for (std::size_t running = 1;; ++running) {
        std::string id = begin + std::to_string(running);
        if (std::ranges::find(taken, id) == taken.end()) {
            return id;
        }
    }
}

} // namespace crossarm::bundle
