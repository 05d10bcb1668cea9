// The upkeep protocol as it is shipped: its content.
#include "checklist/model/digest.hpp"
#include "tests/support/shipped_protocol.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <map>
#include <string>
#include <utility>
#include <vector>

namespace model = crossarm::model;
using namespace crossarm::tests;

namespace {

model::Protocol upkeep() {
    return shipped_protocol("upkeep");
}

} // namespace

TEST_CASE("The upkeep protocol has every stage in order, every part, and more than 70 checkpoints") {
    const model::Protocol p = upkeep();
    CHECK(p.id == "upkeep");
    CHECK(p.kind == "upkeep");
    CHECK(p.digest == model::sha256_hex(asset_text("protocols/upkeep.json")));
    CHECK(p.checkpoints.size() >= 70);

    const std::vector<std::string> parts = {
        "trees",    "pole_stays", "earth_electrodes", "lettering",   "lv_breaker",  "lv_cable",
        "tank",     "oil",        "breather",         "lv_bushings", "hv_bushings", "surge_arresters",
        "hv_fuses", "hv_jumpers"};
    REQUIRE(p.parts.size() == parts.size());
    for (std::size_t i = 0; i < parts.size(); ++i) {
        CHECK(p.parts[i].id == parts[i]);
    }
    std::map<std::string, int> at_stage;
    std::map<std::string, int> at_part;
    for (const auto& c : p.checkpoints) {
        ++at_stage[c.stage];
        ++at_part[c.part];
    }
    for (const char* stage : {"arrive", "brief", "work"}) {
        CHECK(at_stage[stage] >= 8);
    }
    CHECK(at_stage["restore"] >= 6);
    for (const auto& part : p.parts) {
        INFO(part.id);
        CHECK(at_part[part.id] >= 1);
    }
    CHECK(p.stage("permit")->order == model::Order::ReadThenDo);
    CHECK(p.stage("restore")->order == model::Order::ReadThenDo);
    CHECK(p.stage("work")->order == model::Order::DoThenConfirm);
    CHECK(p.stage_index("work") == 3);
    CHECK(p.stage_index("lunch") == p.stages.size());
    CHECK(p.checkpoint("oil.breakdwon") == nullptr);
    CHECK(p.part("hv_bushings")->beyond_reach);
    CHECK_FALSE(p.part("earth_electrodes")->beyond_reach);
}

TEST_CASE("Every checkpoint of the upkeep protocol says how, and never says safe") {
    for (const auto& c : upkeep().checkpoints) {
        INFO(c.id);
        CHECK(characters(c.how) >= 20);
        CHECK(characters(c.how) <= 400);
        CHECK(characters(c.title) <= 40);
        std::string all = c.title + ' ' + c.how;
        for (const auto& caution : c.cautions) {
            all += ' ' + caution;
        }
        CHECK(lower(all).find("safe") == std::string::npos);
        CHECK(lower(all).find("checked") == std::string::npos);
        if (c.stage == "brief" && c.part.empty()) {
            CHECK_FALSE(c.may_be_out_of_reach);
        }
    }
}

TEST_CASE("Every reading of the upkeep protocol has a hard range and a usual one inside it") {
    const auto check = [](const auto& input) {
        CHECK(input.hard.low < input.hard.high);
        CHECK(input.usual.low <= input.usual.high);
        CHECK(input.hard.holds(input.usual.low));
        CHECK(input.hard.holds(input.usual.high));
    };
    int readings = 0;
    for (const auto& c : upkeep().checkpoints) {
        INFO(c.id);
        if (const auto* one = std::get_if<model::NumberInput>(&c.input)) {
            check(*one);
            ++readings;
        } else if (const auto* several = std::get_if<model::NumbersInput>(&c.input)) {
            check(*several);
            ++readings;
        }
    }
    CHECK(readings >= 35);
}

TEST_CASE("Cautions stand where the work can hurt") {
    struct Row {
        const char* checkpoint;
        const char* word; // that one of its cautions holds
    };
    // common practice, no source
    const Row rows[] = {
        {"arrive.ground", "wire on the ground is live"},
        {"trees.clearance_hv", "live"},
        {"trees.fall_in", "dead branches"},
        {"trees.trimmed_to", "falling branches"},
        {"hv_jumpers.current", "live work"},
        {"lv_breaker.current", "live lv"},
        {"earth_electrodes.neutral", "live transformer"},
        {"earth_electrodes.conductor", "live transformer"},
        {"tank.top_oil", "burn"},
        {"tank.leak_place", "pcb"},
        {"tank.ir_hv_lv", "charge"},
        {"tank.ir_discharged", "charge"},
        {"tank.sealed_pressure", "no oil sample"},
        {"oil.pcb", "unknown"},
        {"oil.weather", "no oil sample in rain"},
        {"oil.temperature", "burns"},
        {"oil.breakdown", "high voltage"},
        {"breather.recharged", "dust"},
        {"breather.gel_kind", "cobalt"},
        {"lv_breaker.box", "not closed"},
        {"hv_fuses.contacts", "isolation point"},
        {"hv_jumpers.loose", "line side"},
    };
    const model::Protocol p = upkeep();
    for (const Row& row : rows) {
        INFO(row.checkpoint);
        const model::Checkpoint* c = p.checkpoint(row.checkpoint);
        REQUIRE(c != nullptr);
        CHECK(std::ranges::any_of(c->cautions, [&](const std::string& caution) {
            return lower(caution).find(row.word) != std::string::npos;
        }));
    }
}

