// What a finger can and cannot do to the widgets: the same presses that a person makes.
#include "tests/support/catch.hpp"
#include "tests/support/finger.hpp"
#include "tests/support/plain_face.hpp"
#include "ui/touch/button.hpp"
#include "ui/touch/hold_button.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/scroll_area.hpp"

#include <imgui.h>

#include <cstring>

using namespace crossarm;
using namespace crossarm::tests;

namespace {

/// A list of 40 buttons in a scroll area below a heading of a fixed height; counts what fired.
struct LongList {
    std::vector<int> fired = std::vector<int>(40);
    PlainFace face{[this](ui::Touch& touch) {
        const ui::Scope scope(touch, "list");
        touch.take(touch.sizes().mm(20));
        const ui::ScrollArea area(touch, "items");
        for (std::size_t i = 0; i < fired.size(); ++i) {
            if (ui::button(touch, std::to_string(i), "Item " + std::to_string(i))) {
                ++fired[i];
            }
        }
    }};

    [[nodiscard]] int all() const {
        int sum = 0;
        for (const int count : fired) {
            sum += count;
        }
        return sum;
    }
};

/// One hold button and a button far from it.
struct OneHold {
    int held = 0;
    PlainFace face{[this](ui::Touch& touch) {
        const ui::Inset inset(touch);
        if (ui::hold_button(touch, "cancel", "Hold to cancel permit 0042", "Work has to stop.")) {
            ++held;
        }
    }};
};

void press(StillPlatform& platform, PlainFace& face, ui::Point at) {
    face.touch().feed({platform.now_s(), at, true});
    platform.frame(face);
}

void lift(StillPlatform& platform, PlainFace& face, ui::Point at) {
    face.touch().feed({platform.now_s(), at, false});
    platform.settle(face);
}

} // namespace

TEST_CASE("a tap by name fires that item once and no other") {
    StillPlatform platform;
    LongList list;
    Finger finger(platform, list.face);
    finger.tap("list/2");
    CHECK(list.fired[2] == 1);
    CHECK(list.all() == 1);
    finger.tap("2");
    CHECK(list.fired[2] == 2);
}

TEST_CASE("any of 40 items is reached by dragging and then tapped") {
    StillPlatform platform;
    LongList list;
    Finger finger(platform, list.face);
    for (const int i : {35, 2, 20, 39, 0}) {
        finger.tap("list/" + std::to_string(i));
        CHECK(list.fired[static_cast<std::size_t>(i)] == 1);
    }
    CHECK(list.all() == 5);
}

TEST_CASE("press and release in one batch is still a tap") {
    StillPlatform platform;
    LongList list;
    Finger finger(platform, list.face);
    const ui::Point at = finger.item("list/1").rect.centre();
    list.face.touch().feed({platform.now_s(), at, true});
    list.face.touch().feed({platform.now_s() + 0.001, at, false});
    platform.frame(list.face);
    CHECK(list.fired[1] == 1);
    finger.settle();
    CHECK(list.all() == 1);
}

TEST_CASE("two taps on two items in one batch are two taps") {
    StillPlatform platform;
    LongList list;
    Finger finger(platform, list.face);
    const double now = platform.now_s();
    const ui::Point first = finger.item("list/0").rect.centre();
    const ui::Point second = finger.item("list/3").rect.centre();
    list.face.touch().feed({now, first, true});
    list.face.touch().feed({now, first, false});
    list.face.touch().feed({now, second, true});
    list.face.touch().feed({now, second, false});
    finger.settle();
    CHECK(list.fired[0] == 1);
    CHECK(list.fired[3] == 1);
}

TEST_CASE("a drag that begins and ends on a button scrolls and fires nothing") {
    StillPlatform platform;
    LongList list;
    Finger finger(platform, list.face);
    for (int i = 0; i < 14; ++i) {
        const ui::Rect before = finger.item("list/4").rect;
        const float way = (i % 2 == 0 ? -12.0F : 9.0F) * 5.88F;
        const ui::Point from = finger.item("list/" + std::to_string(2 + i / 4)).visible().centre();
        finger.drag(from, {from.x, from.y + way});
        finger.wait(0.5);
        CHECK(std::abs(finger.item("list/4").rect.top - before.top) > 20);
    }
    CHECK(list.all() == 0);
}

