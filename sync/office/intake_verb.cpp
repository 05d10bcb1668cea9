#include "checklist/model/canonical.hpp"
#include "sync/bundle/utf8.hpp"
#include "sync/office/held_back.hpp"
#include "sync/office/intake.hpp"
#include "sync/office/intake_text.hpp"
#include "sync/office/verbs.hpp"
#include "sync/office/watch.hpp"

#include <nlohmann/json.hpp>

#include <charconv>
#include <chrono>
#include <thread>

namespace crossarm::office {

namespace {

using model::Problem;
using model::Result;

constexpr std::size_t kLongWork = 200; ///< files from which progress is told

Result<std::int64_t> seconds_of(const Arguments& arguments) {
    const std::string text = arguments.value("wait");
    std::int64_t seconds = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), seconds);
    if (!text.empty() &&
        (error != std::errc() || end != text.data() + text.size() || seconds < 0 || seconds > 86'400)) {
        return Problem{"--wait", "\"" + text + "\" is not a number of seconds from 0 to 86400",
                       "give the seconds to wait, for example 60"};
    }
    return seconds;
}

/// Opens the store; as long as another program holds it, tries again until the time is over.
Result<OfficeStore> open_patiently(const std::string& path, std::int64_t seconds,
                                   const Surroundings& around) {
    using Clock = std::chrono::steady_clock;
    const auto until = Clock::now() + std::chrono::seconds(seconds);
    auto store = OfficeStore::open(path, OfficeStore::Make::Yes);
    while (!store && OfficeStore::is_held_by_another(store.problem()) && Clock::now() < until &&
           around.go_on()) {
        std::this_thread::sleep_for(std::chrono::milliseconds(100));
        store = OfficeStore::open(path, OfficeStore::Make::Yes);
    }
    return store;
}

Ending ending_of(const Intake& intake, bool json) {
    return {intake.count(Line::Kind::HeldBack) > 0 ? kRefused : 0,
            json ? intake_json(intake) : intake_text(intake), ""};
}

Ending run_watch(const Arguments& arguments, const std::string& store, const Surroundings& around) {
    WatchManner manner;
    manner.move_taken = !arguments.has("leave");
    manner.now = around.now;
    manner.go_on = around.go_on;
    manner.taken = [&](const Intake& intake) {
        around.out(arguments.has("json") ? intake_json(intake) : intake_text(intake));
    };
    std::string said;
    manner.trouble = [&](const Problem& problem) {
        // The same trouble is tried again every few seconds; it is told once.
        if (const std::string text = model::to_text(problem) + "\n"; text != said) {
            said = text;
            around.err(said);
        }
    };
    const auto done = watch(store, arguments.plain().front(), manner);
    return done ? Ending{} : could_not(done.problem());
}

} // namespace

Ending run_intake(const Arguments& arguments, const Surroundings& around) {
    const auto path = arguments.needed("store");
    if (!path) {
        return could_not(path.problem());
    }
    const auto seconds = seconds_of(arguments);
    if (!seconds) {
        return could_not(seconds.problem());
    }
    const bool again = arguments.has("again");
    if (arguments.plain().size() != (again ? 0U : 1U)) {
        return could_not(
            {"intake", again ? "--again takes no folder" : "name one folder", "see crossarm-office --help"});
    }
    if (arguments.has("watch")) {
        return run_watch(arguments, *path, around);
    }
    auto store = open_patiently(*path, *seconds, around);
    if (!store) {
        return could_not(store.problem());
    }
    Manner manner;
    manner.move_taken = !arguments.has("leave");
    manner.told = [&](const Line&, std::size_t done, std::size_t all) {
        if (all >= kLongWork && (done == all || done % (all / 20) == 0)) {
            around.err(std::to_string(done) + " of " + std::to_string(all) + "\n");
        }
    };
    const auto intake = again ? take_in_again(*store, around.now(), manner)
                              : take_in(*store, arguments.plain().front(), around.now(), manner);
    return intake ? ending_of(*intake, arguments.has("json")) : could_not(intake.problem());
}

Ending run_held(const Arguments& arguments) {
    const auto path = arguments.needed("store");
    if (!path) {
        return could_not(path.problem());
    }
    const auto held = HeldBack(*path).list();
    if (!held) {
        return could_not(held.problem());
    }
    Ending ending;
    nlohmann::json list = nlohmann::json::array();
    for (const HeldFile& file : *held) {
        const std::string copy = bundle::printable(file.copy);
        if (!file.reason) {
            list.push_back({{"copy", copy}});
            ending.out += copy + "\n    the reason was not written: crossarm-office intake --again\n";
            continue;
        }
        const Reason& reason = *file.reason;
        list.push_back({{"copy", copy},
                        {"file", reason.file},
                        {"step", reason.step},
                        {"where", reason.why.where},
                        {"what", reason.why.what},
                        {"remedy", reason.why.remedy},
                        {"heldAt", model::to_text(reason.held_at)},
                        {"triedAt", model::to_text(reason.tried_at)}});
        ending.out += bundle::printable(reason.file) + ", since " + model::for_people(reason.held_at) +
                      ", at the step " + bundle::printable(reason.step) + "\n    " +
                      bundle::printable(model::to_text(reason.why)) + "\n    kept as " + copy + "\n";
    }
    ending.out += std::to_string(held->size()) + " held back\n";
    if (arguments.has("json")) {
        ending.out = model::canonical(list) + "\n";
    }
    return ending;
}

} // namespace crossarm::office
