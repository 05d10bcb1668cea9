// A tablet on a bench: store in a folder of its own, day pack, still clock, the program's own screens, a
// finger.
#pragma once

#include "sync/bundle/day_pack.hpp"
#include "sync/office/register_file.hpp"
#include "tests/support/finger.hpp"
#include "tests/support/pins.hpp"
#include "tests/support/temp_store.hpp"
#include "tests/support/test_keys.hpp"
#include "tests/support/visit_walker.hpp"
#include "ui/app/tablet.hpp"
#include "ui/app/tablet_face.hpp"

#include <filesystem>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>

namespace crossarm::tests {

/// 25 November 2026, 07:00 UTC: the morning the invented scenario was written for.
inline constexpr std::int64_t kScenarioMorningMs = 1'795'590'000'000;

/// The register of the invented scenario; with `structures` above 0 as many structures, all due, made from
/// those of the scenario.
inline model::Register scenario_register(std::size_t structures = 0) {
    const std::string folder = std::string(CROSSARM_SOURCE_DIR) + "/demo/scenario/";
    office::RegisterRead read =
        office::read_register({folder + "register.csv", folder + "people.csv", folder + "due.csv",
                               folder + "earlier.csv", folder + "utility.csv"});
    if (!read.problems.empty()) {
        throw std::runtime_error(model::to_text(read.problems.front()));
    }
    const std::size_t known = read.reg.structures.size();
    for (std::size_t i = known; i < structures; ++i) {
        model::Structure more = read.reg.structures[i % known];
        more.id = "QM-" + std::to_string(1000 + i);
        read.reg.due.push_back({more.id, "upkeep", {20'780 + static_cast<std::int32_t>(i % 40)}, ""});
        read.reg.structures.push_back(std::move(more));
    }
    return std::move(read.reg);
}

inline std::string scenario_day_pack(std::size_t structures = 0) {
    bundle::DayPack pack;
    pack.office = "Quillmere Valley Power Cooperative";
    pack.made_at = {kScenarioMorningMs, 0};
    pack.reg = scenario_register(structures);
    return bundle::write_day_pack(pack, office_key());
}

/// The office's digits as a person read them out.
inline ui::Compared compared_office() {
    return {seal::fingerprint(office_key().public_key()), "P-003"};
}

/// The visit of the invented scenario: answers by checkpoint.
inline Answers scenario_answers() {
    return read_answers(tests::read_file(std::string(CROSSARM_SOURCE_DIR) + "/demo/scenario/visit.csv"));
}

struct RigLook {
    Glass glass;
    bool glove = false;
    std::size_t structures = 0; ///< as for scenario_register()
};

/// Throws std::runtime_error when a part of it cannot be had. The wall clock follows the platform's clock.
class ScreenRig {
public:
    explicit ScreenRig(const RigLook& look = {}) : look_(look), platform_(look.glass) {
        const std::string pack = folder_.file("day-pack.json");
        tests::write_file(pack, scenario_day_pack(look.structures));
        choose_pins();
        switch_on(pack);
    }

    [[nodiscard]] ui::Tablet& tablet() { return *tablet_; }
    [[nodiscard]] ui::Session& session() { return tablet_->session(); }
    [[nodiscard]] const ui::View& view() { return session().view(); }
    [[nodiscard]] Finger& finger() { return *finger_; }
    [[nodiscard]] ui::TabletFace& face() { return *face_; }
    [[nodiscard]] StillPlatform& platform() { return platform_; }
    [[nodiscard]] const std::string& store_path() const { return store_path_; }
    [[nodiscard]] const std::string& bundles() const { return bundles_; }
    [[nodiscard]] const tests::TempFolder& folder() const { return folder_; }
    [[nodiscard]] model::Timestamp now() const {
        return {kScenarioMorningMs + static_cast<std::int64_t>((platform_.now_s() - start_s_) * 1000), 0};
    }

    /// Carries out wishes as if a screen had them, and draws until the screen is at rest.
    void wish(const ui::Wishes& wishes) {
        session().carry_out(wishes);
        finger_->settle();
    }

    /// The program ends and is started again on the same store.
    void reopen() {
        switch_off();
        switch_on("");
    }

private:
    void choose_pins() {
        auto store = store::Store::open(store_path_);
        if (!store) {
            throw std::runtime_error(model::to_text(store.problem()));
        }
        give_pins(*store, scenario_register(), now());
    }
    void switch_off() {
        finger_.reset();
        face_.reset();
        tablet_.reset();
    }
    void switch_on(const std::string& pack) {
        auto fonts = ui::find_fonts();
        auto tablet = ui::Tablet::switch_on({store_path_, pack, bundles_, "en", compared_office()},
                                            [this] { return now(); });
        if (!fonts || !tablet) {
            throw std::runtime_error(model::to_text(fonts ? tablet.problem() : fonts.problem()));
        }
        tablet_ = std::move(*tablet);
        face_ = std::make_unique<ui::TabletFace>(tablet_->session(), tablet_->words(), *fonts, look_.glove);
        finger_.emplace(platform_, *face_);
    }

    RigLook look_;
    tests::TempFolder folder_;
    // SQLite hands its file layers the true path.
    std::string store_path_ = std::filesystem::canonical(folder_.path()).string() + "/tablet.db";
    std::string bundles_ = folder_.file("bundles");
    StillPlatform platform_;
    double start_s_ = platform_.now_s();
    std::unique_ptr<ui::Tablet> tablet_;
    std::unique_ptr<ui::TabletFace> face_;
    std::optional<Finger> finger_;
};

} // namespace crossarm::tests
