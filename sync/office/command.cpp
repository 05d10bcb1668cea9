#include "sync/office/command.hpp"

#include "sync/bundle/assets.hpp"
#include "sync/bundle/atomic_file.hpp"
#include "sync/bundle/bundle.hpp"
#include "sync/bundle/day_pack.hpp"
#include "sync/bundle/sealed_json.hpp"
#include "sync/office/arguments.hpp"
#include "sync/office/dump.hpp"
#include "sync/office/keeping_verbs.hpp"
#include "sync/office/key_verbs.hpp"
#include "sync/office/new_units.hpp"
#include "sync/office/office_keys.hpp"
#include "sync/office/people_erased.hpp"
#include "sync/office/receipts.hpp"
#include "sync/office/register_file.hpp"
#include "sync/office/report_text.hpp"
#include "sync/office/study.hpp"
#include "sync/office/verbs.hpp"

#include <charconv>

namespace crossarm::office {

namespace {

using model::Problem;
using model::Result;

constexpr const char* kHelp = R"(crossarm-office: the office's side of the visits

crossarm-office pack --register FILE [--people FILE] [--due FILE] [--earlier FILE]
                     [--utility FILE]
                     --number N --office NAME --at TIME --out FILE --store FILE
    Makes day pack N for the tablets, sealed with the office's key, with a receipt
    for each tablet that is enrolled in the office store. TIME is RFC 3339: 2026-03-14T06:00:00+05:30.
    A register is CSV or JSON, told apart by the end of the file's name.
    register.csv  id,name,feeder,latitude,longitude,support,pole,customers,
                  critical_customers,note,hospital,hospital_minutes,rating_kVA,
                  hv_kV,lv_V,make,serial,made_year,impedance_percent,oil_litres,
                  mass_kg,no_load_loss_W,load_loss_W,top_oil_rise_K,vector_group,
                  conservator,breather,gel_kg,hv_fuse,lv_breaker
    people.csv    id,name,roles,competences     roles: crew lead office, with
                  spaces; competences: each with its last day, with spaces:
                  issue_permit:2027-03-31 accept_permit:... sign_visit:...
                  first_aid:... climb:...
    utility.csv   control_room_call,emergency_call      one row: whom to call
    due.csv       structure,kind,due,reason      kind: upkeep or uprating
    earlier.csv   structure,checkpoint,date,kind,value,unit
                  kind: grade, choice, number, numbers or text; several values
                  with spaces between them; unit: a UCUM code, for numbers
    A JSON register holds the lists structures, people, due and earlier, and
    the object utility. A transformer that a signed uprating visit in the store
    put up is in the pack in place of the register's old one; the command says
    so. A fact that was not read on the new plate is left empty.

crossarm-office register --register FILE --store FILE --out FILE
    Writes the register's structures again as CSV, with those units in it.

crossarm-office lettering --register FILE [--store FILE] --structure ID
    What the painter puts on a structure: name, number, rating, make, serial.

crossarm-office intake DIR --store FILE [--leave] [--wait SECONDS] [--json]
    Takes in every bundle of DIR, each exactly once, in whatever order: .json
    holds one, .jsonl one a line. Files that were taken move to DIR/taken;
    --leave leaves them. What cannot be taken is copied to FILE.held-back with
    the reason. Only one program at a time writes a store: --wait waits for it.
crossarm-office intake --watch DIR --store FILE [--leave] [--json]
    Stays and takes in what arrives, when it has been quiet for a second.
crossarm-office intake --again --store FILE [--json]
    Tries again what is held back: after a tablet was enrolled, say.
crossarm-office held --store FILE [--json]
    Lists what is held back, why and since when.

crossarm-office show --store FILE VISIT|--all [--json] [--assets DIR]
    Prints a visit's findings and verdicts with their workings.

crossarm-office dump --store FILE
    Prints all content as lines of canonical JSON, the same whatever the order
    in which it came in.
)";

constexpr const char* kExitCodes = R"(
Exit code: 0 all done, 1 something that came in was refused, 2 could not work.
)";

Result<std::int64_t> number_of(const Arguments& arguments, std::string_view name) {
    const auto text = arguments.needed(name);
    if (!text) {
        return text.problem();
    }
    std::int64_t number = 0;
    const auto [end, error] = std::from_chars(text->data(), text->data() + text->size(), number);
    if (error != std::errc() || end != text->data() + text->size() || number < 1 || number > 999'999'999) {
        return Problem{"--" + std::string(name), "\"" + *text + "\" is not a number from 1 to 999999999",
                       "count the day packs from 1"};
    }
    return number;
}

