// crossarm: the touch program on a window.
#include "sync/office/study_desk.hpp"
#include "ui/app/study_face.hpp"
#include "ui/app/tablet.hpp"
#include "ui/app/tablet_face.hpp"
#include "ui/app/window.hpp"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <exception>
#include <optional>
#include <string>
#include <vector>

namespace {

constexpr const char* kUsage = R"(crossarm: upkeep visits to pole-mounted substations, by touch

  crossarm --store FILE [--day-pack FILE [--office-fingerprint DIGITS --compared-by NAME]]
           [--receipt FILE] [--bundles FOLDER]
           [--size WIDTHxHEIGHT] [--px-per-mm NUMBER] [--glove] [--full-screen]

  --store FILE         the tablet's store; it is made when it is not there
  --day-pack FILE      a new day pack from the office
  --office-fingerprint DIGITS, --compared-by NAME
                       the digits that the office read out, for its first day pack, and who compared them
  --receipt FILE       what the office says about the bundles of this tablet
  --bundles FOLDER     where bundles are written (a folder "bundles" beside the store otherwise)
  --size WIDTHxHEIGHT  size of the window in pixels, 1280x800 otherwise
  --px-per-mm NUMBER   pixels in a millimetre of the real screen, 3 to 16, when the screen itself does not tell
  --glove              larger targets, for gloved hands

  crossarm --store FILE --enrol FILE    writes the file that introduces this tablet to the office, prints the
                       digits that whoever enrols it has to be read out, and ends
  crossarm --store FILE --new-life      for a store that was moved or put back from a backup: a new key, to be
                       enrolled again; ends

  crossarm --study --register FILE [--sites FILE] [--loads FILE] [--asked FILE]
           [--stock FILE] [--prices FILE] [--structure ID] [--years N]
           [--size WIDTHxHEIGHT] [--px-per-mm NUMBER] [--glove] [--full-screen]
                       for the office: the uprating study of every structure, the most urgent first, or opened
                       at one. The files are those of crossarm-office study. No store: it changes nothing
)";

struct Asked {
    crossarm::ui::TabletSettings tablet;
    crossarm::ui::WindowSettings window;
    bool glove = false;
    bool new_life = false;
    std::string enrol;
    std::string receipt;
};

std::optional<Asked> read_arguments(int argc, char** argv) {
    Asked out;
    out.window.title = "Crossarm";
    for (int i = 1; i < argc; ++i) {
        const std::string name = argv[i];
        const char* value = i + 1 < argc ? argv[i + 1] : nullptr;
        if (name == "--glove") {
            out.glove = true;
            continue;
        }
        if (name == "--new-life") {
            out.new_life = true;
            continue;
        }
        if (name == "--full-screen") {
            out.window.full_screen = true;
            continue;
        }
        if (value == nullptr) {
            return std::nullopt;
        }
        ++i;
        if (name == "--store") {
            out.tablet.store = value;
        } else if (name == "--day-pack") {
            out.tablet.day_pack = value;
        } else if (name == "--office-fingerprint") {
            out.tablet.office.fingerprint = value;
        } else if (name == "--compared-by") {
            out.tablet.office.by = value;
        } else if (name == "--enrol") {
            out.enrol = value;
        } else if (name == "--receipt") {
            out.receipt = value;
        } else if (name == "--bundles") {
            out.tablet.bundles_folder = value;
        } else if (name == "--px-per-mm") {
            out.window.px_per_mm = std::strtof(value, nullptr);
        } else if (name != "--size" ||
                   std::sscanf(value, "%dx%d", &out.window.width_px, &out.window.height_px) != 2) {
            return std::nullopt;
        }
    }
    return out.tablet.store.empty() ? std::nullopt : std::optional(out);
}

int fail(const crossarm::model::Problem& problem) {
    std::fprintf(stderr, "crossarm: %s\n", crossarm::model::to_text(problem).c_str());
    return 2;
}

