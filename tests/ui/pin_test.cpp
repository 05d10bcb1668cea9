// The PIN pad and the stop key by finger.
#include "tests/support/catch.hpp"
#include "tests/support/finger.hpp"
#include "tests/support/plain_face.hpp"
#include "ui/touch/band.hpp"
#include "ui/touch/button.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/pin_pad.hpp"
#include "ui/touch/scroll_area.hpp"

using namespace crossarm;
using namespace crossarm::tests;

namespace {

struct Asked {
    ui::PinDraft draft;
    std::vector<std::string> done;
    PlainFace face;
    explicit Asked(bool glove = false)
        : face(
              [this](ui::Touch& touch) {
                  const ui::Inset inset(touch);
                  const ui::ScrollArea area(touch, "area");
                  if (auto digits = ui::pin_pad(touch, "pin", draft)) {
                      done.push_back(*digits);
                  }
              },
              glove) {
        draft.title = "PIN of the one who issues";
    }
};

constexpr Glass kGlasses[] = {{1280, 800, 5.88F}, {800, 1280, 5.88F}, {1280, 800, 7.43F}, {800, 1280, 7.43F}};

} // namespace

TEST_CASE("a PIN is typed, wiped and handed over; only dots are shown") {
    for (const Glass& glass : kGlasses) {
        for (const bool glove : {false, true}) {
            StillPlatform platform(glass);
            Asked asked(glove);
            Finger finger(platform, asked.face);
            const float least = (glove ? 20.0F : 15.0F) * glass.px_per_mm - 0.5F;
            for (const ui::Item& item : finger.items()) {
                CHECK_FALSE(item.cut());
                CHECK(item.rect.right <= static_cast<float>(glass.width_px));
                if (ui::touchable(item.kind)) {
                    CHECK(item.rect.width() >= least);
                    CHECK(item.rect.height() >= least);
                }
            }
            CHECK(finger.item("pin/done").why_disabled == "At least 4 digits.");
            finger.type("pin", "90");
            CHECK(finger.item("pin/dots").text == "2 digits");
            finger.tap("pin/wipe");
            CHECK(finger.item("pin/dots").text == "0 digits");
            finger.type("pin", "7316");
            CHECK(asked.done.empty());
            for (const ui::Item& item : finger.items()) {
                CHECK(item.text.find("7316") == std::string::npos);
            }
            finger.tap("pin/done");
            REQUIRE(asked.done.size() == 1);
            CHECK(asked.done[0] == "7316");
            CHECK(asked.draft.count() == 0);
            CHECK_FALSE(finger.item("pin/done").enabled);
        }
    }
}

TEST_CASE("the keys of the PIN pad stay where they are, and what is not taken is said") {
    StillPlatform platform;
    Asked asked;
    Finger finger(platform, asked.face);
    const ui::Rect five = finger.item("pin/5").rect;
    asked.draft.notice = "Wrong PIN. The next try is taken in 8 s.";
    finger.settle();
    CHECK(finger.item("pin/5").rect == five);
    CHECK(finger.sees("Wrong PIN."));
    for (int i = 0; i < 13; ++i) {
        finger.type("pin", "1");
    }
    CHECK(asked.draft.count() == ui::PinDraft::kMost);
    CHECK(finger.sees("No more digits fit."));
    CHECK(finger.item("pin/5").rect == five);
}

TEST_CASE("what is wiped is gone") {
    std::string secret = "7316";
    const char* const at = secret.data();
    ui::wipe(secret);
    CHECK(secret.empty());
    CHECK(at[0] == 0); // still the text's own room
    ui::PinDraft draft;
    CHECK_FALSE(draft.type('x'));
    for (const char c : std::string("123")) {
        CHECK(draft.type(c));
    }
    CHECK_FALSE(draft.enough());
    CHECK(draft.take() == "123");
    CHECK(draft.count() == 0);
}

TEST_CASE("one touch stops the work, at the same place on every screen, large enough for a glove") {
    for (const Glass& glass : kGlasses) {
        for (const bool glove : {false, true}) {
            StillPlatform platform(glass);
            int stops = 0;
            ui::BandState state = ui::BandState::PermitInForce;
            std::string_view fact = "Control earths on: 2. Holder: A. Somebody";
            PlainFace face(
                [&](ui::Touch& touch) {
                    stops +=
                        ui::band(touch, state, "Permit QM-2026-0042 in force", fact, "STOP WORK") ? 1 : 0;
                    const ui::Inset inset(touch);
                    (void)ui::button(touch, "back", "Back");
                },
                glove);
            Finger finger(platform, face);
            const ui::Item key = finger.item("stop_work");
            INFO(glass.width_px << " at " << glass.px_per_mm << ", glove " << glove);
            CHECK(key.rect.width() >= 24 * glass.px_per_mm - 0.5F);
            CHECK(key.rect.height() >= (glove ? 20.0F : 15.0F) * glass.px_per_mm - 0.5F);
            CHECK_FALSE(key.cut());
            CHECK_FALSE(finger.item("band").cut());
            CHECK(finger.item("back").rect.top - key.rect.bottom >= 4 * glass.px_per_mm);
            state = ui::BandState::TreatAsLive;
            fact = "Suspended";
            finger.settle();
            CHECK(finger.item("stop_work").rect == key.rect);
            finger.tap("stop_work");
            CHECK(stops == 1);
            face.touch().screen_changed();
            finger.platform().frame(face);
            const ui::Point at = key.rect.centre();
            face.touch().feed({platform.now_s() + 0.05, at, true});
            face.touch().feed({platform.now_s() + 0.12, at, false});
            finger.settle();
            CHECK(stops == 1); // nothing is armed in the first moment of a screen
        }
    }
}
