#include "sync/bundle/permit_page.hpp"

#include "checklist/model/digest.hpp"
#include "checklist/model/strokes.hpp"
#include "sync/bundle/html.hpp"

#include <algorithm>
#include <utility>

namespace crossarm::bundle {

namespace {

using model::Phrase;
namespace permit = visit::permit;

constexpr std::size_t kDigits = 16; // of a digest, for people to compare

constexpr std::string_view kStyle =
    "@page{size:A4 portrait;margin:11mm}"
    "*{box-sizing:border-box;margin:0;padding:0}"
    "body{font:2.9mm/1.25 sans-serif;color:#000;background:#fff}"
    "h1{font-size:5.6mm;display:inline}h2{font-size:3.2mm;margin:1.6mm 0 .5mm}"
    ".standing{font-weight:bold;border:.5mm solid #000;padding:.8mm 2mm;margin:1mm 0}"
    "dl{display:grid;grid-template-columns:repeat(3,1fr);gap:0 3mm}"
    "dt{font-size:2.2mm}dd{font-weight:bold;min-height:3.8mm;border-bottom:.2mm solid #000;"
    "overflow-wrap:anywhere}.wide{grid-column:1/-1}"
    "table{width:100%;border-collapse:collapse}"
    "th,td{border:.2mm solid #000;padding:.3mm 1mm;text-align:left;vertical-align:top;"
    "overflow-wrap:anywhere}th{font-size:2.3mm;font-weight:normal}"
    ".signing{display:flex;gap:3mm;align-items:center;border-bottom:.2mm solid #000;break-inside:avoid;"
    "min-height:10mm}.signing p{flex:1}.signing svg,.pen{width:42mm;height:9mm}"
    ".pen{border-bottom:.2mm dotted #000}"
    "small{font-size:2.3mm}footer{margin-top:1.6mm;font-size:2.4mm;border-top:.4mm solid #000}";

class Page {
public:
    Page(const PermitFacts& facts, const model::Words& words)
        : facts_(facts), words_(words), state_(facts.permit),
          sheet_(model::sha256_hex(permit::sheet_text(state_, facts.structure.id))),
          stale_(permit::stale(state_, facts.structure.id)) {}

    std::string whole() {
        head();
        points();
        proofs();
        earths();
        surroundings();
        for (const permit::Party& party : state_.parties) {
            one_party(party);
        }
        if (state_.parties.empty()) {
            signing(say("issued"), "", {}, "", {});
        }
        cancelling();
        out_ += "<footer>" + element("p", say("cautions")) +
                element("p", say("printed", {{"digits", sheet_.substr(0, kDigits)},
                                             {"at", model::for_people(facts_.printed)}})) +
                "</footer>\n";
        return html_page(say("title") + " " + state_.number, kStyle, out_);
    }

private:
    [[nodiscard]] std::string say(const std::string& key,
                                  std::vector<std::pair<std::string, Phrase::Value>> values = {}) const {
        return words_.say(Phrase{"permit_page." + key, std::move(values)});
    }
    [[nodiscard]] std::string name_of(const std::string& person) const {
        const auto found = std::ranges::find(facts_.people, person, &model::Person::id);
        return found == facts_.people.end() ? person : found->name;
    }
    [[nodiscard]] std::string name_at(const std::string& person, model::Timestamp at) const {
        return person.empty() ? ""
                              : say("name_at", {{"name", name_of(person)}, {"at", model::for_people(at)}});
    }
    [[nodiscard]] std::string side(permit::Side side) const {
        return say(side == permit::Side::Hv ? "side_hv" : "side_lv");
    }

    void fact(const std::string& key, const std::string& value, bool wide = false) {
        out_ += (wide ? "<div class=\"wide\">" : "<div>") + element("dt", say(key)) + element("dd", value) +
                "</div>";
    }
    void row(const std::vector<std::string>& cells, const char* cell = "td") {
        out_ += "<tr>";
        for (const std::string& text : cells) {
            out_ += element(cell, text);
        }
        out_ += "</tr>\n";
    }
    void begin_table(const std::string& title, const std::vector<std::string>& columns) {
        out_ += element("h2", say(title)) + "<table>\n";
        std::vector<std::string> heads;
        for (const std::string& column : columns) {
            heads.push_back(say(column));
        }
        row(heads, "th");
    }
    void end_table() { out_ += "</table>\n"; }

