// Pictures of every screen and its main states, from the real window: for people to look at.
// usage: ui_pictures DAY_PACK FOLDER WIDTH HEIGHT PX_PER_MM [glove]   (under Xvfb: target ui_pictures)
#include "sync/bundle/atomic_file.hpp"
#include "tests/support/png.hpp"
#include "tests/support/visit_walker.hpp"
#include "ui/app/tablet.hpp"
#include "ui/app/tablet_face.hpp"
#include "ui/app/window.hpp"

#include <charconv>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <sstream>
#include <stdexcept>
#include <string>

namespace {

using namespace crossarm; // NOLINT(google-build-using-namespace): a script, not a room

constexpr const char* kStructure = "QM-0101";
constexpr const char* kDoer = "P-011";
constexpr const char* kLead = "P-021";

model::Value value_of(const model::Checkpoint& checkpoint, const std::string& answer) {
    std::istringstream in(answer);
    std::vector<std::string> words;
    for (std::string word; in >> word;) {
        words.push_back(word);
    }
    if (answer.starts_with("out: ")) {
        return model::OutOfReach{"Live parts are too near"};
    }
    if (std::holds_alternative<model::GradeInput>(checkpoint.input)) {
        return *model::grade_of(answer);
    }
    if (const auto* number = std::get_if<model::NumberInput>(&checkpoint.input)) {
        return model::Quantity{std::strtod(answer.c_str(), nullptr), number->unit};
    }
    if (const auto* numbers = std::get_if<model::NumbersInput>(&checkpoint.input)) {
        model::Readings out;
        for (const std::string& word : words) {
            out.values.push_back({std::strtod(word.c_str(), nullptr), numbers->unit});
        }
        return out;
    }
    if (std::holds_alternative<model::TextInput>(checkpoint.input)) {
        return model::Remark{answer};
    }
    return model::Choice{words};
}

class Studio {
public:
    Studio(ui::Tablet& tablet, ui::Window& window, ui::TabletFace& face, std::string folder,
           std::string suffix, tests::Answers answers)
        : tablet_(tablet), window_(window), face_(face), folder_(std::move(folder)),
          suffix_(std::move(suffix)), answers_(std::move(answers)) {}

