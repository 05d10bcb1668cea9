// The printed permit: everything recorded has its place, nothing is claimed, and it prints on one sheet.
#include "sync/bundle/permit_page.hpp"

#include "checklist/model/digest.hpp"
#include "sync/bundle/assets.hpp"
#include "sync/bundle/atomic_file.hpp"
#include "tests/support/catch.hpp"

#include <filesystem>

using namespace crossarm;
namespace permit = visit::permit;
namespace acts = model::permit;

namespace {

constexpr const char* kStructure = "QM-0101";

struct Story {
    permit::State state;
    model::Timestamp at = *model::parse_timestamp("2026-11-25T09:00:00+05:30", "at");

    void done(const std::string& by, const model::permit::Act& act) {
        at.utc_ms += 60'000;
        state = permit::apply(std::move(state), act, by, at);
    }
    [[nodiscard]] acts::Signing signing() const {
        return {model::sha256_hex(permit::sheet_text(state, kStructure)), "10,40 60,10 90,70;120,40 180,40"};
    }
    void isolated() {
        done("P-1", acts::Prepared{"QV 2611-3", "HV joints, bushings, breather, oil sample",
                                   "Nothing above the cut-outs, nothing beyond the LV breaker"});
        done("P-1", acts::PointAdded{"HV1", "Cut-outs, three tubes", "crossarm, north", acts::Side::Hv});
        done("P-1", acts::PointAdded{"LV1", "LV breaker", "box, pole A", acts::Side::Lv});
        done("P-1", acts::PointOpened{"LV1", "open, gap seen"});
        done("P-1", acts::PointLocked{"LV1", "L-18", "T-18", "Orla Quist"});
        done("P-1", acts::PointOpened{"HV1", "three tubes down"});
        done("P-1", acts::PointLocked{"HV1", "L-17", "T-17", "Orla Quist"});
        done("P-1", acts::SuppliesAsked{"locked_off", "none", "none", "Mill foreman"});
        for (const acts::Side side : {acts::Side::Hv, acts::Side::Lv}) {
            const std::string detector = side == acts::Side::Hv ? "D-7" : "D-9";
            done("P-1", acts::DetectorProved{side, detector, false, true});
            for (const std::string_view conductor : permit::conductors(side)) {
                done("P-1", acts::ConductorTested{side, std::string(conductor), "none"});
            }
            done("P-1", acts::DetectorProved{side, detector, true, true});
            const std::string earth = side == acts::Side::Hv ? "E-31" : "E-32";
            done("P-1", acts::EarthEndOn{earth, acts::EarthKind::Control, side, "", "pole A", "P-2", 35.0});
            done("P-1", acts::LineEndOn{earth});
        }
        done("P-1", acts::LivePartNoted{"Line above the cut-outs", 1.8});
        done("P-1", acts::ZoneMarked{"Barrier all round, height mark at 3 m"});
        done("P-2", acts::Briefed{"P-2"});
        done("P-3", acts::Briefed{"P-3"});
    }
    void working() {
        isolated();
        model::Timestamp until = at;
        until.utc_ms += 6 * 3'600'000;
        done("P-1", acts::Issued{"A", "P-2", until, "P-4", signing()});
        done("P-2", acts::Accepted{"A", signing()});
        done("P-3", acts::SignedOn{"A", "P-3"});
        done("P-2", acts::ToolsOut{"A", 24});
        done("P-2",
             acts::EarthEndOn{"E-40", acts::EarthKind::Working, acts::Side::Hv, "A", "pole B", "P-3", 35.0});
        done("P-2", acts::LineEndOn{"E-40"});
    }
    void ended() {
        working();
        done("P-2", acts::LineEndOff{"E-40"});
        done("P-2", acts::EarthEndOff{"E-40"});
        done("P-3", acts::SignedOff{"P-3", ""});
        done("P-2", acts::ToolsIn{"A", 24});
        done("P-2", acts::HandedBack{"A", "", signing()});
        done("P-1", acts::Cancelled{"P-4", signing()});
    }
    [[nodiscard]] std::string page(const permit::Rules& rules = {}) const {
        model::Structure structure;
        structure.id = kStructure;
        structure.name = "Weir Cottages <east>";
        structure.feeder = "Osier Lane";
        structure.plate.rating_kVA = 100.0;
        structure.plate.serial = "AL-09-4100";
        const std::vector<model::Person> people = {{"P-1", "Orla Quist", {"lead"}},
                                                   {"P-2", "Jory Pellam", {"crew"}},
                                                   {"P-3", "Ines Farrow", {"crew"}},
                                                   {"P-4", "Tam Birrell", {"crew"}}};
        const auto words = *bundle::load_words(*bundle::assets_dir(), "en");
        return bundle::permit_page(
            {structure, state, rules, people, at, "Quillmere Valley Power Cooperative"}, words);
    }
};

bool says(const std::string& page, const std::string& text) {
    return page.find(text) != std::string::npos;
}

} // namespace

