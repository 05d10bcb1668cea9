// Pictures of every screen and its main states, from the real window: for people to look at.
// usage: ui_pictures DAY_PACK FOLDER WIDTH HEIGHT PX_PER_MM [glove]   (under Xvfb: target ui_pictures)
#include "sync/bundle/atomic_file.hpp"
#include "tests/support/pins.hpp"
#include "tests/support/png.hpp"
#include "tests/support/screen_states.hpp"
#include "ui/app/tablet.hpp"
#include "ui/app/tablet_face.hpp"
#include "ui/app/window.hpp"

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>

namespace {

using namespace crossarm; // NOLINT(google-build-using-namespace): a script, not a room

class Studio {
public:
    Studio(ui::Window& window, ui::TabletFace& face, std::string folder, std::string suffix)
        : window_(window), face_(face), folder_(std::move(folder)), suffix_(std::move(suffix)) {}

    void shoot(const std::string& name) {
        window_.settle(face_);
        const ui::Picture picture = window_.read_pixels();
        tests::write_png(std::filesystem::path(folder_) / (name + suffix_ + ".png"), picture.width,
                         picture.height, picture.rgba);
    }

private:
    ui::Window& window_;
    ui::TabletFace& face_;
    std::string folder_;
    std::string suffix_;
};

int run(int argc, char** argv) {
    if (argc < 6) {
        std::fputs("usage: ui_pictures DAY_PACK FOLDER WIDTH HEIGHT PX_PER_MM [glove]\n", stderr);
        return 2;
    }
    const std::string folder = argv[2];
    const bool glove = argc > 6;
    ui::WindowSettings settings;
    settings.title = "Crossarm pictures";
    settings.width_px = std::atoi(argv[3]);
    settings.height_px = std::atoi(argv[4]);
    settings.px_per_mm = std::strtof(argv[5], nullptr);
    std::filesystem::create_directories(folder);
    const std::string suffix =
        "-" + std::string(argv[3]) + "x" + argv[4] + "-" + argv[5] + (glove ? "-glove" : "");
    const std::string store = folder + "/store" + suffix + ".db";
    for (const char* end : {"", "-wal", ".head"}) {
        std::filesystem::remove(store + end);
    }
    // The digits of the office's key, as a person would have typed them.
    const char* digits = std::getenv("CROSSARM_OFFICE");
    const std::string office = digits == nullptr ? "" : digits;
    const auto fonts = ui::find_fonts();
    auto tablet =
        ui::Tablet::switch_on({store, argv[1], folder + "/bundles", "en", {office, "P-021"}}, ui::wall_clock);
    if (tablet.ok()) { // started again once everybody has a PIN
        tests::give_pins((*tablet)->store(), (*tablet)->reg(), ui::wall_clock());
        tablet->reset();
        tablet =
            ui::Tablet::switch_on({store, "", folder + "/bundles", "en", {office, "P-021"}}, ui::wall_clock);
    }
    auto window = ui::Window::open(settings);
    for (const model::Problem* problem :
         {fonts.ok() ? nullptr : &fonts.problem(), tablet.ok() ? nullptr : &tablet.problem(),
          window.ok() ? nullptr : &window.problem()}) {
        if (problem != nullptr) {
            std::fprintf(stderr, "ui_pictures: %s\n", model::to_text(*problem).c_str());
            return 2;
        }
    }
    ui::TabletFace face((*tablet)->session(), (*tablet)->words(), *fonts, glove);
    const auto csv = bundle::read_whole(std::string(CROSSARM_SOURCE_DIR) + "/demo/scenario/visit.csv");
    model::require(csv.ok(), "the scenario's visit is in the source tree");
    Studio studio(**window, face, folder, suffix);
    tests::VisitScript script(**tablet, tests::read_answers(*csv));
    tests::show_every_state(script, [&](const std::string& name) { studio.shoot(name); });
    return 0;
}

} // namespace

int main(int argc, char** argv) {
    try {
        return run(argc, argv);
    } catch (const std::exception& error) {
        std::fprintf(stderr, "ui_pictures: %s\n", error.what());
        return 3;
    }
}
