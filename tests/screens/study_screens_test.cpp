// The uprating study by finger, on the invented scenario; and every face of it on every glass.
#include "sync/office/study_desk.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/finger.hpp"
#include "tests/support/png.hpp"
#include "tests/support/raster.hpp"
#include "tests/support/temp_store.hpp"
#include "tests/support/wrong_with.hpp"
#include "ui/app/study_face.hpp"

#include <algorithm>
#include <cstdlib>
#include <filesystem>

using namespace crossarm;
using namespace crossarm::tests;

namespace {

// One peak each; nothing is recorded for the rest.
constexpr const char* kLoads = "structure,at,a_A,b_A,c_A,neutral_A\n"
                               "QM-0110,2026-07-18T19:00:00-08:00,300,268,251,50\n"
                               "QM-0101,2026-07-18T19:00:00-08:00,60,55,52,8\n"
                               "QM-0102,2026-07-18T19:00:00-08:00,150,141,139,12\n";

const office::StudyDesk& desk() {
    static const office::StudyDesk made = [] {
        const TempFolder folder;
        tests::write_file(folder.file("loads.csv"), kLoads);
        const std::string scenario = std::string(CROSSARM_SOURCE_DIR) + "/demo/scenario/";
        std::vector<std::string> words = {"--loads", folder.file("loads.csv")};
        for (const char* name : {"register", "sites", "asked", "stock", "prices"}) {
            words.push_back("--" + std::string(name));
            words.push_back(scenario + name + ".csv");
        }
        const auto arguments =
            office::Arguments::read(words, {{"register", "sites", "loads", "asked", "stock", "prices"}, {}});
        REQUIRE(arguments.ok());
        office::StudyDesk out;
        const auto ending = office::fill_desk(out, *arguments);
        INFO((ending ? ending->err : ""));
        REQUIRE_FALSE(ending.has_value());
        return out;
    }();
    return made;
}

/// The office's face on a glass, and a finger.
class StudyBench {
public:
    explicit StudyBench(const Glass& glass = {}, bool glove = false, const std::string& structure = {})
        : glass_(glass), glove_(glove), platform_(glass), face_(desk(), *ui::find_fonts(), glove, structure),
          finger_(platform_, face_) {}
    [[nodiscard]] Finger& finger() { return finger_; }

    /// What cannot be read or touched now; a picture too where CROSSARM_PICTURES names a folder.
    [[nodiscard]] std::vector<std::string> wrong(const std::string& name) {
        finger_.settle();
        if (const char* folder = std::getenv("CROSSARM_PICTURES")) {
            const Raster picture = paint_last_frame();
            std::filesystem::create_directories(folder);
            write_png(std::filesystem::path(folder) /
                          ("study-" + name + "-" + std::to_string(glass_.width_px) + "-" +
                           std::to_string(glass_.px_per_mm).substr(0, 4) + (glove_ ? "-glove" : "") + ".png"),
                      picture.width, picture.height, picture.rgba);
        }
        std::vector<std::string> out = wrong_with(finger_.items(), glass_, glove_);
        for (const ui::Item& item : finger_.items()) {
            if (!face_.touch().fonts().cannot_draw(item.text).empty()) {
                out.push_back(item.path + " has letters that cannot be drawn: " + item.text);
            }
        }
        return out;
    }

private:
    Glass glass_;
    bool glove_;
    StillPlatform platform_;
    ui::StudyFace face_;
    Finger finger_;
};

std::vector<std::string> rows_of(Finger& finger) {
    std::vector<std::string> out;
    for (const ui::Item& item : finger.items()) {
        if (item.kind == ui::Kind::Row) {
            out.push_back(item.path);
        }
    }
    return out;
}

} // namespace

