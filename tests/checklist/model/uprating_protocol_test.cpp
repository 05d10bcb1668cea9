// The uprating protocol as it is shipped: its content.
#define VALIJSON_USE_EXCEPTIONS 1

#include "tests/support/shipped_protocol.hpp"

#include <nlohmann/json.hpp>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validator.hpp>

#include <algorithm>
#include <map>
#include <string>

namespace model = crossarm::model;
using namespace crossarm::tests;

namespace {

model::Protocol protocol(const char* id = "uprating") {
    return shipped_protocol(id);
}

std::size_t place(const model::Protocol& p, const std::string& id) {
    const auto found = std::ranges::find(p.checkpoints, id, &model::Checkpoint::id);
    INFO(id);
    REQUIRE(found != p.checkpoints.end());
    return static_cast<std::size_t>(found - p.checkpoints.begin());
}

} // namespace

TEST_CASE("The uprating protocol goes through the same stages and parts as upkeep, with the same keys") {
    const model::Protocol p = protocol();
    const model::Protocol upkeep = protocol("upkeep");
    CHECK(p.id == "uprating");
    CHECK(p.kind == "uprating");
    REQUIRE(p.stages.size() == upkeep.stages.size());
    for (std::size_t i = 0; i < p.stages.size(); ++i) {
        CHECK(p.stages[i].id == upkeep.stages[i].id);
        CHECK(p.stages[i].order == upkeep.stages[i].order);
    }
    REQUIRE(p.parts.size() == upkeep.parts.size());
    std::map<std::string, int> at_part;
    for (const auto& c : p.checkpoints) {
        ++at_part[c.part];
        CHECK(c.stage != "permit");
    }
    for (std::size_t i = 0; i < p.parts.size(); ++i) {
        INFO(p.parts[i].id);
        CHECK(p.parts[i].id == upkeep.parts[i].id);
        CHECK(p.parts[i].beyond_reach == upkeep.parts[i].beyond_reach);
        CHECK(at_part[p.parts[i].id] >= 1);
    }
    CHECK(p.keys.crew == upkeep.keys.crew);
    CHECK(p.keys.energise == upkeep.keys.energise);
    CHECK(p.keys.stays_off == upkeep.keys.stays_off);
}

TEST_CASE("The uprating protocol fits the schema that others read it by") {
    const auto schema_json = nlohmann::json::parse(asset_text("schemas/protocol.schema.json"));
    valijson::Schema schema;
    valijson::SchemaParser parser(valijson::SchemaParser::kDraft7);
    parser.populateSchema(valijson::adapters::NlohmannJsonAdapter(schema_json), schema);
    const auto document = nlohmann::json::parse(asset_text("protocols/uprating.json"));
    const valijson::adapters::NlohmannJsonAdapter adapter(document);
    CHECK(valijson::Validator().validate(schema, adapter, nullptr));
}

TEST_CASE("Every checkpoint of the uprating protocol says how, and never says safe") {
    for (const auto& c : protocol().checkpoints) {
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
        const auto check = [](const auto& input) {
            CHECK(input.hard.low < input.hard.high);
            CHECK(input.hard.holds(input.usual.low));
            CHECK(input.hard.holds(input.usual.high));
            CHECK(input.usual.low <= input.usual.high);
        };
        if (const auto* one = std::get_if<model::NumberInput>(&c.input)) {
            check(*one);
        } else if (const auto* several = std::get_if<model::NumbersInput>(&c.input)) {
            check(*several);
        }
    }
}