TEST_CASE("sliding off before lifting fires nothing, nor does sliding on") {
    StillPlatform platform;
    LongList list;
    Finger finger(platform, list.face);
    const ui::Rect rect = finger.item("list/1").rect;
    const ui::Point inside{rect.centre().x, rect.bottom - 5};
    const ui::Point below{rect.centre().x, rect.bottom + 10}; // 2.6 mm apart: no drag, but off the item
    press(platform, list.face, inside);
    lift(platform, list.face, below);
    finger.wait(0.5);
    press(platform, list.face, below);
    lift(platform, list.face, inside);
    CHECK(list.all() == 0);
}

TEST_CASE("3.9 mm of movement is a tap, 4.1 mm is a scroll") {
    for (const auto& [moved_mm, taps] : {std::pair{3.9F, 1}, std::pair{4.1F, 0}}) {
        StillPlatform platform;
        LongList list;
        Finger finger(platform, list.face);
        const ui::Point at = finger.item("list/1").rect.centre();
        press(platform, list.face, at);
        lift(platform, list.face, {at.x, at.y - moved_mm * 5.88F});
        CHECK(list.fired[1] == taps);
    }
}

TEST_CASE("a second tap on the same item within 300 ms counts once") {
    for (const auto& [apart_s, taps] : {std::pair{0.299, 1}, std::pair{0.301, 2}}) {
        StillPlatform platform;
        LongList list;
        Finger finger(platform, list.face);
        const ui::Point at = finger.item("list/1").rect.centre();
        press(platform, list.face, at);
        list.face.touch().feed({platform.now_s(), at, false});
        const double first = platform.now_s();
        platform.frame(list.face);
        platform.pass(apart_s - 0.05);
        press(platform, list.face, at);
        list.face.touch().feed({first + apart_s, at, false});
        platform.settle(list.face);
        CHECK(list.fired[1] == taps);
    }
}

TEST_CASE("a screen that changes under the finger takes no tap for 300 ms") {
    for (const auto& [after_s, taps] : {std::pair{0.29, 0}, std::pair{0.31, 1}}) {
        StillPlatform platform;
        LongList list;
        Finger finger(platform, list.face);
        const ui::Point at = finger.item("list/1").rect.centre();
        list.face.touch().screen_changed();
        const double changed = platform.now_s();
        list.face.touch().feed({changed + after_s, at, true});
        list.face.touch().feed({changed + after_s + 0.08, at, false});
        platform.settle(list.face);
        CHECK(list.all() == taps);
    }
    SECTION("and the finger that was down is dropped") {
        StillPlatform platform;
        LongList list;
        Finger finger(platform, list.face);
        const ui::Point at = finger.item("list/1").rect.centre();
        press(platform, list.face, at);
        list.face.touch().screen_changed();
        platform.pass(1);
        lift(platform, list.face, at);
        CHECK(list.all() == 0);
    }
}

TEST_CASE("a finger that the window lost fires nothing when the release is reported") {
    StillPlatform platform;
    LongList list;
    Finger finger(platform, list.face);
    const ui::Point at = finger.item("list/1").rect.centre();
    SECTION("seen by a frame") {
        press(platform, list.face, at);
    }
    SECTION("not yet seen") {
        list.face.touch().feed({platform.now_s(), at, true});
    }
    list.face.touch().drop_finger();
    platform.pass(0.1);
    lift(platform, list.face, at);
    CHECK(list.all() == 0);
    finger.tap("list/1");
    CHECK(list.all() == 1);
}

TEST_CASE("a flick runs on, and a touch that stops it is no tap") {
    StillPlatform platform;
    LongList list;
    Finger finger(platform, list.face);
    const float before = finger.item("list/0").rect.top;
    const float up_mm = 20;
    finger.flick("list/items", up_mm);
    CHECK(before - finger.item("list/0").rect.top > 2 * up_mm * 5.88F);

    finger.wait(0.5);
    const ui::Point middle = finger.item("list/items").rect.centre();
    press(platform, list.face, middle);
    for (int i = 1; i <= 5; ++i) {
        platform.pass(0.016);
        press(platform, list.face, {middle.x, middle.y + static_cast<float>(i) * 30});
    }
    list.face.touch().feed({platform.now_s(), {middle.x, middle.y + 150}, false});
    platform.frame(list.face);
    REQUIRE(list.face.touch().phase() == ui::Gesture::Phase::Fling);
    platform.pass(0.05);
    press(platform, list.face, middle);
    lift(platform, list.face, middle);
    CHECK(list.all() == 0);
}