TEST_CASE("Killer answers stop their stage") {
    struct Row {
        const char* checkpoint;
        const char* option;
    };
    const Row rows[] = {
        {"arrive.structure", "different"}, {"arrive.lightning", "near"},     {"arrive.go", "no_go"},
        {"brief.rescue_ready", "missing"}, {"restore.rotation", "reversed"},
    };
    const model::Protocol p = upkeep();
    for (const Row& row : rows) {
        INFO(row.checkpoint << " " << row.option);
        const model::Checkpoint* c = p.checkpoint(row.checkpoint);
        REQUIRE(c != nullptr);
        const auto& options = std::get<model::ChoiceInput>(c->input).options;
        const auto option = std::ranges::find(options, row.option, &model::Option::id);
        REQUIRE(option != options.end());
        CHECK_FALSE(option->stops.empty());
    }
}

TEST_CASE("Nothing is asked about the permit: the program itself asks for its steps") {
    const model::Protocol p = upkeep();
    for (const auto& c : p.checkpoints) {
        INFO(c.id);
        CHECK(c.stage != "permit");
    }
    CHECK(p.keys.crew == "brief.crew");
    CHECK(p.keys.energise == "restore.energise");
    CHECK(p.keys.stays_off == "stays_off");
}

TEST_CASE("No hand comes near live parts before the briefing") {
    // common practice, no source
    const model::Protocol p = upkeep();
    for (const char* id :
         {"hv_jumpers.current", "lv_bushings.current", "lv_breaker.current", "lv_breaker.voltage"}) {
        INFO(id);
        REQUIRE(p.checkpoint(id) != nullptr);
        CHECK(p.checkpoint(id)->stage == "brief");
    }
}

TEST_CASE("The cautions of the permit's steps are in the words") {
    struct Row {
        const char* step;
        const char* word;
    };
    // common practice, no source; the first of "earths" and all of the proofs: EN 50110-1, from memory
    const Row rows[] = {
        {"earths", "Earth end on first, off last"},
        {"earths", "fault current"},
        {"points", "11 kV"},
        {"points", "Unbolt no link"},
        {"supplies", "gives no warning"},
        {"proof_hv", "approach distance"},
        {"proof_hv", "untested one is live"},
        {"proof_lv", "counts for nothing"},
        {"zone", "stays live"},
        {"tools", "missing spanner"},
        {"people", "Nobody goes up again"},
        {"hand_back", "treat everything as live"},
        {"control_earths", "short circuit"},
        {"control_earths", "treated as live from the moment its earth is off"},
    };
    const auto words = nlohmann::json::parse(asset_text("words/en/permit_help.json"));
    for (const Row& row : rows) {
        INFO(row.step << ": " << row.word);
        const std::string text = words.at(std::string("permit_caution.") + row.step);
        CHECK(text.find(row.word) != std::string::npos);
    }
}

TEST_CASE("No step before supply returns can be passed over as out of reach") {
    const model::Protocol p = upkeep();
    for (const auto& c : p.checkpoints) {
        if (c.stage == "restore") {
            INFO(c.id);
            CHECK_FALSE(c.may_be_out_of_reach);
        }
        if (c.id == "restore.energise") {
            break;
        }
    }
}

TEST_CASE("Readings that feed a rule name it") {
    const model::Protocol p = upkeep();
    const std::pair<const char*, const char*> rows[] = {
        {"oil.breakdown", "oil.breakdown"},
        {"breather.gel_spent", "breather.gel"},
        {"trees.clearance_hv", "vegetation.clearance"},
        {"trees.trimmed_to", "vegetation.trim"},
        {"hv_bushings.damage", "bushing.damage"},
        {"lv_bushings.damage", "bushing.damage"},
        {"hv_jumpers.temperature", "joint.rise"},
        {"lv_bushings.temperature", "joint.rise"},
    };
    for (const auto& [id, rule] : rows) {
        INFO(id);
        REQUIRE(p.checkpoint(id) != nullptr);
        CHECK(p.checkpoint(id)->feeds == rule);
    }
    CHECK(std::get<model::NumbersInput>(p.checkpoint("oil.breakdown")->input).names.size() == 6);
}
