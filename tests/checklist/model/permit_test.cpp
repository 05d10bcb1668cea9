// Acts of a permit as data: what is written is read back, what is broken is refused.
#include "checklist/model/permit.hpp"

#include "checklist/model/json_reader.hpp"
#include "tests/support/catch.hpp"

#include <nlohmann/json.hpp>

#include <set>
#include <vector>

using namespace crossarm::model;
using namespace crossarm::model::permit;
using Json = nlohmann::json;

namespace {

const Signing kSigned = {std::string(64, 'a'), "0,0 300,0"};
const Timestamp kAt = {1'773'481'327'250, 330};

// One of each, in the order of the variant.
std::vector<Act> one_of_each() {
    return {Prepared{"4711", "Change the HV bushings", "Not beyond the jumpers"},
            PointAdded{"HV1", "Fuse switch", "Pole A", Side::Hv},
            PointOpened{"HV1", "Three tubes down"},
            PointLocked{"HV1", "L-7", "T-7", "P-011"},
            PointUnlocked{"HV1"},
            SuppliesAsked{"none", "locked_off", "earthed", "Owner"},
            DetectorProved{Side::Lv, "D-3", true, false},
            ConductorTested{Side::Lv, "N", "not_reached"},
            EarthEndOn{"W-1", EarthKind::Working, Side::Lv, "A", "Pole B", "P-012", 67.4},
            LineEndOn{"W-1"},
            LineEndOff{"W-1"},
            EarthEndOff{"W-1"},
            LivePartNoted{"Line beyond the fuse switch", 2.4},
            ZoneMarked{"Tape between the poles"},
            Briefed{"P-012"},
            Issued{"A", "P-012", kAt, "P-013", kSigned},
            Accepted{"A", kSigned},
            Suspended{"", "Thunder heard"},
            Resumed{"A"},
            Transferred{"A", "P-014"},
            Extended{"A", kAt},
            TakenBack{"A"},
            SignedOn{"A", "P-012"},
            SignedOff{"P-012", "Taken ill"},
            ToolsOut{"A", 12},
            ToolsIn{"A", 1},
            LeadDecided{"earth_not_fitted", "lv", "No room for the clamp"},
            HandedBack{"A", "", kSigned},
            Cancelled{"P-013", kSigned}};
}

} // namespace

TEST_CASE("every act of a permit reads back as it was written") {
    const auto acts = one_of_each();
    REQUIRE(acts.size() == std::variant_size_v<Act>);
    std::set<std::string_view> names;
    for (std::size_t i = 0; i < acts.size(); ++i) {
        INFO(name(acts[i]));
        CHECK(acts[i].index() == i);
        CHECK(is_act(name(acts[i])));
        CHECK(names.insert(name(acts[i])).second);
        const Json json = to_json(acts[i]);
        const JsonReader reader(json, "entry");
        CHECK(read_act(name(acts[i]), reader) == acts[i]);
        CHECK_FALSE(reader.failed());
    }
    CHECK_FALSE(is_act("switched_on"));
    CHECK_FALSE(is_act(""));
}

TEST_CASE("an act with any member missing or of another kind is refused, with its place") {
    for (const Act& act : one_of_each()) {
        const Json whole = to_json(act);
        for (const auto& member : whole.items()) {
            for (const bool missing : {true, false}) {
                Json broken = whole;
                if (missing) {
                    broken.erase(member.key());
                } else {
                    broken[member.key()] = Json::array();
                }
                INFO(name(act) << " " << broken.dump());
                const JsonReader reader(broken, "entry");
                (void)read_act(name(act), reader);
                REQUIRE(reader.failed());
                CHECK(reader.problem().where.find(member.key()) != std::string::npos);
            }
        }
    }
}

TEST_CASE("an act with an answer that does not exist or an absurd number is refused") {
    struct Case {
        const char* act;
        const char* json;
    };
    const std::vector<Case> cases = {
        {"supplies_asked", R"({"generators":"perhaps","solar":"none","ring":"none","askedOf":"o"})"},
        {"detector_proved", R"({"side":"mv","detector":"D","after":false,"indicated":true})"},
        {"conductor_tested", R"({"side":"hv","conductor":"D","result":"none"})"},
        {"conductor_tested", R"({"side":"hv","conductor":"A","result":"dead"})"},
        {"earth_end_on",
         R"({"earth":"E","kind":"spare","side":"hv","party":"","place":"p","fixedBy":"x","sizeMm2":70})"},
        {"earth_end_on",
         R"({"earth":"E","kind":"control","side":"hv","party":"","place":"p","fixedBy":"x","sizeMm2":-70})"},
        {"earth_end_on",
         R"({"earth":"E","kind":"control","side":"hv","party":"","place":"p","fixedBy":"x","sizeMm2":1e9})"},
        {"live_part_noted", R"({"what":"w","distanceM":-1})"},
        {"live_part_noted", R"({"what":"w","distanceM":1e300})"},
        {"tools_out", R"({"party":"A","count":0})"},
        {"tools_out", R"({"party":"A","count":-3})"},
        {"tools_out", R"({"party":"A","count":4294967297})"},
        {"tools_in", R"({"party":"A","count":1.5})"},
        {"lead_decided", R"({"matter":"go_on","about":"hv","reason":"r"})"},
        {"extended", R"({"party":"A","until":"tomorrow"})"},
        {"accepted", R"({"party":"A","signing":{"over":"x"}})"},
    };
    for (const Case& c : cases) {
        INFO(c.act << " " << c.json);
        const Json json = Json::parse(c.json);
        const JsonReader reader(json, "entry");
        (void)read_act(c.act, reader);
        CHECK(reader.failed());
        CHECK_FALSE(reader.problem().remedy.empty());
    }
}