/// The office's screens: the study of a register, without a store.
int run_study(const std::vector<std::string>& words) {
    using namespace crossarm; // NOLINT(google-build-using-namespace): as below
    const office::Grammar grammar = {
        {"register", "sites", "loads", "asked", "stock", "prices", "structure", "years", "size", "px-per-mm"},
        {"study", "glove", "full-screen"}};
    const auto arguments = office::Arguments::read(words, grammar);
    if (!arguments) {
        return fail(arguments.problem());
    }
    ui::WindowSettings settings;
    settings.title = "Crossarm: uprating study";
    const std::string size = arguments->value("size");
    if (!arguments->plain().empty() ||
        (!size.empty() && std::sscanf(size.c_str(), "%dx%d", &settings.width_px, &settings.height_px) != 2)) {
        std::fputs(kUsage, stderr);
        return 2;
    }
    settings.full_screen = arguments->has("full-screen");
    if (arguments->has("px-per-mm")) {
        settings.px_per_mm = std::strtof(arguments->value("px-per-mm").c_str(), nullptr);
    }
    office::StudyDesk desk;
    if (const auto ending = office::fill_desk(desk, *arguments)) {
        std::fputs(ending->err.c_str(), stderr);
        return ending->code;
    }
    const std::string structure = arguments->value("structure");
    if (!structure.empty() && desk.reg.structure(structure) == nullptr) {
        return fail({"--structure", "is not in the register", "write the id as it is painted"});
    }
    const auto fonts = ui::find_fonts();
    if (!fonts) {
        return fail(fonts.problem());
    }
    ui::StudyFace face(
        desk, *fonts, arguments->has("glove"), structure, [](std::size_t done, std::size_t all) {
            if (all >= 1000 && (done % 100 == 0 || done == all)) {
                std::fprintf(stderr, "\rstudied %zu of %zu%s", done, all, done == all ? "\n" : "");
            }
        });
    auto window = ui::Window::open(settings);
    if (!window) {
        return fail(window.problem());
    }
    (*window)->run(face);
    return 0;
}

/// What needs no screen: a new life, then the enrolment.
int run_without_screen(const Asked& asked) {
    using namespace crossarm; // NOLINT(google-build-using-namespace): as below
    auto store = store::Store::open(asked.tablet.store);
    if (!store) {
        return fail(store.problem());
    }
    if (asked.new_life) {
        const auto life = store->begin_life(ui::wall_clock());
        if (!life) {
            return fail(life.problem());
        }
        std::printf("Life %lld begun. Enrol this tablet again.\n", static_cast<long long>(*life));
    }
    if (!asked.enrol.empty()) {
        const auto digits = ui::write_enrolment_file(*store, asked.enrol, ui::wall_clock());
        if (!digits) {
            return fail(digits.problem());
        }
        std::printf("Enrolment of tablet %s written. Read out to the office: %s\n", store->device().c_str(),
                    digits->c_str());
    }
    return 0;
}

int run(const Asked& asked) {
    using namespace crossarm; // NOLINT(google-build-using-namespace): the program's own name, in its main
                              // only
    const auto fonts = ui::find_fonts();
    if (!fonts) {
        return fail(fonts.problem());
    }
    auto tablet = ui::Tablet::switch_on(asked.tablet, ui::wall_clock);
    if (!tablet) {
        return fail(tablet.problem());
    }
    if (!asked.receipt.empty()) {
        const auto said =
            ui::load_receipt((*tablet)->store(), asked.receipt, asked.tablet.office, ui::wall_clock());
        if (!said) {
            return fail(said.problem());
        }
        std::printf("%s\n", said->c_str());
    }
    auto window = ui::Window::open(asked.window);
    if (!window) {
        return fail(window.problem());
    }
    ui::TabletFace face((*tablet)->session(), (*tablet)->words(), *fonts, asked.glove);
    (*window)->run(face);
    return 0;
}

} // namespace

int main(int argc, char** argv) {
    const std::vector<std::string> words(argv + 1, argv + argc);
    const bool study = std::ranges::find(words, "--study") != words.end();
    const auto asked = study ? std::optional<Asked>() : read_arguments(argc, argv);
    if (!study && !asked) {
        std::fputs(kUsage, stderr);
        return 2;
    }
    try {
        if (study) {
            return run_study(words);
        }
        return asked->new_life || !asked->enrol.empty() ? run_without_screen(*asked) : run(*asked);
    } catch (const std::exception& error) {
        // The one place where what nobody expected ends: nothing that was confirmed depends on it.
        std::fprintf(stderr, "crossarm: stopped: %s. What the screen had called kept is kept.\n",
                     error.what());
        return 3;
    }
}