TEST_CASE("the study by finger: the outgrown structure comes first, its checks open and close") {
    StudyBench b;
    Finger& f = b.finger();
    CHECK(f.sees("A study on paper: it switches nothing and changes nothing."));
    CHECK(f.sees("licensed people decide"));
    const auto rows = rows_of(f);
    REQUIRE(rows.size() == desk().reg.structures.size());
    CHECK(rows.front() == "study/list/QM-0110");
    CHECK(f.sees("proposed 315"));
    f.tap("list/QM-0110");
    CHECK(f.sees("QM-0110  Bramblet Cross"));
    // Every check of the command's own study, in its order, with its own word.
    const rules::Study study =
        rules::uprating_study(desk().facts(*desk().reg.structure("QM-0110")), desk().library);
    REQUIRE(rows_of(f).size() == study.checks.size());
    for (std::size_t i = 0; i < study.checks.size(); ++i) {
        INFO(study.checks[i].name);
        CHECK(rows_of(f)[i] == "study/one/" + study.checks[i].name);
        const auto* verdict = std::get_if<model::Verdict>(&study.checks[i].outcome);
        const std::string word = verdict == nullptr                      ? "NO VERDICT"
                                 : verdict->grade == model::Grade::Sound ? "PASS"
                                 : verdict->grade == model::Grade::Watch ? "MARGINAL"
                                                                         : "FAIL";
        CHECK(f.item("one/" + study.checks[i].name).text.ends_with("\n" + word));
    }
    f.show("one/cable.fitted");
    f.tap("one/cable.fitted");
    CHECK(f.sees("LV cable that is there"));
    CHECK(f.sees("FAIL"));
    CHECK(f.sees("What would mend it"));
    CHECK(f.sees("Decided by"));
    f.tap("check/back");
    f.tap("one/ways");
    CHECK(f.sees("smallest that serves"));
    f.tap("ways/back");
    f.tap("one/sketch");
    CHECK(f.sees("Transformer 200"));
    f.tap("sketch/proposed");
    CHECK(f.sees("Transformer 315"));
    f.tap("sketch/back");
    f.tap("one/back");
    CHECK(rows_of(f).front() == "study/list/QM-0110");
}

TEST_CASE("a structure without a recorded load has a study that says so") {
    StudyBench b({}, false, "QM-0103");
    CHECK(b.finger().has("one/back"));
    b.finger().tap("one/ways");
    CHECK(b.finger().sees("Without a demand there is nothing to compare."));
    b.finger().tap("ways/back");
    b.finger().tap("one/sketch");
    CHECK(b.finger().sees("HV fuse link"));
    CHECK(b.finger().item("sketch/proposed").why_disabled == "Nothing is proposed.");
}

TEST_CASE("every screen of the study on every glass can be read and touched") {
    struct Look {
        Glass glass;
        bool glove;
    };
    for (const Look& look : {Look{{1280, 800, 5.88F}, false}, Look{{800, 1280, 5.88F}, false},
                             Look{{1280, 800, 7.43F}, false}, Look{{800, 1280, 7.43F}, true}}) {
        StudyBench b(look.glass, look.glove);
        std::vector<std::string> wrong;
        const auto see = [&](const std::string& name) {
            for (const std::string& one : b.wrong(name)) {
                wrong.push_back(name + ": " + one);
            }
        };
        Finger& f = b.finger();
        see("list");
        f.tap("list/QM-0110");
        see("one");
        for (const char* check : {"cable.fitted", "fault"}) {
            f.show(std::string("one/") + check);
            if (std::string(check) == "cable.fitted") {
                see("one-checks");
            }
            f.tap(std::string("one/") + check);
            see("check-" + std::string(check));
            f.tap("check/back");
        }
        f.tap("one/ways");
        see("ways");
        f.tap("ways/back");
        f.tap("one/sketch");
        see("sketch-present");
        f.tap("sketch/proposed");
        see("sketch-proposed");
        f.tap("sketch/back");
        f.tap("one/back");
        f.show("list/QM-0103");
        see("list-end");
        f.tap("list/QM-0103");
        see("no-load");
        f.tap("one/sketch");
        see("no-load-sketch");
        for (const std::string& one : wrong) {
            UNSCOPED_INFO(one);
        }
        INFO(look.glass.width_px << " at " << look.glass.px_per_mm << ", glove " << look.glove);
        CHECK(wrong.empty());
    }
}
