// Every widget at every size of glass, glove and text: large enough, apart enough, no word cut.
#include "tests/support/catch.hpp"
#include "tests/support/finger.hpp"
#include "tests/support/plain_face.hpp"
#include "ui/touch/band.hpp"
#include "ui/touch/button.hpp"
#include "ui/touch/choice.hpp"
#include "ui/touch/hold_button.hpp"
#include "ui/touch/keyboard.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/number_pad.hpp"
#include "ui/touch/picker.hpp"
#include "ui/touch/row.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/text.hpp"

#include <cmath>
#include <set>

using namespace crossarm;
using namespace crossarm::tests;

namespace {

struct Setting {
    Glass glass;
    bool glove;
    float text_scale;
};

std::vector<Setting> settings() {
    std::vector<Setting> all;
    for (const Glass& glass : {Glass{1280, 800, 5.88F}, Glass{800, 1280, 5.88F}, Glass{1280, 800, 7.43F},
                               Glass{800, 1280, 7.43F}, Glass{1920, 1200, 8.83F}}) {
        for (const bool glove : {false, true}) {
            for (const float scale : {1.0F, 1.5F}) {
                all.push_back({glass, glove, scale});
            }
        }
    }
    return all;
}

/// Checks what must hold for every screen, whatever it shows.
void check_screen(const Finger& finger, const Setting& setting) {
    const float px = setting.glass.px_per_mm;
    const float least = (setting.glove ? 20.0F : 15.0F) * px - 0.5F;
    const float pitch = (setting.glove ? 24.0F : 20.0F) * px - 1.5F;
    std::set<std::string> paths;
    std::vector<const ui::Item*> touchable;
    for (const ui::Item& item : finger.items()) {
        INFO(item.path << " on " << setting.glass.width_px << "x" << setting.glass.height_px << " at " << px
                       << " px/mm, glove " << setting.glove << ", text " << setting.text_scale);
        CHECK_FALSE(item.cut());
        CHECK(item.rect.left >= 0);
        CHECK(item.rect.right <= static_cast<float>(setting.glass.width_px) + 0.5F);
        if (!ui::touchable(item.kind)) {
            continue;
        }
        CHECK(paths.insert(item.path).second);
        CHECK(item.rect.width() >= least);
        CHECK(item.rect.height() >= least);
        CHECK(item.enabled == item.why_disabled.empty());
        if (item.grave) {
            CHECK(item.rect.height() >= 24 * px - 0.5F);
            CHECK(item.rect.width() >= 60 * px - 0.5F);
        }
        for (const ui::Item* other : touchable) {
            if (!(other->clip == item.clip)) {
                continue; // the one scrolls under the edge of the other's area
            }
            INFO("next to " << other->path);
            CHECK(ui::common(other->rect, item.rect).empty());
            const ui::Point a = other->rect.centre();
            const ui::Point b = item.rect.centre();
            CHECK(std::max(std::abs(a.x - b.x), std::abs(a.y - b.y)) >= pitch);
        }
        touchable.push_back(&item);
    }
}

ui::NumberDraft breakdown_draft() {
    ui::NumberDraft draft;
    draft.title = "Breakdown voltage of the oil, third shot of six";
    draft.unit = "kV";
    draft.previous_line = "Last time 47.5\u00A0kV, 12 Mar 2025";
    draft.usual_line = "Usual: 20 to 60\u00A0kV";
    draft.limits = {.decimals = 1, .digits = 4, .negative = true};
    draft.limits.hard_low = 0;
    draft.limits.hard_high = 100;
    draft.limits.usual_low = 20;
    draft.limits.usual_high = 60;
    draft.limits.previous = 47.5;
    return draft;
}

} // namespace

