// What must hold on every screen, in every main state, on every glass, bare-handed and gloved.
#include "tests/support/catch.hpp"
#include "tests/support/screen_rig.hpp"
#include "tests/support/screen_states.hpp"

#include <cmath>
#include <iostream>
#include <map>
#include <set>
#include <string>
#include <vector>

using namespace crossarm;
using namespace crossarm::tests;

namespace {

constexpr float kRounding = 1.01F; // px: lengths in mm are rounded to whole pixels

/// Everything wrong with one frame, one sentence each.
class Look {
public:
    Look(ScreenRig& rig, const ui::Sizes& sizes, std::string state)
        : rig_(rig), sizes_(sizes), state_(std::move(state)) {}

    std::vector<std::string> wrong() {
        std::map<std::string, int> paths;
        for (const ui::Item& item : items()) {
            look_at(item);
            if (ui::touchable(item.kind) && ++paths[item.path] == 2) {
                say(item, "has the same path as another");
            }
        }
        look_for_overlaps();
        look_at_whole();
        return std::move(wrong_);
    }

private:
    [[nodiscard]] const std::vector<ui::Item>& items() const { return rig_.finger().items(); }

    void say(const ui::Item& item, const std::string& what) {
        wrong_.push_back(state_ + ": " + item.path + " [" + item.text.substr(0, 60) + "] " + what);
    }

    void look_at(const ui::Item& item) {
        const Glass& glass = rig_.platform().glass();
        const auto mm = [&](float px) { return std::to_string(px / glass.px_per_mm) + " mm"; };
        if (ui::touchable(item.kind)) {
            const float least_high = item.grave ? sizes_.grave_height() : sizes_.target();
            const float least_wide = item.grave ? sizes_.grave_width() : sizes_.target();
            if (item.rect.height() < least_high - kRounding || item.rect.width() < least_wide - kRounding) {
                say(item, "is small: " + mm(item.rect.width()) + " x " + mm(item.rect.height()));
            }
            if (!item.enabled && item.why_disabled.empty()) {
                say(item, "cannot be touched and does not say why");
            }
        }
        if (item.cut()) {
            say(item, item.word_broken ? "breaks a word" : "cuts its words");
        }
        for (const ui::Letter letter : {ui::Letter::Body, ui::Letter::Value}) {
            if (!rig_.face().touch().fonts().cannot_draw(item.text, letter).empty()) {
                say(item, "has letters that cannot be drawn");
            }
        }
        const auto width = static_cast<float>(glass.width_px);
        const auto height = static_cast<float>(glass.height_px);
        if (item.rect.left < -kRounding || item.rect.right > width + kRounding) {
            say(item, "runs out of the glass sideways");
        }
        const bool scrolls = item.clip.height() < height - kRounding;
        if (!scrolls && (item.rect.top < -kRounding || item.rect.bottom > height + kRounding)) {
            say(item, "runs out of the glass: " + mm(item.rect.top) + " to " + mm(item.rect.bottom));
        }
        if (item.kind == ui::Kind::Scroll && item.rect.height() < sizes_.target()) {
            say(item, "shows less than one target: " + mm(item.rect.height()));
        }
    }

    void look_for_overlaps() {
        for (std::size_t i = 0; i < items().size(); ++i) {
            for (std::size_t j = i + 1; j < items().size(); ++j) {
                const ui::Item& a = items()[i];
                const ui::Item& b = items()[j];
                if (!ui::touchable(a.kind) || !ui::touchable(b.kind)) {
                    continue;
                }
                const ui::Rect both =
                    a.clip == b.clip ? ui::common(a.rect, b.rect) : ui::common(a.visible(), b.visible());
                if (!both.empty() && both.width() > kRounding && both.height() > kRounding) {
                    say(a, "lies over " + b.path);
                }
            }
        }
    }

    void look_at_whole() {
        const ui::Screen screen = rig_.session().place().screen;
        bool band = false;
        bool back = false;
        for (const ui::Item& item : items()) {
            band = band || (item.kind == ui::Kind::Band && item.visible() == item.rect);
            back =
                back || (item.enabled && (item.path.ends_with("/back") || item.path.ends_with("/keep_on")));
        }
        if (!band) {
            wrong_.push_back(state_ + ": no band");
        }
        if (screen != ui::Screen::Round && !back) {
            wrong_.push_back(state_ + ": no way back");
        }
    }

    ScreenRig& rig_;
    const ui::Sizes& sizes_;
    std::string state_;
    std::vector<std::string> wrong_;
};

bool same(const std::vector<ui::Item>& a, const std::vector<ui::Item>& b) {
    bool equal = a.size() == b.size();
    for (std::size_t i = 0; equal && i < a.size(); ++i) {
        equal = a[i].path == b[i].path && a[i].rect == b[i].rect && a[i].clip == b[i].clip &&
                a[i].text == b[i].text && a[i].enabled == b[i].enabled;
    }
    return equal;
}

void sweep(const RigLook& look) {
    ScreenRig rig(look);
    ui::Sizes sizes;
    sizes.px_per_mm = look.glass.px_per_mm;
    sizes.glove = look.glove;
    VisitScript script(rig.tablet(), scenario_answers());
    std::vector<std::string> wrong;
    std::set<ui::Screen> screens;
    show_every_state(script, [&](const std::string& state) {
        rig.finger().settle(); // throws when the screen is never at rest
        screens.insert(rig.session().place().screen);
        for (std::string& one : Look(rig, sizes, state).wrong()) {
            wrong.push_back(std::move(one));
        }
        const std::vector<ui::Item> before = rig.finger().items();
        rig.platform().frame(rig.face());
        if (!same(before, rig.finger().items())) {
            wrong.push_back(state + ": two frames at rest differ");
        }
    });
    CHECK(screens.size() == 11); // every one there is
    for (const std::string& one : wrong) {
        UNSCOPED_INFO(one);
    }
    CHECK(wrong.empty());
}

} // namespace

TEST_CASE("every screen on a 10-inch tablet can be read and touched") {
    sweep({.glass = {1280, 800, 5.88F}});
    sweep({.glass = {800, 1280, 5.88F}});
}

TEST_CASE("every screen on an 8-inch tablet can be read and touched") {
    sweep({.glass = {1280, 800, 7.43F}});
    sweep({.glass = {800, 1280, 7.43F}});
}

TEST_CASE("every screen on a 10-inch tablet can be read and touched with gloves") {
    sweep({.glass = {1280, 800, 5.88F}, .glove = true});
    sweep({.glass = {800, 1280, 5.88F}, .glove = true});
}

TEST_CASE("every screen on an 8-inch tablet can be read and touched with gloves") {
    sweep({.glass = {1280, 800, 7.43F}, .glove = true});
    sweep({.glass = {800, 1280, 7.43F}, .glove = true});
}
