#include "tests/support/finger.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace crossarm::tests {
namespace {

constexpr double kTapS = 0.08;    // a real tap lasts 50 to 150 ms
constexpr double kBetweenS = 0.4; // longer than any time in which touches are ignored
constexpr int kSteps = 12;

std::size_t difference(std::string_view a, std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 0; i < a.size(); ++i) {
        std::size_t diagonal = row[0]++;
        for (std::size_t j = 0; j < b.size(); ++j) {
            const std::size_t changed = diagonal + (a[i] == b[j] ? 0 : 1);
            diagonal = row[j + 1];
            row[j + 1] = std::min({changed, row[j] + 1, diagonal + 1});
        }
    }
    return row.back();
}

bool ends_with_path(std::string_view whole, std::string_view end) {
    return whole == end ||
           (whole.size() > end.size() && whole.ends_with(end) && whole[whole.size() - end.size() - 1] == '/');
}

std::string unknown(std::string_view path, const std::vector<ui::Item>& items) {
    std::vector<std::pair<std::size_t, std::string>> near;
    for (const ui::Item& item : items) {
        if (ui::touchable(item.kind)) {
            // An end of the path is enough, so compare with the end of equal length as well.
            const std::string_view whole = item.path;
            const std::string_view end = whole.substr(whole.size() - std::min(whole.size(), path.size()));
            near.emplace_back(std::min(difference(path, whole), difference(path, end)), item.path);
        }
    }
    std::ranges::sort(near);
    std::string message = "nothing called \"" + std::string(path) + "\" is on the screen; nearest:";
    for (std::size_t i = 0; i < std::min<std::size_t>(8, near.size()); ++i) {
        message += "\n  " + near[i].second;
    }
    return message;
}

} // namespace

Finger::Finger(StillPlatform& platform, ui::Face& face) : platform_(platform), face_(face) {
    platform_.show(face_);
    face_.touch().log = &log_;
    settle();
}

Finger::~Finger() {
    face_.touch().log = nullptr;
}

void Finger::settle() {
    face_.touch().log = &log_;
    platform_.settle(face_);
}

void Finger::wait(double seconds) {
    platform_.pass(seconds);
    settle();
}

void Finger::turn(const Glass& glass) {
    platform_.turn(glass);
    platform_.show(face_);
    settle();
}

const ui::Item* Finger::look_for(std::string_view path) const {
    const ui::Item* found = nullptr;
    for (const ui::Item& item : log_.items) {
        if (item.path == path) {
            return &item;
        }
        if (ends_with_path(item.path, path)) {
            if (found != nullptr && found->path != item.path) {
                throw FingerError("\"" + std::string(path) + "\" may be " + found->path + " or " + item.path);
            }
            found = &item;
        }
    }
    return found;
}

bool Finger::has(std::string_view path) const {
    return look_for(path) != nullptr;
}

const ui::Item& Finger::item(std::string_view path) const {
    const ui::Item* const found = look_for(path);
    if (found == nullptr) {
        throw FingerError(unknown(path, log_.items));
    }
    return *found;
}

bool Finger::sees(std::string_view words) const {
    return std::ranges::any_of(log_.items, [words](const ui::Item& item) {
        return !item.visible().empty() && item.text.find(words) != std::string::npos;
    });
}

std::string Finger::words_in_sight() const {
    std::string all;
    for (const ui::Item& item : log_.items) {
        if (!item.visible().empty() && !item.text.empty()) {
            all += item.path + ": " + item.text + "\n";
        }
    }
    return all;
}

void Finger::press(ui::Point at) {
    face_.touch().feed({platform_.now_s(), at, true});
    platform_.frame(face_);
}

void Finger::move(ui::Point at) {
    press(at);
}

void Finger::lift(ui::Point at) {
    face_.touch().feed({platform_.now_s(), at, false});
    settle();
}

void Finger::pause() {
    platform_.pass(kBetweenS);
    settle();
}

// Where a drag of this way may begin: in the middle, unless it would begin on something to draw on.
ui::Point Finger::scroll_from(const ui::Rect& clip, float way) const {
    const auto on_paper = [this](ui::Point at) {
        return std::ranges::any_of(log_.items, [at](const ui::Item& item) {
            return item.kind == ui::Kind::Draw && item.visible().contains(at);
        });
    };
    const float half = std::abs(way) / 2;
    for (const float x : {clip.centre().x, clip.right - 2}) {
        for (const float share : {0.5F, 0.8F, 0.2F, 0.95F, 0.05F}) {
            const float middle =
                std::clamp(clip.top + share * clip.height(), clip.top + half + 1, clip.bottom - half - 1);
            const ui::Point from{x, middle - way / 2};
            if (!on_paper(from)) {
                return from;
            }
        }
    }
    throw FingerError("there is no place to scroll from: the glass is full of what is drawn on");
}

