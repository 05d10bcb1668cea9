#include "sync/office/keeping_verbs.hpp"

#include "checklist/store/backup.hpp"
#include "checklist/store/journal.hpp"
#include "checklist/store/place.hpp"
#include "checklist/store/store.hpp"
#include "sync/bundle/hand_over.hpp"
#include "sync/office/office_store.hpp"
#include "sync/office/people_erased.hpp"
#include "sync/office/register_file.hpp"
#include "sync/office/salvage.hpp"
#include "sync/office/verbs.hpp"

namespace crossarm::office {

namespace {

using model::Done;
using model::Problem;
using model::Result;

Problem usage(const char* verb, const char* what) {
    return {verb, what, "see crossarm-office --help"};
}

/// Whether a tablet's store lies there; an office store is tried as what it is.
bool is_tablet_store(const std::string& path) {
    const auto there = store::look_at(path);
    return there && *there == store::There::Store;
}

Ending run_export(const Arguments& arguments) {
    const auto path = arguments.needed("store");
    const auto out = arguments.needed("out");
    if (!path || !out) {
        return could_not(path ? out.problem() : path.problem());
    }
    const auto store = OfficeStore::open(*path, OfficeStore::Make::No);
    if (!store) {
        return could_not(store.problem());
    }
    const auto rows = store->bundles();
    if (!rows) {
        return could_not(rows.problem());
    }
    std::vector<bundle::Outgoing> bundles;
    for (const BundleRow& row : *rows) {
        bundles.push_back({row.device, row.life, row.seq, row.digest,
                           [&store, digest = row.digest] { return store->raw(digest); }});
    }
    if (arguments.has("one")) {
        const Done done = bundle::hand_over_in_one(bundles, *out);
        return done ? Ending{0, *out + ": " + std::to_string(bundles.size()) + " bundles\n", ""}
                    : could_not(done.problem());
    }
    const auto handed = bundle::hand_over(bundles, *out, [](const auto&, const auto&) { return Done(); });
    const std::string told = *out + ": " + std::to_string(handed.written) + " written, " +
                             std::to_string(handed.there_already) + " there already, " +
                             std::to_string(handed.left) + " left\n";
    return handed.stopped ? Ending{kCouldNot, told, model::to_text(*handed.stopped) + "\n"}
                          : Ending{0, told, ""};
}

Ending run_backup(const Arguments& arguments) {
    const auto path = arguments.needed("store");
    const auto out = arguments.needed("out");
    if (!path || !out) {
        return could_not(path ? out.problem() : path.problem());
    }
    Done done;
    if (is_tablet_store(*path)) {
        const auto store = store::Store::open(*path);
        done = store ? store->back_up(*out) : Done(store.problem());
    } else {
        const auto store = OfficeStore::open(*path, OfficeStore::Make::No);
        done = store ? store->back_up(*out) : Done(store.problem());
    }
    return done ? Ending{0, *out + ": written, and looked at whole\n", ""} : could_not(done.problem());
}

Result<std::int64_t> restore(const std::string& backup, const std::string& to, model::Timestamp now) {
    if (!is_tablet_store(backup)) {
        return Problem{backup, "is not a tablet's store",
                       "name the backup of a tablet; an office's backup is copied to its place by hand"};
    }
    try {
        store::Database from(backup, store::Database::Make::No);
        const Done copied = store::back_up(
            from, to, [&](store::Database& copy) { return store::verify_journal(copy, backup); });
        if (!copied) {
            return copied.problem();
        }
    } catch (const store::DiskFault& fault) {
        return Problem{backup, std::string("cannot be read: ") + fault.what(), "try another backup"};
    }
    auto store = store::Store::open(to);
    return store ? store->begin_life(now) : store.problem();
}

Ending run_restore(const Arguments& arguments, model::Timestamp now) {
    const auto to = arguments.needed("to");
    if (!to || arguments.plain().size() != 1) {
        return could_not(to ? usage("restore", "name one backup") : to.problem());
    }
    const auto life = restore(arguments.plain().front(), *to, now);
    return life ? Ending{0,
                         *to + ": life " + std::to_string(*life) +
                             " of this tablet; enrol it at the office, and use the one before no more\n",
                         ""}
                : could_not(life.problem());
}

Ending run_salvage(const Arguments& arguments) {
    const auto out = arguments.needed("out");
    if (!out || arguments.plain().size() != 1) {
        return could_not(out ? usage("salvage", "name one store") : out.problem());
    }
    const auto salvaged = salvage(arguments.plain().front(), *out);
    if (!salvaged) {
        return could_not(salvaged.problem());
    }
    Ending ending{salvaged->breaks.empty() ? 0 : kRefused,
                  *out + ": " + std::to_string(salvaged->entries) + " entries, " +
                      std::to_string(salvaged->bundles) + " whole bundles\n",
                  ""};
    for (const std::string& one : salvaged->breaks) {
        ending.out += one + "\n";
    }
    return ending;
}

Ending run_person(const Arguments& arguments, model::Timestamp now) {
    const auto path = arguments.needed("store");
    if (!path) {
        return could_not(path.problem());
    }
    const auto& plain = arguments.plain();
    if (plain.size() != 2 || (plain[0] != "export" && plain[0] != "erase")) {
        return could_not(usage("person", "say export or erase, and one person's id"));
    }
    const auto store = OfficeStore::open(*path, OfficeStore::Make::No);
    if (!store) {
        return could_not(store.problem());
    }
    if (plain[0] == "erase") {
        const Done done = erase_person(*store, plain[1], now);
        return done ? Ending{0,
                             plain[1] + ": from the next day pack on the id stands where the name stood; "
                                        "take the name out of the register too\n",
                             ""}
                    : could_not(done.problem());
    }
    model::Register reg;
    if (arguments.has("people")) {
        RegisterRead read =
            read_register({arguments.value("register"), arguments.value("people"), "", "", ""});
        if (!read.problems.empty()) {
            return could_not(read.problems.front());
        }
        reg = std::move(read.reg);
    }
    const auto text = export_person(*store, reg, plain[1]);
    return text ? Ending{0, *text, ""} : could_not(text.problem());
}

} // namespace

std::optional<Grammar> keeping_grammar(std::string_view name) {
    if (name == "export") {
        return Grammar{{"store", "out"}, {"one"}};
    }
    if (name == "backup") {
        return Grammar{{"store", "out"}, {}};
    }
    if (name == "restore") {
        return Grammar{{"to"}, {}};
    }
    if (name == "salvage") {
        return Grammar{{"out"}, {}};
    }
    if (name == "person") {
        return Grammar{{"store", "register", "people"}, {}};
    }
    return std::nullopt;
}

Ending run_keeping_verb(std::string_view name, const Arguments& arguments, const Surroundings& around) {
    if (name == "export") {
        return run_export(arguments);
    }
    if (name == "backup") {
        return run_backup(arguments);
    }
    if (name == "restore") {
        return run_restore(arguments, around.now());
    }
    if (name == "salvage") {
        return run_salvage(arguments);
    }
    return run_person(arguments, around.now());
}

std::string keeping_help() {
    return R"(
crossarm-office export --store FILE --out DIR
crossarm-office export --store FILE --out FILE.jsonl --one
    Writes every bundle as it came, each to a file of its own, or one a line to
    one file. What is there already is not written again.

crossarm-office backup --store FILE --out FILE
    A copy of a tablet's or an office's store, read back and checked before it
    gets its name. It holds the secret keys too.
crossarm-office restore BACKUP --to FILE
    Makes a tablet's store from its backup, as a new life of that tablet: for a
    new tablet, or after a loss. It has to be enrolled again.
crossarm-office salvage STORE --out DIR
    Writes out all that can still be read of a damaged store, entries and
    bundles, and names what is missing. The store itself is left as it is.

crossarm-office person export ID --store FILE [--register FILE --people FILE]
crossarm-office person erase ID --store FILE
    All that is held about a person, word for word; and the end of the name: the
    id stays in what was recorded, day packs carry the name no more.
)";
}

} // namespace crossarm::office
