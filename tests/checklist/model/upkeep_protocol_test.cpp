// The upkeep protocol as it is shipped: its content.
#include "checklist/model/digest.hpp"
#include "checklist/model/protocol.hpp"
#include "tests/support/catch.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <string>
#include <utility>
#include <vector>

namespace model = crossarm::model;
namespace fs = std::filesystem;

namespace {

std::string upkeep_text() {
    std::ifstream in(fs::path(CROSSARM_SOURCE_DIR) / "assets/protocols/upkeep.json", std::ios::binary);
    REQUIRE(in);
    return {std::istreambuf_iterator<char>(in), {}};
}

model::Protocol upkeep() {
    auto read = model::read_protocol(upkeep_text(), "upkeep.json");
    INFO((read ? std::string() : model::to_text(read.problem())));
    REQUIRE(read.ok());
    return *read;
}

std::size_t characters(const std::string& utf8) {
    return static_cast<std::size_t>(std::ranges::count_if(utf8, [](char c) { return (c & 0xC0) != 0x80; }));
}

std::string lower(std::string text) {
    std::ranges::transform(text, text.begin(), [](char c) {
        return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    });
    return text;
}

} // namespace

TEST_CASE("The upkeep protocol has every stage in order, every part, and more than 70 checkpoints") {
    const model::Protocol p = upkeep();
    CHECK(p.id == "upkeep");
    CHECK(p.kind == "upkeep");
    CHECK(p.digest == model::sha256_hex(upkeep_text()));
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
    for (const char* stage : {"arrive", "brief", "permit", "work", "restore"}) {
        CHECK(at_stage[stage] >= 8);
    }
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
        if (c.stage == "brief" || c.stage == "permit") {
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
        {"permit.control_earths", "earth end on first"},
        {"permit.lv_open", "11 kv"},
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
        {"restore.control_earths_off", "short circuit"},
        {"restore.handed_back", "treat everything as live"},
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
        {"arrive.structure", "different"},
        {"arrive.lightning", "near"},
        {"arrive.go", "no_go"},
        {"brief.rescue_ready", "missing"},
        {"permit.detector_before", "no_indication"},
        {"permit.dead", "one_indicated"},
        {"permit.dead", "not_all"},
        {"permit.detector_after", "no_indication"},
        {"permit.backfeed", "not_asked"},
        {"permit.accepted", "not_accepted"},
        {"restore.cancelled", "not_cancelled"},
        {"restore.rotation", "reversed"},
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

TEST_CASE("The permit is gone through in the order isolate, lock, prove, earth, mark, accept") {
    // EN 50110-1, order of making dead; the detector proved before and after use
    const model::Protocol p = upkeep();
    const char* order[] = {"permit.lv_open",
                           "permit.points",
                           "permit.locked",
                           "permit.detector_before",
                           "permit.dead",
                           "permit.detector_after",
                           "permit.control_earths",
                           "permit.working_earths",
                           "permit.demarcation",
                           "permit.accepted",
                           "restore.people_down",
                           "restore.tools_in",
                           "restore.working_earths_off",
                           "restore.handed_back",
                           "restore.cancelled",
                           "restore.control_earths_off",
                           "restore.energise",
                           "restore.rotation",
                           "restore.lv_breaker"};
    auto from = p.checkpoints.begin();
    for (const char* id : order) {
        INFO(id);
        from = std::find_if(from, p.checkpoints.end(), [&](const auto& c) { return c.id == id; });
        REQUIRE(from != p.checkpoints.end());
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

TEST_CASE("What went up is counted down against what was counted before") {
    const model::Protocol p = upkeep();
    CHECK(p.checkpoint("permit.locked")->must_equal == "permit.points");
    CHECK(p.checkpoint("restore.people_down")->must_equal == "brief.heads");
    CHECK(p.checkpoint("restore.tools_in")->must_equal == "brief.tools_out");
    CHECK(p.checkpoint("restore.working_earths_off")->must_equal == "permit.working_earths");
    CHECK(p.checkpoint("restore.control_earths_off")->must_equal == "permit.control_earths");
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