TEST_CASE("What a crew does when it puts up a larger transformer stands in the protocol, in that order") {
    // common practice, no source
    const char* order[] = {"arrive.crane_place",
                           "lift.operator",
                           "lift.chart",
                           "plate.rating",
                           "plate.vector_group",
                           "tank.transport",
                           "tank.ir_hv_lv",
                           "tank.ratio",
                           "breather.fresh",
                           "tank.received",
                           "lv_breaker.rotation",
                           "lv_cable.marked",
                           "tank.old_down",
                           "lift.zone",
                           "tank.set",
                           "tank.oil_level",
                           "tank.tap",
                           "hv_jumpers.torque",
                           "lv_cable.lug",
                           "lv_cable.die",
                           "lv_cable.pull",
                           "lv_cable.cleat",
                           "lv_breaker.overload",
                           "earth_electrodes.neutral",
                           "hv_fuses.fitted",
                           "lettering.painted",
                           "restore.energise",
                           "restore.no_load",
                           "restore.voltage",
                           "restore.rotation",
                           "restore.lv_breaker",
                           "restore.load"};
    const model::Protocol p = protocol();
    for (std::size_t i = 1; i < std::size(order); ++i) {
        INFO(order[i - 1] << " before " << order[i]);
        CHECK(place(p, order[i - 1]) < place(p, order[i]));
    }
    // The new unit is looked over while the old one still serves: before the permit.
    CHECK(p.checkpoint("tank.received")->stage == "brief");
    CHECK(p.checkpoint("lift.zone")->stage == "work");
}

TEST_CASE("Answers that would kill stop their stage, and cannot be passed over as out of reach") {
    struct Row {
        const char* checkpoint;
        const char* option;
    };
    // common practice, no source
    const Row rows[] = {
        {"pole_stays.carries", "unknown"},
        {"arrive.crane_place", "none"},
        {"arrive.crane_lines", "cannot_keep"},
        {"lift.within", "operator_no"},
        {"lift.slings", "bad"},
        {"plate.same", "differs"},
        {"plate.vector_group", "other"},
        {"tank.ratio_agrees", "outside"},
        {"tank.received", "refused"},
        {"lift.zone", "open"},
        {"lv_cable.marked", "not"},
        {"lv_cable.pull", "not_pulled"},
        {"lv_bushings.phases", "not_followed"},
        {"restore.no_load", "crackle"},
        {"restore.rotation", "reversed"},
    };
    const model::Protocol p = protocol();
    for (const Row& row : rows) {
        INFO(row.checkpoint << " " << row.option);
        const model::Checkpoint* c = p.checkpoint(row.checkpoint);
        REQUIRE(c != nullptr);
        CHECK_FALSE(c->may_be_out_of_reach);
        const auto& options = std::get<model::ChoiceInput>(c->input).options;
        const auto option = std::ranges::find(options, row.option, &model::Option::id);
        REQUIRE(option != options.end());
        CHECK_FALSE(option->stops.empty());
    }
}

TEST_CASE("Cautions stand where putting up a transformer can hurt") {
    struct Row {
        const char* checkpoint;
        const char* word;
    };
    // common practice, no source; the 3 m: OSHA 1926.1408 Table A, 10 ft up to 50 kV
    const Row rows[] = {
        {"arrive.crane_lines", "within 3 m"},
        {"lift.chart", "licensed operator"},
        {"lift.mass", "never guess"},
        {"tank.old_down", "nobody under the load"},
        {"lift.zone", "rope under load"},
        {"tank.set", "hook stays on"},
        {"tank.ratio", "lv side"},
        {"tank.tap", "dead"},
        {"hv_jumpers.off", "stays live"},
        {"lv_cable.length_difference", "carries more"},
        {"lv_cable.cleat", "bushing"},
        {"lv_bushings.phases", "neutral"},
        {"lv_breaker.icu", "fault level"},
        {"restore.energise", "first closing"},
        {"restore.parallel", "short circuit"},
        {"plate.same", "short circuit"},
    };
    const model::Protocol p = protocol();
    for (const Row& row : rows) {
        INFO(row.checkpoint);
        REQUIRE(p.checkpoint(row.checkpoint) != nullptr);
        CHECK(std::ranges::any_of(p.checkpoint(row.checkpoint)->cautions, [&](const std::string& caution) {
            return lower(caution).find(row.word) != std::string::npos;
        }));
    }
}
