// The study and the before-and-after page of an uprating: the sketch with its values, what frees and what
// remains, written for the printing check.
#include "checklist/rules/uprating_sketch.hpp"
#include "sync/bundle/assets.hpp"
#include "sync/bundle/atomic_file.hpp"
#include "sync/bundle/recorded_plate.hpp"
#include "sync/bundle/sketch_svg.hpp"
#include "sync/office/after_sheet.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/outgrown.hpp"
#include "tests/support/uprating_visit.hpp"

#include <filesystem>

using namespace crossarm;

namespace {

const model::Words& words() {
    static const model::Words all = *bundle::load_words(*bundle::assets_dir(), "en");
    return all;
}

rules::StudyFacts facts() {
    rules::StudyFacts f = tests::outgrown();
    f.at.name = "Bramblet Cross";
    f.at.feeder = "Tollgate";
    f.at.plate.vector_group = "Dyn11";
    f.at.plate.make = "Alderworks";
    f.at.plate.serial = "AL-10-4433";
    f.site.electrode_ohm = 5.4;
    return f;
}

office::NewUnit put_up() {
    tests::UpratingVisit visit(facts().at);
    visit.done();
    REQUIRE(visit.sign().empty());
    office::NewUnit unit;
    unit.structure = "QM-0110";
    unit.before = facts().at.plate;
    unit.state = visit.state();
    unit.signed_at = unit.state.signature->at;
    unit.after = *bundle::recorded_plate(unit.state, unit.before, unit.left_out);
    return unit;
}

bool says(const std::string& page, const std::string& text) {
    return page.find(text) != std::string::npos;
}

void keep(const std::string& name, const std::string& page) {
    const std::filesystem::path folder = std::filesystem::path(CROSSARM_BIN_DIR).parent_path() / "pages";
    std::filesystem::create_directories(folder);
    REQUIRE(bundle::write_atomically((folder / name).string(), page));
}

} // namespace

TEST_CASE(
    "the sketch says the values of fuse, transformer, cable, breakers and earth, all within its edges") {
    const rules::StudyFacts f = facts();
    const rules::Study study = rules::uprating_study(f, tests::shipped_library());
    for (const auto& [drawn, expected] :
         {std::pair(rules::present_sketch(f, study),
                    std::vector<std::string>{"25 K", "200\u00a0kVA Dyn11", "1 × 185\u00a0mm²",
                                             "1 × 315\u00a0A", "5.4\u00a0Ω", "4.5\u00a0%"}),
          std::pair(rules::proposed_sketch(f, study),
                    std::vector<std::string>{"31 K", "315\u00a0kVA Dyn11", "420\u00a0A on the LV side",
                                             "16.5\u00a0A", "50\u00a0mm² copper"})}) {
        const rules::Sketch sketch = rules::sketch(drawn);
        const std::string svg = bundle::sketch_svg(sketch, words());
        for (const std::string& text : expected) {
            INFO(text);
            CHECK(says(svg, text));
        }
        CHECK_FALSE(says(svg, "‹"));
        CHECK_FALSE(says(svg, "{"));
        for (const rules::SketchLine& line : sketch.lines) {
            for (const auto& [at, most] :
                 {std::pair(line.x1, sketch.width_mm), std::pair(line.x2, sketch.width_mm),
                  std::pair(line.y1, sketch.height_mm), std::pair(line.y2, sketch.height_mm)}) {
                CHECK(at >= 0.0);
                CHECK(at <= most);
            }
        }
        // No text stands on another, and none beside a symbol runs off the paper at 0.56 of its height a
        // letter.
        for (std::size_t i = 0; i < sketch.texts.size(); ++i) {
            const rules::SketchText& text = sketch.texts[i];
            const std::string said = words().say(text.says);
            const auto letters =
                std::count_if(said.begin(), said.end(), [](char c) { return (c & 0xC0) != 0x80; });
            INFO(said);
            CHECK(text.x + 0.56 * sketch.letter_mm * static_cast<double>(letters) <= sketch.width_mm);
            CHECK(text.y <= sketch.height_mm);
            for (std::size_t other = 0; other < i; ++other) {
                CHECK(std::abs(sketch.texts[other].y - text.y) >= sketch.letter_mm);
            }
        }
    }
}

TEST_CASE("what is not known is said to be so in the sketch, and six breakers still fit") {
    rules::SketchFacts bare;
    bare.rating_kVA = 100.0;
    bare.hv_kV = 11.0;
    bare.lv_V = 433.0;
    const std::string svg = bundle::sketch_svg(rules::sketch(bare), words());
    for (const char* text : {"HV fuse link: open", "impedance: not known", "fault level: not known",
                             "LV cable: not known", "LV breakers: not known", "electrode: not measured"}) {
        CHECK(says(svg, text));
    }
    bare.breakers = rules::Breakers{8, 400.0, 25.0};
    const rules::Sketch many = rules::sketch(bare);
    for (const rules::SketchLine& line : many.lines) {
        CHECK(std::max(line.x1, line.x2) <= many.width_mm);
    }
    CHECK(says(bundle::sketch_svg(many, words()), "8 × 400"));
}

TEST_CASE("the page of before and after says what is freed, what is carried and what remains") {
    const rules::StudyFacts f = facts();
    const office::NewUnit unit = put_up();
    const std::string page =
        office::sheet_page(office::after_sheet({f, tests::shipped_library(), &unit}, words()));
    for (const char* text :
         {"Before and after: QM-0110 Bramblet Cross", "Norrin Windings, serial NO-26-0417",
          "From 200\u00a0kVA to 315\u00a0kVA: 115\u00a0kVA more", "2 × 240\u00a0mm²", "1 × 500\u00a0A",
          "310 · 290 · 270 · 45\u00a0A", "Cold store",
          // 310 A × √3 × 433 V = 232.5 kVA
          "232.5\u00a0kVA", "Bramblet Cross · QM-0110 · 315 kVA · Norrin Windings · NO-26-0417"}) {
        INFO(text);
        CHECK(says(page, text));
    }
    CHECK_FALSE(says(page, "‹"));
    const std::string planned =
        office::sheet_page(office::after_sheet({f, tests::shipped_library(), nullptr}, words()));
    CHECK(says(planned, "as planned"));
    CHECK(says(planned, "315\u00a0kVA"));
    CHECK_FALSE(says(planned, "Measured in the visit"));
    keep("uprating-after.2.210x297.html", page);
    keep("uprating-planned.2.210x297.html", planned);
    keep("uprating-study.0.210x297.html",
         office::sheet_page(
             office::study_sheet(f, rules::uprating_study(f, tests::shipped_library()), words())));
}

TEST_CASE("going from 315 to 400 kVA frees 85 kVA") {
    // common practice, no source
    rules::StudyFacts f = facts();
    f.at.plate.rating_kVA = 315.0;
    f.wish.rating_kVA = 400.0;
    f.wish.breakers = rules::Breakers{2, 400.0, 25.0};
    f.wish.cable = rules::Cable{300.0, 4};
    const std::string page =
        office::sheet_page(office::after_sheet({f, tests::shipped_library(), nullptr}, words()));
    CHECK(says(page, "From 315\u00a0kVA to 400\u00a0kVA: 85\u00a0kVA more"));
    CHECK(says(page, "2 × 400\u00a0A"));
    CHECK(says(page, "4 × 300\u00a0mm²"));
}