TEST_CASE("hold: 1199 ms is no entry, 1200 ms is one, by the clock and not by frames") {
    struct Case {
        double held_s;
        int frames; // drawn while the finger is down
        int entries;
    };
    for (const Case& c : {Case{1.199, 70, 0}, Case{1.2, 70, 1}, Case{1.199, 6, 0}, Case{1.2, 6, 1},
                          Case{1.199, 0, 0}, Case{1.2, 0, 1}, Case{5.0, 300, 1}}) {
        StillPlatform platform;
        OneHold hold;
        Finger finger(platform, hold.face);
        const ui::Point at = finger.item("cancel").rect.centre();
        const double start = platform.now_s();
        press(platform, hold.face, at);
        for (int i = 1; i <= c.frames; ++i) {
            platform.pass(c.held_s / c.frames - (i == c.frames ? 1e-4 : 0));
            platform.frame(hold.face);
        }
        hold.face.touch().feed({start + c.held_s, at, false});
        platform.pass(start + c.held_s - platform.now_s());
        platform.settle(hold.face);
        INFO(c.held_s << " s in " << c.frames << " frames");
        CHECK(hold.held == c.entries);
        CHECK(finger.sees("Held too short") == (c.entries == 0));
    }
}

TEST_CASE("a hold forgives 4.9 mm of slip and ends at 6 mm") {
    for (const auto& [slip_mm, entries] : {std::pair{4.9F, 1}, std::pair{6.0F, 0}}) {
        StillPlatform platform;
        OneHold hold;
        Finger finger(platform, hold.face);
        const ui::Point at = finger.item("cancel").rect.centre();
        press(platform, hold.face, at);
        platform.pass(0.5);
        const ui::Point slipped{at.x + slip_mm * 5.88F, at.y};
        press(platform, hold.face, slipped);
        platform.pass(0.8);
        platform.frame(hold.face);
        lift(platform, hold.face, slipped);
        CHECK(hold.held == entries);
    }
}

TEST_CASE("a hold keeps the frames coming while it runs, and they stop afterwards") {
    StillPlatform platform;
    OneHold hold;
    Finger finger(platform, hold.face);
    CHECK_FALSE(hold.face.moving());
    const ui::Point at = finger.item("cancel").rect.centre();
    press(platform, hold.face, at);
    CHECK(hold.face.moving());
    platform.pass(1.3);
    platform.frame(hold.face);
    CHECK(hold.held == 1);
    CHECK_FALSE(hold.face.moving());
    lift(platform, hold.face, at);
    CHECK(hold.held == 1);
}

TEST_CASE("an item that cannot be touched says why and takes no tap") {
    StillPlatform platform;
    int fired = 0;
    PlainFace face([&fired](ui::Touch& touch) {
        if (ui::button(touch, "energise", "Energise", {.why_disabled = "Two working earths are still on."})) {
            ++fired;
        }
    });
    Finger finger(platform, face);
    CHECK(finger.sees("Two working earths are still on."));
    finger.tap_at(finger.item("energise").rect.centre());
    CHECK(fired == 0);
    try {
        finger.tap("energise");
        FAIL("the finger did not complain");
    } catch (const FingerError& error) {
        CHECK(std::string(error.what()) ==
              "\"energise\" cannot be touched: Two working earths are still on.");
    }
}

TEST_CASE("an unknown name is answered with the nearest ones") {
    StillPlatform platform;
    LongList list;
    Finger finger(platform, list.face);
    try {
        finger.tap("lost/17");
        FAIL("the finger did not complain");
    } catch (const FingerError& error) {
        const std::string text = error.what();
        CHECK(text.starts_with("nothing called \"lost/17\" is on the screen; nearest:\n  list/17\n"));
    }
}

TEST_CASE("two frames of a screen at rest are the same to the last vertex") {
    StillPlatform platform;
    LongList list;
    Finger finger(platform, list.face);
    finger.flick("list/items", 15);
    std::string frames[2];
    for (std::string& bytes : frames) {
        platform.pass(1);
        platform.frame(list.face);
        const ImDrawData* const data = ImGui::GetDrawData();
        for (int i = 0; i < data->CmdListsCount; ++i) {
            const auto& vertices = data->CmdLists[i]->VtxBuffer;
            bytes.append(reinterpret_cast<const char*>(vertices.Data),
                         static_cast<std::size_t>(vertices.Size) * sizeof(ImDrawVert));
        }
    }
    CHECK(!frames[0].empty());
    CHECK(frames[0] == frames[1]);
}

TEST_CASE("a named item is brought into view when asked for") {
    StillPlatform platform;
    LongList list;
    Finger finger(platform, list.face);
    REQUIRE(finger.item("list/33").visible().empty());
    list.face.touch().bring_into_view("list/33");
    finger.settle();
    CHECK(finger.item("list/33").visible().height() == Approx(finger.item("list/33").rect.height()));
    CHECK_FALSE(list.face.moving());
}
