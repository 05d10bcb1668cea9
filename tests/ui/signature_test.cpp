// The signature pad by finger: lines and nothing else come of it.
#include "tests/support/catch.hpp"
#include "tests/support/finger.hpp"
#include "tests/support/plain_face.hpp"
#include "ui/touch/button.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/signature_pad.hpp"

#include <cmath>

using namespace crossarm;
using namespace crossarm::tests;

namespace {

/// A pad between buttons in a list that scrolls.
struct Sheet {
    ui::SignatureDraft draft;
    int fired = 0;
    PlainFace face;
    explicit Sheet(bool glove = false)
        : face(
              [this](ui::Touch& touch) {
                  const ui::Inset inset(touch);
                  const ui::ScrollArea area(touch, "sheet");
                  for (const char* name : {"one", "two"}) {
                      fired += ui::button(touch, name, name) ? 1 : 0;
                  }
                  ui::signature_pad(touch, "pad", draft);
                  for (const char* name : {"three", "four", "five", "six", "seven", "eight"}) {
                      fired += ui::button(touch, name, name) ? 1 : 0;
                  }
              },
              glove) {}
};

} // namespace

TEST_CASE("a signature is drawn on every glass, bare-handed and gloved, and nothing scrolls or fires") {
    for (const Glass& glass : {Glass{1280, 800, 5.88F}, Glass{800, 1280, 5.88F}, Glass{1280, 800, 7.43F},
                               Glass{800, 1280, 7.43F}}) {
        for (const bool glove : {false, true}) {
            StillPlatform platform(glass);
            Sheet sheet(glove);
            Finger finger(platform, sheet.face);
            finger.show("pad/box");
            const ui::Item box = finger.item("pad/box");
            INFO(glass.width_px << " at " << glass.px_per_mm << ", glove " << glove);
            CHECK(box.rect.width() >= 80 * glass.px_per_mm - 1);
            CHECK(box.rect.height() >= 30 * glass.px_per_mm - 1);
            CHECK_FALSE(box.cut());
            CHECK(ui::why_not_signed(sheet.draft) == "signature.empty");
            finger.sign("pad");
            CHECK(finger.item("pad/box").rect == box.rect);
            CHECK(sheet.fired == 0);
            REQUIRE(sheet.draft.strokes.lines.size() == 2);
            CHECK(ui::why_not_signed(sheet.draft).empty());
            // Millimetres of the glass, whatever its pixels.
            CHECK(std::abs(sheet.draft.strokes.lines[0].front().x - 80) <= 2);
            CHECK(std::abs(sheet.draft.strokes.lines[0].front().y - 200) <= 2);
            CHECK(std::abs(sheet.draft.strokes.lines[1].back().x - 600) <= 2);
            CHECK(model::parse_strokes(ui::signed_text(sheet.draft), "pad").ok());
            CHECK(ui::signed_text(sheet.draft).size() < 200);
        }
    }
}

TEST_CASE("lifting outside ends the line; coming back in begins another") {
    StillPlatform platform;
    Sheet sheet;
    Finger finger(platform, sheet.face);
    finger.show("pad/box");
    const float height = finger.item("pad/box").rect.height() / platform.glass().px_per_mm;
    finger.draw("pad/box", {{20, 15}, {40, height + 15}});
    REQUIRE(sheet.draft.strokes.lines.size() == 1);
    CHECK_FALSE(sheet.draft.open);
    CHECK(sheet.draft.strokes.lines[0].back().y <= static_cast<int>(height * 10));
    finger.draw("pad/box", {{20, 25}, {30, height + 8}, {40, 20}});
    CHECK(sheet.draft.strokes.lines.size() == 3);
    CHECK(sheet.fired == 0);
}

TEST_CASE("a jump of the pointer to the palm is cut, and the pad says so") {
    StillPlatform platform;
    Sheet sheet;
    Finger finger(platform, sheet.face);
    finger.show("pad/box");
    const ui::Rect box = finger.item("pad/box").rect;
    const float mm = platform.glass().px_per_mm;
    const auto at = [&](float x, float y) { return ui::Point{box.left + x * mm, box.top + y * mm}; };
    const double now = platform.now_s();
    for (int i = 0; i <= 10; ++i) {
        sheet.face.touch().feed({now + 0.01 * i, at(5 + 1.5F * static_cast<float>(i), 10), true});
    }
    sheet.face.touch().feed({now + 0.11, at(75, 28), true}); // the palm
    sheet.face.touch().feed({now + 0.12, at(76, 28), true});
    sheet.face.touch().feed({now + 0.13, at(20, 10), true});
    sheet.face.touch().feed({now + 0.14, at(20, 10), false});
    finger.settle();
    REQUIRE(sheet.draft.strokes.lines.size() == 1);
    CHECK(model::length_mm(sheet.draft.strokes) == Approx(15).margin(0.3));
    CHECK(finger.sees("The line was cut"));
    finger.draw("pad/box", {{20, 10}, {30, 10}});
    CHECK(sheet.draft.strokes.lines.size() == 2);
    CHECK_FALSE(finger.sees("The line was cut"));
}

TEST_CASE("a dot is too little, and clearing begins anew") {
    StillPlatform platform;
    Sheet sheet;
    Finger finger(platform, sheet.face);
    finger.tap("pad/box");
    CHECK(ui::why_not_signed(sheet.draft) == "signature.too_little");
    CHECK(finger.sees("Too little was drawn"));
    finger.draw("pad/box", {{5, 5}, {10, 5}});
    CHECK(ui::why_not_signed(sheet.draft) == "signature.too_little");
    finger.tap("pad/clear");
    CHECK(sheet.draft.strokes.lines.empty());
    CHECK_FALSE(finger.item("pad/clear").enabled);
    finger.sign("pad");
    CHECK(ui::why_not_signed(sheet.draft).empty());
}

TEST_CASE("two strokes in one batch are two lines, and a stroke that a new screen cuts off ends there") {
    StillPlatform platform;
    Sheet sheet;
    Finger finger(platform, sheet.face);
    finger.show("pad/box");
    const ui::Point at = finger.item("pad/box").rect.centre();
    const double now = platform.now_s();
    for (const double t : {0.0, 0.1}) {
        sheet.face.touch().feed({now + t, at, true});
        sheet.face.touch().feed({now + t + 0.02, {at.x + 40, at.y}, true});
        sheet.face.touch().feed({now + t + 0.04, {at.x + 40, at.y}, false});
    }
    finger.settle();
    CHECK(sheet.draft.strokes.lines.size() == 2);
    sheet.face.touch().feed({platform.now_s() + 1, at, true});
    platform.pass(1);
    platform.frame(sheet.face);
    CHECK(sheet.draft.open);
    sheet.face.touch().screen_changed();
    platform.frame(sheet.face);
    CHECK_FALSE(sheet.draft.open);
}

TEST_CASE("the draft keeps bounds: endless scribble, too many lines") {
    ui::SignatureDraft draft;
    ui::begin_line(draft, {0, 0});
    for (int i = 0; i < 100000; ++i) {
        ui::draw_to(draft, {(i * 7) % 150 + (i % 3) * 10, (i * 5) % 140});
    }
    ui::lift_off(draft);
    CHECK(model::points_of(draft.strokes) <= 2000);
    for (int i = 0; i < 300; ++i) {
        ui::begin_line(draft, {i, i});
    }
    CHECK(draft.strokes.lines.size() == model::kMostStrokeLines);
    CHECK(draft.notice == "signature.full");
    CHECK(ui::signed_text(draft).size() < 4096);
}