TEST_CASE("lists, choices, holds and bars keep their sizes and cut no word") {
    for (const Setting& setting : settings()) {
        StillPlatform platform(setting.glass);
        PlainFace face(
            [](ui::Touch& touch) {
                ui::band(touch, ui::BandState::TreatAsLive, "TREAT AS LIVE",
                         "No permit is in force. Working earths on: none. Control earths on: none.");
                const ui::Inset inset(touch);
                {
                    const ui::BottomBar bar(touch, "foot");
                    ui::Columns columns(touch, 2);
                    (void)ui::button(touch, "back", "Back to the drawing of the structure");
                    columns.next();
                    (void)ui::button(touch, "next", "Sign off",
                                     {.emphasis = ui::Emphasis::Main,
                                      .why_disabled = "Seven checkpoints are not looked at yet."});
                }
                const ui::ScrollArea area(touch, "list");
                ui::heading(touch, "Oil level in the conservator against the temperature mark of the tank");
                const ui::Option grades[] = {{"sound", "Sound", ui::Mark::Sound},
                                             {"watch", "Watch closely until the next visit", ui::Mark::Watch},
                                             {"repair", "Repair", ui::Mark::Repair, "within 30 days"},
                                             {"danger", "Danger", ui::Mark::Danger}};
                (void)ui::choice(touch, "grade", grades, 1);
                for (int i = 0; i < 7; ++i) {
                    (void)ui::row(
                        touch, "row" + std::to_string(i),
                        {.title = "Oil level against the temperature mark, with the cap of the breather off",
                         .second = "Last time: at the 35\u00A0°C mark, 12 Mar 2025",
                         .value = i % 2 == 0 ? "41.2\u00A0kV" : "",
                         .mark = static_cast<ui::Mark>(i),
                         .why_disabled = i == 6 ? "Beyond reach: the permit has to be accepted first." : ""});
                }
                ui::mark_line(touch, ui::Mark::Unseen, "7 checkpoints are not looked at yet");
                (void)ui::hold_button(touch, "cancel", "Hold to cancel permit 0042 of the Osier Lane feeder",
                                      "Everyone is down, every working earth is off, and work ends here.");
                (void)ui::hold_button(touch, "energise", "Hold to energise", "The line becomes live.",
                                      "Two control earths are still on.");
            },
            setting.glove, setting.text_scale);
        Finger finger(platform, face);
        check_screen(finger, setting);
        finger.show("cancel");
        check_screen(finger, setting);
    }
}

TEST_CASE("the pads keep their sizes on every glass") {
    for (const Setting& setting : settings()) {
        StillPlatform platform(setting.glass);
        ui::NumberDraft number = breakdown_draft();
        ui::TextDraft words;
        words.title = "What else is damaged?";
        bool keys = false;
        PlainFace face(
            [&](ui::Touch& touch) {
                const ui::Inset inset(touch);
                const ui::ScrollArea area(touch, "pads");
                if (keys) {
                    (void)ui::keyboard(touch, "text", words);
                } else {
                    (void)ui::number_pad(touch, "pad", number);
                }
            },
            setting.glove, setting.text_scale);
        Finger finger(platform, face);
        check_screen(finger, setting);
        finger.type("pad", "4.75.");
        check_screen(finger, setting);
        keys = true;
        finger.settle();
        check_screen(finger, setting);
        finger.type_text("text", "Bent at 3.5 m");
        CHECK(words.text == "Bent at 3.5 m");
        check_screen(finger, setting);
    }
}

TEST_CASE("a number is typed, refused and kept by finger") {
    StillPlatform platform;
    ui::NumberDraft draft = breakdown_draft();
    int kept = 0;
    PlainFace face([&](ui::Touch& touch) {
        const ui::Inset inset(touch);
        kept += ui::number_pad(touch, "pad", draft) ? 1 : 0;
    });
    Finger finger(platform, face);
    CHECK(finger.item("pad/keep").why_disabled == "Type the number first.");
    finger.type("pad", "4.");
    CHECK(finger.item("pad/keep").why_disabled == "The number is not finished.");
    finger.type("pad", ".");
    CHECK(finger.sees("There is a point already."));
    CHECK(finger.item("pad/value").text == "4.\u00A0kV");
    finger.type("pad", "75");
    CHECK(finger.sees("No more digits behind the point."));
    CHECK(finger.item("pad/value").text == "4.7\u00A0kV");
    finger.type("pad", "C475");
    CHECK(finger.item("pad/keep").why_disabled == "This cannot be. Possible: 0\u00A0kV to 100\u00A0kV.");
    finger.type("pad", "C4.8");
    CHECK(finger.sees("About ten times or a tenth of the last reading (47.5\u00A0kV). Check the point."));
    finger.type("pad", "C12");
    CHECK(finger.sees("Outside what is usual (20\u00A0kV to 60\u00A0kV). Measured again?"));
    finger.type("pad", "-");
    CHECK(finger.item("pad/value").text == "−12\u00A0kV");
    CHECK_FALSE(finger.item("pad/keep").enabled);
    finger.type("pad", "C44.5");
    CHECK(kept == 0);
    finger.tap("pad/keep");
    CHECK(kept == 1);
    CHECK(ui::number(draft) == 44.5);
}