Ending run_pack(const Arguments& arguments) {
    bundle::DayPack pack;
    const auto reg = arguments.needed("register");
    const auto number = number_of(arguments, "number");
    const auto office = arguments.needed("office");
    const auto at_text = arguments.needed("at");
    const auto out = arguments.needed("out");
    const auto path = arguments.needed("store");
    for (const auto* text : {&reg, &office, &at_text, &out, &path}) {
        if (!text->ok()) {
            return could_not(text->problem());
        }
    }
    if (!number) {
        return could_not(number.problem());
    }
    const auto at = model::parse_timestamp(*at_text, "--at");
    if (!at) {
        return could_not(at.problem());
    }
    RegisterRead read = read_register({*reg, arguments.value("people"), arguments.value("due"),
                                       arguments.value("earlier"), arguments.value("utility")});
    if (!read.problems.empty()) {
        Ending ending = refused(read.problems);
        ending.err += std::to_string(read.problems.size()) +
                      (read.problems.size() == 1 ? " problem" : " problems") + "; nothing was written\n";
        return ending;
    }
    pack.number = *number;
    pack.office = *office;
    pack.made_at = *at;
    pack.reg = std::move(read.reg);
    const auto store = OfficeStore::open(*path, OfficeStore::Make::Yes);
    if (!store) {
        return could_not(store.problem());
    }
    if (auto left_out = leave_out_names(*store, pack.reg); !left_out) {
        return could_not(left_out.problem());
    }
    const auto units = new_units(*store);
    if (!units) {
        return could_not(units.problem());
    }
    std::string news;
    for (const Uptake& uptake : take_up(pack.reg, *units)) {
        news += uptake_text(uptake);
    }
    const auto key = office_key(*store, *at);
    auto receipts = make_receipt_files(*store, pack.office, *at);
    if (!key || !receipts) {
        return could_not(key ? receipts.problem() : key.problem());
    }
    pack.receipts = std::move(*receipts);
    const std::string bytes = bundle::write_day_pack(pack, key->pair, key->vouch);
    // What a tablet would refuse must not leave the office.
    seal::KeyRing ring;
    ring.add({key->pair.public_key(), {seal::Owner::Kind::Office, pack.office}});
    if (auto back = bundle::read_day_pack(bytes, *out, ring); !back) {
        return could_not(back.problem());
    }
    if (auto written = bundle::write_atomically(*out, bytes); !written) {
        return could_not(written.problem());
    }
    return {0,
            *out + ": day pack " + std::to_string(pack.number) + ", " +
                std::to_string(pack.reg.structures.size()) + " structures, " +
                std::to_string(pack.reg.people.size()) + " people, " + std::to_string(pack.reg.due.size()) +
                " due visits, " + std::to_string(pack.reg.earlier.size()) + " earlier readings\n" + news,
            ""};
}

/// Reads the words only when they are needed.
Result<std::string> show_one(const OfficeStore& store, const model::Id& visit, const std::string& assets,
                             const model::Words* words) {
    const auto record = read_visit(store, visit);
    if (!record) {
        return record.problem();
    }
    const auto protocol = bundle::load_protocol(assets, record->protocol);
    if (!protocol) {
        return protocol.problem();
    }
    return words == nullptr ? report_json(*record, *protocol) + "\n"
                            : report_text(*record, *protocol, *words);
}

Result<std::vector<model::Id>> wanted_visits(const Arguments& arguments, const OfficeStore& store) {
    if (arguments.has("all")) {
        return store.visits();
    }
    if (arguments.plain().size() != 1) {
        return Problem{"show", "name one visit, or --all", "see crossarm-office --help"};
    }
    const auto visit = model::parse_id(arguments.plain().front(), "show");
    if (!visit) {
        return visit.problem();
    }
    return std::vector<model::Id>{*visit};
}