    void shoot(const std::string& name) {
        window_.settle(face_);
        const ui::Picture picture = window_.read_pixels();
        tests::write_png(std::filesystem::path(folder_) / (name + suffix_ + ".png"), picture.width,
                         picture.height, picture.rgba);
    }
    void wish(const ui::Wish& one) { tablet_.session().carry_out({one}); }
    void go(ui::Screen screen, const std::string& part = "", const std::string& checkpoint = "") {
        wish(ui::GoTo{{screen, screen == ui::Screen::Round ? "" : kStructure, part, checkpoint}});
    }
    void answer(const std::string& checkpoint, const std::string& text) {
        const model::Checkpoint& at = *tablet_.protocol().checkpoint(checkpoint);
        const std::string insisted = "Measured again, the same reading";
        wish(ui::Mean{visit::Record{{at.part, checkpoint, value_of(at, text), insisted, ""}}});
        if (ui::answer_at(tablet_.session().view(), checkpoint) == nullptr) {
            throw std::runtime_error(checkpoint + ": " + tablet_.session().view().notice);
        }
    }
    // Plain answers for all that is missing in the current stage, then the next stage.
    void finish(const std::string& stage) {
        ui::Session& session = tablet_.session();
        for (int turns = 0; turns < 300 && !session.view().at_hand->missing.empty(); ++turns) {
            const std::string checkpoint = session.view().at_hand->missing.front().checkpoint;
            const auto scripted = answers_.find(checkpoint);
            answer(checkpoint,
                   scripted != answers_.end()
                       ? scripted->second
                       : tests::plain_answer(*tablet_.protocol().checkpoint(checkpoint), session.view()));
        }
        wish(ui::Mean{visit::FinishStage{stage}});
    }
    void leave_to_structure() {
        go(ui::Screen::Round);
        go(ui::Screen::Structure);
    }
    [[nodiscard]] ui::Session& session() { return tablet_.session(); }

private:
    ui::Tablet& tablet_;
    ui::Window& window_;
    ui::TabletFace& face_;
    std::string folder_;
    std::string suffix_;
    tests::Answers answers_;
};

void shoot_beginning(Studio& studio) {
    studio.shoot("01-round-nobody");
    studio.go(ui::Screen::People);
    studio.shoot("02-people");
    studio.wish(ui::TakeOver{kDoer});
    studio.go(ui::Screen::Round);
    studio.session().drafts().all_structures = true;
    studio.shoot("03-round-all");
    studio.session().drafts().all_structures = false;
    studio.go(ui::Screen::Structure);
    studio.shoot("04-structure-before");
    studio.wish(ui::Mean{visit::OpenVisit{kStructure}});
    studio.shoot("05-arrive-steps");
    studio.go(ui::Screen::Checkpoint, "", "arrive.structure");
    studio.shoot("06-checkpoint-choice");
    studio.answer("arrive.structure", "different");
    studio.shoot("07-checkpoint-stops");
    studio.answer("arrive.structure", "same");
    studio.leave_to_structure();
    studio.go(ui::Screen::Checkpoint, "", "arrive.position");
    studio.shoot("08-checkpoint-text");
    studio.answer("arrive.position", "Lane side");
    studio.answer("arrive.lightning", "none");
    studio.answer("arrive.weather", "dry");
    studio.leave_to_structure();
    studio.go(ui::Screen::Checkpoint, "", "arrive.wind");
    studio.shoot("09-checkpoint-number");
    studio.session().drafts().number.text = "9.5";
    studio.shoot("10-checkpoint-number-unusual");
    studio.session().drafts().asking = ui::Asking::WhyUnusual;
    studio.shoot("11-checkpoint-why-unusual");
    studio.answer("arrive.wind", "3.5");
    studio.leave_to_structure();
    studio.go(ui::Screen::Checkpoint, "", "arrive.ground");
    studio.shoot("12-checkpoint-grade");
    studio.answer("arrive.ground", "watch");
}

void shoot_arrive_to_permit(Studio& studio) {
    studio.answer("pole_stays.base", "sound");
    studio.answer("pole_stays.stays", "sound");
    studio.answer("trees.species", "fast");
    studio.leave_to_structure();
    studio.go(ui::Screen::Checkpoint, "", "trees.clearance_hv");
    studio.answer("trees.clearance_hv", "1.2");
    studio.shoot("13-checkpoint-verdict-danger");
    studio.finish("arrive");
    studio.leave_to_structure();
    studio.go(ui::Screen::Checkpoint, "", "brief.crew");
    studio.shoot("14-checkpoint-people");
    studio.finish("brief");
    studio.leave_to_structure();
    studio.shoot("15-permit-steps");
    studio.finish("permit");
    studio.leave_to_structure();
    studio.shoot("16-work-drawing-fresh");
}

void shoot_work(Studio& studio) {
    studio.answer("trees.trimmed_to", "3.5");
    studio.answer("pole_stays.channels", "watch");
    studio.answer("lettering.danger_plate", "repair");
    studio.answer("hv_bushings.damage", "crack_flange");
    studio.answer("breather.gel_kind", "blue");
    studio.answer("breather.gel_spent", "65");
    studio.answer("oil.weather", "dry");
    studio.answer("oil.tester", "on_truck");
    studio.answer("oil.temperature", "31");
    studio.answer("oil.drawn", "bottom_valve");
    studio.leave_to_structure();
    studio.shoot("17-work-drawing");
    studio.session().drafts().list_view = true;
    studio.shoot("18-work-list");
    studio.session().drafts().list_view = false;
    studio.go(ui::Screen::Part, "breather");
    studio.shoot("19-part");
    studio.go(ui::Screen::Checkpoint, "", "oil.breakdown");
    studio.session().drafts().readings = {37.4, 41.2, 35.8, std::nullopt, std::nullopt, std::nullopt};
    studio.session().drafts().reading = 3;
    studio.shoot("20-checkpoint-six-shots");
    studio.answer("oil.breakdown", "37.4 41.2 35.8 39.9 36.7 38.6");
    studio.shoot("21-checkpoint-verdict");
    studio.go(ui::Screen::Workings, "", "oil.breakdown");
    studio.shoot("22-workings");
    studio.leave_to_structure();
    studio.go(ui::Screen::Checkpoint, "", "hv_jumpers.burnt");
    studio.session().drafts().asking = ui::Asking::WhyOut;
    studio.shoot("23-checkpoint-why-out");
    studio.finish("work");
}

void shoot_end(Studio& studio) {
    studio.leave_to_structure();
    studio.shoot("24-restore-steps-danger");
    studio.go(ui::Screen::Danger, "", "hv_bushings.damage");
    studio.shoot("25-danger");
    studio.wish(ui::TakeOver{kLead});
    while (!studio.session().view().at_hand->undecided.empty()) {
        const std::string checkpoint = studio.session().view().at_hand->undecided.front();
        studio.go(ui::Screen::Danger, "", checkpoint);
        studio.session().drafts().danger_decision = "put_right";
        studio.shoot("26-danger-decision");
        studio.wish(ui::Mean{visit::DecideDanger{checkpoint, "put_right", "Replaced and seen by me"}});
    }
    studio.wish(ui::TakeOver{kDoer});
    studio.leave_to_structure();
    studio.go(ui::Screen::SignOff);
    studio.shoot("27-sign-off-missing");
    studio.finish("restore");
    studio.wish(ui::TakeOver{kLead});
    studio.leave_to_structure();
    studio.shoot("28-stage-sign-off");
    studio.go(ui::Screen::SignOff);
    studio.shoot("29-sign-off");
    studio.wish(ui::Mean{visit::SignVisit{studio.session().view().at_hand->head, ""}});
    studio.shoot("30-hand-over");
    studio.wish(ui::WriteBundle{});
    studio.shoot("31-hand-over-written");
    studio.wish(ui::SayHandedOver{});
    studio.shoot("32-hand-over-said");
    studio.go(ui::Screen::Round);
    studio.shoot("33-round-after");
}

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
    const auto fonts = ui::find_fonts();
    auto tablet = ui::Tablet::switch_on({store, argv[1], folder + "/bundles", "en"}, ui::wall_clock);
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
    Studio studio(**tablet, **window, face, folder, suffix, tests::read_answers(*csv));
    shoot_beginning(studio);
    shoot_arrive_to_permit(studio);
    shoot_work(studio);
    shoot_end(studio);
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