TEST_CASE("keys do not move while a number is typed") {
    for (const Glass& glass : {Glass{1280, 800, 5.88F}, Glass{800, 1280, 5.88F}}) {
        StillPlatform platform(glass);
        ui::NumberDraft draft = breakdown_draft();
        PlainFace face([&](ui::Touch& touch) {
            const ui::Inset inset(touch);
            (void)ui::number_pad(touch, "pad", draft);
        });
        Finger finger(platform, face);
        const ui::Rect five = finger.item("pad/5").rect;
        for (const char* keys : {"4", ".", ".", "8", "9", "C", "475", "C", "12"}) {
            finger.type("pad", keys);
            CHECK(finger.item("pad/5").rect == five);
        }
    }
}

TEST_CASE("two quick touches on one key count once, and the pad says so") {
    StillPlatform platform;
    ui::NumberDraft draft = breakdown_draft();
    PlainFace face([&](ui::Touch& touch) { (void)ui::number_pad(touch, "pad", draft); });
    Finger finger(platform, face);
    const ui::Point five = finger.item("pad/5").rect.centre();
    for (const double after_s : {0.0, 0.06, 0.15, 0.21}) {
        face.touch().feed({platform.now_s() + after_s, five, after_s == 0.0 || after_s == 0.15});
    }
    finger.settle();
    CHECK(draft.text == "5");
    CHECK(finger.sees("Two quick touches on one key were counted as one."));
}

TEST_CASE("one of a long list is picked by dragging to it") {
    StillPlatform platform({800, 1280, 5.88F});
    std::vector<ui::Option> options;
    for (int i = 0; i < 30; ++i) {
        options.push_back({"reason" + std::to_string(i), "Reason number " + std::to_string(i)});
    }
    std::optional<std::size_t> chosen;
    PlainFace face([&](ui::Touch& touch) {
        const ui::Inset inset(touch);
        if (const auto touched = ui::picker(touch, "why", options, chosen)) {
            chosen = touched;
        }
    });
    Finger finger(platform, face);
    CHECK_FALSE(chosen.has_value());
    finger.tap("why/reason23");
    CHECK(chosen == 23U);
}

TEST_CASE("a number and its unit are never torn apart, and long words are reported when broken") {
    const StillPlatform platform;
    PlainFace face([](ui::Touch&) {});
    face.resized(1280, 800, 5.88F);
    const ui::Fonts& fonts = face.touch().fonts();
    for (float width = 120; width < 700; width += 7) {
        const ui::Lines lines =
            ui::lay_out(fonts, "Last time 47.5\u00A0kV, at 21.0\u00A0°C on 12 Mar", width);
        if (lines.word_broken) {
            continue;
        }
        CHECK(lines.width <= width);
        bool whole = false;
        for (const std::string_view line : lines.lines) {
            whole = whole || line.find("47.5\u00A0kV,") != std::string_view::npos;
        }
        CHECK(whole);
    }
    CHECK(ui::lay_out(fonts, "Donaudampfschifffahrt", 60).word_broken);
    CHECK_FALSE(ui::lay_out(fonts, "one\n\ntwo", 600).word_broken);
    CHECK(ui::lay_out(fonts, "one\n\ntwo", 600).lines.size() == 3);
    CHECK(ui::lay_out(fonts, "", 600).height == 0);
}

TEST_CASE("the glass may be turned at any time") {
    StillPlatform platform({1280, 800, 5.88F});
    ui::NumberDraft draft = breakdown_draft();
    PlainFace face([&](ui::Touch& touch) {
        const ui::Inset inset(touch);
        (void)ui::number_pad(touch, "pad", draft);
    });
    Finger finger(platform, face);
    finger.type("pad", "44");
    finger.turn({800, 1280, 5.88F});
    CHECK(finger.item("pad/value").text == "44\u00A0kV");
    finger.type("pad", ".5");
    CHECK(draft.text == "44.5");
}