    [[nodiscard]] std::string standing() const {
        if (state_.cancelled) {
            return say("standing_cancelled");
        }
        if (state_.parties.empty()) {
            return say("standing_prepared");
        }
        const bool held = std::ranges::any_of(state_.parties, [](const permit::Party& party) {
            return party.holding != permit::Holding::HandedBack &&
                   party.holding != permit::Holding::TakenBack;
        });
        return say(held ? "standing_issued" : "standing_back");
    }

    void head() {
        const model::Nameplate& plate = facts_.structure.plate;
        out_ += element("h1", say("title")) + "<p class=\"standing\">" + escaped(standing()) + "</p>\n";
        if (state_.irregular > 0) {
            out_ += "<p class=\"standing\">" +
                    escaped(say("irregular", {{"count", std::to_string(state_.irregular)}})) + "</p>\n";
        }
        out_ += "<dl>";
        fact("number", state_.number);
        fact("structure", facts_.structure.id + ", " + facts_.structure.name);
        fact("feeder", facts_.structure.feeder);
        fact("owner", std::string(facts_.owner));
        fact("plant", model::for_people({plate.rating_kVA, model::Unit::KilovoltAmpere}) + ", " +
                          model::for_people({plate.hv_kV, model::Unit::Kilovolt}) + " / " +
                          model::for_people({plate.lv_V, model::Unit::Volt}) +
                          (plate.serial.empty() ? "" : ", " + plate.serial));
        fact("prepared", name_at(state_.prepared_by, state_.prepared_at));
        fact("work", state_.work, true);
        fact("limits", state_.limits, true);
        out_ += "</dl>\n";
    }

    void points() {
        begin_table("points", {"point", "device", "position", "lock", "label", "key", "stands"});
        for (const permit::Point& point : state_.points) {
            const bool was_locked = !point.lock.empty();
            row({point.id + " (" + side(point.side) + ")", point.device + ", " + point.place, point.position,
                 point.lock, point.label, name_of(point.key_held_by),
                 point.locked ? say("locked") : (was_locked ? say("unlocked") : "")});
        }
        end_table();
        if (state_.supplies) {
            out_ +=
                "<p><b>" + escaped(say("supplies")) + "</b> " +
                escaped(say("supplies_answer", {{"generators", say("supply_" + state_.supplies->generators)},
                                                {"solar", say("supply_" + state_.supplies->solar)},
                                                {"ring", say("supply_" + state_.supplies->ring)},
                                                {"asked", state_.supplies->asked_of}})) +
                "</p>\n";
        }
    }

    void one_proof(permit::Side which, const permit::Proof& proof) {
        std::string without;
        for (const std::string& conductor : proof.without_indication) {
            without += (without.empty() ? "" : ", ") + conductor;
        }
        row({side(which), proof.detector, say(proof.before ? "yes" : "not_yet"), without,
             say(proof.after ? "yes" : "not_yet"), name_at(proof.by, proof.at)});
    }

    void proofs() {
        begin_table("proofs", {"side", "detector", "before", "conductors", "after", "recorded"});
        for (const permit::Proved& one : state_.proved) {
            one_proof(one.side, one.proof);
        }
        for (const permit::Side which : {permit::Side::Hv, permit::Side::Lv}) {
            const permit::Proof& now = which == permit::Side::Hv ? state_.hv : state_.lv;
            const bool none =
                std::ranges::find(state_.proved, which, &permit::Proved::side) == state_.proved.end();
            if (none || (now.before && !now.after)) {
                one_proof(which, now);
            }
        }
        end_table();
    }

    void earths() {
        begin_table("earths", {"earth", "kind", "side", "place", "size", "fixed_by", "stands"});
        for (const permit::Earth& earth : state_.earths) {
            row({earth.id,
                 earth.kind == permit::EarthKind::Control ? say("kind_control")
                                                          : say("kind_working", {{"party", earth.party}}),
                 side(earth.side), earth.place,
                 model::for_people({earth.size_mm2, model::Unit::SquareMillimetre}), name_of(earth.fixed_by),
                 say(earth.line_end    ? "both_ends"
                     : earth.earth_end ? "earth_end"
                                       : "off") +
                     ", " + model::clock_for_people(earth.at)});
        }
        end_table();
        out_ += element("small", say(facts_.rules.control_earths_off_after_cancelling ? "earth_rule_after"
                                                                                      : "earth_rule_before"));
    }

