// crossarm-walk: one complete visit of the invented scenario, by a finger on the real screens, without a
// display.
#include "sync/bundle/atomic_file.hpp"
#include "tests/support/visit_walker.hpp"
#include "ui/app/tablet.hpp"
#include "ui/app/tablet_face.hpp"

#include <cstdio>
#include <exception>
#include <sstream>
#include <string>
#include <vector>

namespace {

using namespace crossarm; // NOLINT(google-build-using-namespace): a script, not a room

struct Asked {
    std::string store;
    std::string day_pack;
    std::string out;
    ui::Compared office;
    std::string answers = std::string(CROSSARM_SOURCE_DIR) + "/demo/scenario/visit.csv";
};

int fail(const model::Problem& problem) {
    std::fprintf(stderr, "crossarm-walk: %s\n", model::to_text(problem).c_str());
    return 2;
}

int run(const Asked& asked) {
    const auto csv = bundle::read_whole(asked.answers);
    const auto fonts = ui::find_fonts();
    auto tablet =
        ui::Tablet::switch_on({asked.store, asked.day_pack, asked.out, "en", asked.office}, ui::wall_clock);
    if (!csv || !fonts || !tablet) {
        return fail(!csv ? csv.problem() : !fonts ? fonts.problem() : tablet.problem());
    }
    auto answers = tests::read_answers(*csv);
    const tests::WalkPeople people{answers["doer"], answers["lead"]};
    // Whoever signs something or says their own task needs a PIN; the lead chooses the first one.
    std::vector<std::string> with_pin = {people.lead, people.permit.issuer};
    std::istringstream crew(answers["brief.crew"]);
    for (std::string person; crew >> person;) {
        with_pin.push_back(person);
    }
    const std::string structure = answers["structure"];

    tests::StillPlatform platform({1280, 800, 5.88F});
    ui::TabletFace face((*tablet)->session(), (*tablet)->words(), *fonts, /*glove=*/false);
    tests::Finger finger(platform, face);
    tests::VisitWalker walker(finger, (*tablet)->session(), answers, people);
    walker.choose_pins(with_pin);
    walker.walk(structure);

    const ui::View& view = (*tablet)->session().view();
    std::printf("Visit to %s walked by touch: %d answers, %zu entries kept, bundle %s\n", structure.c_str(),
                walker.answered(), view.at_hand->state.entries, view.at_hand->bundle->file.c_str());
    std::printf("Its permit, to print: %s/permit-%s.html\n", asked.out.c_str(),
                to_text(view.at_hand->visit).c_str());
    return 0;
}

} // namespace

int main(int argc, char** argv) {
    Asked asked;
    for (int i = 1; i + 1 < argc; i += 2) {
        const std::string name = argv[i];
        std::string* place = name == "--store"                ? &asked.store
                             : name == "--day-pack"           ? &asked.day_pack
                             : name == "--out"                ? &asked.out
                             : name == "--answers"            ? &asked.answers
                             : name == "--office-fingerprint" ? &asked.office.fingerprint
                             : name == "--compared-by"        ? &asked.office.by
                                                              : nullptr;
        if (place != nullptr) {
            *place = argv[i + 1];
        }
    }
    if (asked.store.empty() || asked.out.empty()) {
        std::fputs("usage: crossarm-walk --store FILE --day-pack FILE --out FOLDER [--answers FILE]\n"
                   "       [--office-fingerprint DIGITS --compared-by NAME]\n",
                   stderr);
        return 2;
    }
    try {
        return run(asked);
    } catch (const std::exception& error) {
        std::fprintf(stderr, "crossarm-walk: %s\n", error.what());
        return 3;
    }
}