Ending run_show(const Arguments& arguments) {
    const auto path = arguments.needed("store");
    if (!path) {
        return could_not(path.problem());
    }
    const auto assets =
        arguments.has("assets") ? Result<std::string>(arguments.value("assets")) : bundle::assets_dir();
    if (!assets) {
        return could_not(assets.problem());
    }
    const auto words = bundle::load_words(*assets, "en");
    if (!words) {
        return could_not(words.problem());
    }
    const auto store = OfficeStore::open(*path, OfficeStore::Make::No);
    if (!store) {
        return could_not(store.problem());
    }
    const auto visits = wanted_visits(arguments, *store);
    if (!visits) {
        return could_not(visits.problem());
    }
    Ending ending;
    for (const model::Id& visit : *visits) {
        const auto shown = show_one(*store, visit, *assets, arguments.has("json") ? nullptr : &*words);
        if (!shown) {
            return could_not(shown.problem());
        }
        ending.out += (ending.out.empty() || arguments.has("json") ? "" : "\n") + *shown;
    }
    return ending;
}

Ending run_dump(const Arguments& arguments) {
    const auto store = open_store(arguments, OfficeStore::Make::No);
    if (!store) {
        return could_not(store.problem());
    }
    const auto content = dump(*store);
    return content ? Ending{0, *content, ""} : could_not(content.problem());
}

} // namespace

Ending could_not(const Problem& problem) {
    return {kCouldNot, "", model::to_text(problem) + "\n"};
}

Ending refused(const std::vector<Problem>& problems) {
    Ending ending{kRefused, "", ""};
    for (const Problem& problem : problems) {
        ending.err += model::to_text(problem) + "\n";
    }
    return ending;
}

Result<OfficeStore> open_store(const Arguments& arguments, OfficeStore::Make make) {
    const auto path = arguments.needed("store");
    if (!path) {
        return path.problem();
    }
    return OfficeStore::open(*path, make);
}

Ending run_command(const std::vector<std::string>& words, model::Timestamp now) {
    std::string out;
    std::string err;
    const Surroundings around{[now] { return now; }, [&out](const std::string& text) { out += text; },
                              [&err](const std::string& text) { err += text; }, [] { return true; }};
    const Ending ending = run_command(words, around);
    return {ending.code, out + ending.out, err + ending.err};
}

Ending run_command(const std::vector<std::string>& words, const Surroundings& around) {
    if (words.empty() || words.front() == "--help" || words.front() == "help") {
        return {words.empty() ? kCouldNot : 0,
                std::string(kHelp) + keeping_help() + key_help() + study_help() + kExitCodes, ""};
    }
    const std::string& name = words.front();
    if (const auto grammar = key_grammar(name)) {
        const auto arguments = Arguments::read({words.begin() + 1, words.end()}, *grammar);
        return arguments ? run_key_verb(name, *arguments, around.now()) : could_not(arguments.problem());
    }
    if (const auto grammar = keeping_grammar(name)) {
        const auto arguments = Arguments::read({words.begin() + 1, words.end()}, *grammar);
        return arguments ? run_keeping_verb(name, *arguments, around) : could_not(arguments.problem());
    }
    const Grammar grammar = name == "pack" ? Grammar{{"register", "people", "due", "earlier", "utility",
                                                      "number", "office", "at", "out", "store"},
                                                     {}}
                            : name == "intake"
                                ? Grammar{{"store", "wait"}, {"json", "again", "watch", "leave"}}
                            : name == "study"     ? study_grammar()
                            : name == "lettering" ? Grammar{{"register", "store", "structure"}, {}}
                            : name == "register"  ? Grammar{{"register", "store", "out"}, {}}
                                                  : Grammar{{"store", "assets"}, {"json", "all"}};
    const auto arguments = Arguments::read({words.begin() + 1, words.end()}, grammar);
    if (!arguments) {
        return could_not(arguments.problem());
    }
    if (name == "pack") {
        return run_pack(*arguments);
    }
    if (name == "intake") {
        return run_intake(*arguments, around);
    }
    if (name == "held") {
        return run_held(*arguments);
    }
    if (name == "show") {
        return run_show(*arguments);
    }
    if (name == "dump") {
        return run_dump(*arguments);
    }
    if (name == "lettering") {
        return run_lettering(*arguments);
    }
    if (name == "register") {
        return run_register(*arguments);
    }
    if (name == "study") {
        return run_study(*arguments, around.progress);
    }
    return could_not({name, "is not a command", "see crossarm-office --help"});
}

} // namespace crossarm::office