void Finger::show(std::string_view path) {
    for (int tries = 0; tries < 400; ++tries) {
        const ui::Item& wanted = item(path);
        const ui::Rect seen = wanted.visible();
        const bool whole = seen.height() >= std::min(wanted.rect.height(), wanted.clip.height()) - 1;
        if (whole && !seen.empty()) {
            return;
        }
        const ui::Rect clip = wanted.clip;
        // Far enough to pass the slop, short enough not to run past the item.
        const float reach = clip.height() * 0.35F;
        const float slop = (ui::kHoldSlipMm + 1) * platform_.glass().px_per_mm;
        const float missing =
            wanted.rect.top < clip.top ? clip.top - wanted.rect.top : clip.bottom - wanted.rect.bottom;
        const float way = std::copysign(std::clamp(std::abs(missing), slop, reach), missing);
        const ui::Point from = scroll_from(clip, way);
        const float before = wanted.rect.top;
        pause();
        drag(from, {from.x, from.y + way});
        if (std::abs(item(path).rect.top - before) < 0.5F) {
            break; // the list has come to its end
        }
    }
    const ui::Rect seen = item(path).visible();
    if (seen.empty() || seen.height() < std::min(item(path).rect.height(), item(path).clip.height()) - 1) {
        throw FingerError("\"" + std::string(path) + "\" cannot be brought into sight");
    }
}

const ui::Item& Finger::ready(std::string_view path) {
    pause();
    show(path);
    const ui::Item& wanted = item(path);
    if (!wanted.enabled) {
        throw FingerError("\"" + wanted.path + "\" cannot be touched: " + wanted.why_disabled);
    }
    const std::string_view there = face_.touch().item_at(wanted.visible().centre());
    if (there != wanted.path) {
        throw FingerError("a touch in the middle of \"" + wanted.path + "\" lands on \"" +
                          std::string(there) + "\"");
    }
    return wanted;
}

void Finger::tap(std::string_view path) {
    const ui::Point at = ready(path).visible().centre();
    press(at);
    platform_.pass(kTapS);
    lift(at);
}

void Finger::tap_at(ui::Point at) {
    pause();
    press(at);
    platform_.pass(kTapS);
    lift(at);
}

void Finger::hold(std::string_view path, double seconds) {
    const ui::Item& wanted = ready(path);
    const ui::Point at = wanted.visible().centre();
    press(at);
    for (int i = 0; i < kSteps; ++i) {
        platform_.pass(seconds / kSteps);
        platform_.frame(face_);
    }
    lift(at);
}

void Finger::drag(ui::Point from, ui::Point to, double seconds) {
    press(from);
    for (int i = 1; i <= kSteps; ++i) {
        platform_.pass(seconds / kSteps);
        const float share = static_cast<float>(i) / kSteps;
        move({from.x + share * (to.x - from.x), from.y + share * (to.y - from.y)});
    }
    platform_.pass(2 * ui::kRestedS);
    lift(to);
}

void Finger::flick(std::string_view path, float up_mm) {
    pause();
    const ui::Rect seen = item(path).visible();
    if (seen.empty()) {
        throw FingerError("\"" + std::string(path) + "\" is not in sight");
    }
    const float up = up_mm * platform_.glass().px_per_mm;
    const ui::Point from = seen.centre();
    press(from);
    for (int i = 1; i <= kSteps; ++i) {
        platform_.pass(0.1 / kSteps);
        move({from.x, from.y - up * static_cast<float>(i) / kSteps});
    }
    lift({from.x, from.y - up});
}

void Finger::draw(std::string_view path, const std::vector<ui::Point>& way_mm) {
    const ui::Rect box = ready(path).visible();
    const float px = platform_.glass().px_per_mm;
    const auto place = [&](ui::Point mm) { return ui::Point{box.left + mm.x * px, box.top + mm.y * px}; };
    press(place(way_mm.front()));
    for (std::size_t i = 1; i < way_mm.size(); ++i) {
        const ui::Point from = place(way_mm[i - 1]);
        const ui::Point to = place(way_mm[i]);
        for (int step = 1; step <= kSteps; ++step) {
            const float share = static_cast<float>(step) / kSteps;
            platform_.pass(0.01);
            move({from.x + share * (to.x - from.x), from.y + share * (to.y - from.y)});
        }
    }
    lift(place(way_mm.back()));
}

void Finger::sign(std::string_view pad) {
    const std::string box = std::string(pad) + "/box";
    draw(box, {{8, 20}, {14, 6}, {20, 22}, {26, 8}, {34, 20}});
    draw(box, {{38, 18}, {50, 12}, {60, 20}});
}

void Finger::type(std::string_view pad, std::string_view keys) {
    for (const char key : keys) {
        const std::string name = key == '.'   ? "point"
                                 : key == '-' ? "sign"
                                 : key == '<' ? "delete"
                                 : key == 'C' ? "clear"
                                              : std::string(1, key);
        tap(std::string(pad) + "/" + name);
    }
}

void Finger::type_text(std::string_view keyboard, std::string_view text) {
    const std::string board(keyboard);
    for (const char wanted : text) {
        const bool capital = wanted >= 'A' && wanted <= 'Z';
        const char key = capital ? static_cast<char>(wanted - 'A' + 'a') : wanted;
        if (key == ' ') {
            tap(board + "/space");
            continue;
        }
        const std::string path = board + "/key/" + key;
        for (int pages = 0; pages < 8 && !has(path); ++pages) {
            const bool letter = key >= 'a' && key <= 'z';
            bool letters_shown = false;
            for (char one = 'a'; one <= 'z'; ++one) {
                letters_shown = letters_shown || has(board + "/key/" + one);
            }
            const bool other_kind = letter != letters_shown;
            tap(board + (other_kind ? "/digits" : "/page"));
        }
        if (capital) {
            tap(board + "/shift");
        }
        tap(path);
    }
}

} // namespace crossarm::tests