    void surroundings() {
        std::string live;
        for (const auto& part : state_.live_parts) {
            live += (live.empty() ? "" : "; ") +
                    say("live_part", {{"what", part.what},
                                      {"distance", model::Quantity{part.distance_m, model::Unit::Metre}}});
        }
        std::string briefed;
        for (const std::string& person : state_.briefed) {
            briefed += (briefed.empty() ? "" : ", ") + name_of(person);
        }
        out_ += "<dl>";
        fact("live_parts", live, true);
        fact("zone", state_.zone, true);
        fact("briefed", briefed, true);
        out_ += "</dl>\n";
        if (state_.exceptions.empty()) {
            return;
        }
        out_ += element("h2", say("exceptions"));
        for (const permit::Exception& one : state_.exceptions) {
            const bool earth = one.matter == "earth_not_fitted";
            out_ +=
                element("p", say(earth ? "exception_earth" : "exception_tools",
                                 {{earth ? "side" : "party", earth ? say("side_" + one.about) : one.about},
                                  {"reason", one.reason},
                                  {"name", name_of(one.by)},
                                  {"at", model::for_people(one.at)}})) +
                "\n";
        }
    }

    void signing(const std::string& words, const std::string& person, model::Timestamp at,
                 const std::string& second, const model::permit::Signing& made, bool is_stale = false) {
        out_ += "<div class=\"signing\"><p>" +
                escaped(person.empty() ? say("not_signed", {{"words", words}}) : words);
        if (!person.empty()) {
            out_ += "<br>" + element("b", name_at(person, at));
        }
        if (!second.empty()) {
            out_ += ", " + escaped(say("confirmed", {{"name", name_of(second)}}));
        }
        if (!made.over.empty()) {
            out_ += "<br>" + element("small", say("over", {{"digits", made.over.substr(0, kDigits)}}));
        }
        if (is_stale) {
            out_ += "<br>" + element("b", say("stale"));
        }
        const std::string drawing = signature_drawing(made.strokes);
        out_ +=
            "</p>" + (drawing.empty() ? std::string("<span class=\"pen\"></span>") : drawing) + "</div>\n";
    }

    void one_party(const permit::Party& party) {
        const bool is_stale = std::ranges::find(stale_, party.id) != stale_.end();
        out_ += element("h2", say("party", {{"party", party.id}})) + "<dl>";
        std::string on;
        for (const auto& [person, where] : state_.on) {
            on += where != party.id ? "" : (on.empty() ? "" : ", ") + name_of(person);
        }
        fact("holder", name_of(party.holder));
        fact("until", model::for_people(party.until));
        fact("tools", std::to_string(party.tools_out) + " / " + std::to_string(party.tools_in));
        fact("on", on.empty() ? say("nobody") : on, true);
        out_ += "</dl>\n";
        signing(say("issued"), party.issuer, party.issued_at, party.second, party.issue, is_stale);
        if (party.holding == permit::Holding::TakenBack) {
            out_ += element("p", say("taken_back"));
            return;
        }
        signing(say("accepted"), party.ever_accepted ? party.holder : "", party.accepted_at, "",
                party.acceptance, is_stale && party.ever_accepted);
        if (party.holding == permit::Holding::Suspended) {
            out_ += element("p", say("suspended", {{"reason", party.reason}}));
        }
        const bool back = party.holding == permit::Holding::HandedBack;
        signing(say("handed_back"), back ? party.holder : "", party.back_at, "", party.hand_back);
    }

    void cancelling() {
        signing(say("cancelled"), state_.cancelled_by, state_.cancelled_at, state_.cancelled_second,
                state_.cancelling);
    }

    const PermitFacts& facts_;
    const model::Words& words_;
    const permit::State& state_;
    std::string sheet_;
    std::vector<std::string> stale_;
    std::string out_;
};

} // namespace

std::string signature_drawing(std::string_view strokes) {
    const auto read = model::parse_strokes(strokes, "signature");
    if (!read) {
        return "";
    }
    int right = 1;
    int bottom = 1;
    std::string lines;
    for (const model::StrokeLine& line : read->lines) {
        lines += "<polyline points=\"";
        for (const model::StrokePoint& point : line) {
            lines += std::to_string(point.x) + "," + std::to_string(point.y) + " ";
            right = std::max(right, point.x);
            bottom = std::max(bottom, point.y);
        }
        lines += "\"/>";
    }
    return "<svg role=\"img\" viewBox=\"0 0 " + std::to_string(right) + " " + std::to_string(bottom) +
           "\" fill=\"none\" stroke=\"#000\" stroke-width=\"6\">" + lines + "</svg>";
}

std::string permit_page(const PermitFacts& facts, const model::Words& words) {
    return Page(facts, words).whole();
}

} // namespace crossarm::bundle