TEST_CASE("the permit's page holds every element of a permit form") {
    // HSG250, appendix on the essential elements of a permit form, from memory: number, place, plant, work
    // and its limits, hazards left, precautions and by whom, issue, acceptance, hand-back, cancellation with
    // times.
    Story story;
    story.ended();
    const std::string page = story.page();
    for (const char* text : {"QV 2611-3",
                             "QM-0101",
                             "Osier Lane",
                             "100\u00a0kVA",
                             "HV joints, bushings",
                             "Nothing above the cut-outs",
                             "Cut-outs, three tubes",
                             "three tubes down",
                             "L-17",
                             "T-18",
                             "Mill foreman",
                             "found, locked off",
                             "D-7",
                             "A, B, C, N",
                             "E-31",
                             "35\u00a0mm²",
                             "working, party A",
                             "Line above the cut-outs, 1.8\u00a0m away",
                             "Barrier all round",
                             "Jory Pellam",
                             "Tam Birrell",
                             "24 / 24",
                             "Handed back.",
                             "Cancelled.",
                             "does not replace"}) {
        INFO(text);
        CHECK(says(page, text));
    }
}

TEST_CASE("the permit's page claims nothing") {
    for (const bool begun : {false, true}) {
        Story story;
        if (begun) {
            story.working();
        }
        const std::string page = story.page();
        CHECK_FALSE(says(page, " safe"));
        CHECK_FALSE(says(page, " dead"));
        CHECK(says(page, "treated as live"));
    }
    Story cancelled;
    cancelled.ended();
    CHECK(says(cancelled.page(), "Cancelled. Treat as live."));
}

TEST_CASE("what nobody has signed is not told as done") {
    Story story;
    story.working();
    CHECK(says(story.page(), "Not signed yet: &quot;Cancelled."));
    CHECK_FALSE(says(story.page(), "<p>Cancelled."));
    story = {};
    story.ended();
    CHECK_FALSE(says(story.page(), "Not signed yet"));
}

TEST_CASE("names from outside do not become markup") {
    Story story;
    story.isolated();
    CHECK(says(story.page(), "Weir Cottages &lt;east&gt;"));
}

TEST_CASE("a signature over another sheet is called stale on the page") {
    Story story;
    story.working();
    CHECK_FALSE(says(story.page(), "changed afterwards"));
    story.done("P-1", acts::LivePartNoted{"Telephone stay", 0.9});
    CHECK(says(story.page(), "changed afterwards"));
}

TEST_CASE("the drawn signature stands on the page, and what is no drawing does not") {
    CHECK(says(bundle::signature_drawing("10,40 60,10 90,70;120,40 180,40"),
               "<polyline points=\"10,40 60,10 90,70"));
    CHECK(bundle::signature_drawing("").empty());
    CHECK(bundle::signature_drawing("<script>").empty());
}

TEST_CASE("pages are written for the printing check") {
    const std::filesystem::path folder = std::filesystem::path(CROSSARM_BIN_DIR).parent_path() / "pages";
    std::filesystem::remove_all(folder);
    std::filesystem::create_directories(folder);
    const auto write = [&](const std::string& name, const Story& story) {
        CHECK(bundle::write_atomically((folder / name).string(), story.page()).ok());
    };
    Story story;
    write("permit_empty.1.210x297.html", story);
    story.isolated();
    write("permit_isolated.1.210x297.html", story);
    Story working;
    working.working();
    write("permit_working.1.210x297.html", working);
    Story ended;
    ended.ended();
    write("permit_ended.1.210x297.html", ended);
}
