#include "sync/office/key_verbs.hpp"

#include "sync/bundle/atomic_file.hpp"
#include "sync/bundle/enrolment.hpp"
#include "sync/office/office_keys.hpp"
#include "sync/office/receipts.hpp"
#include "sync/office/verbs.hpp"
#include "sync/office/verify_files.hpp"

namespace crossarm::office {

namespace {

using model::Problem;
using model::Result;

constexpr const char* kHelp = R"(
crossarm-office key --store FILE [--change]
    Prints the fingerprint of the key that this office seals with; the key is
    made at first use. A person reads it out to whoever pins it on a tablet.
    --change makes another one, which the one before vouches for.
crossarm-office enrol --store FILE ENROLMENT --fingerprint "DIGITS" --by NAME
    Pins a tablet's key when the 25 digits typed are those of the file. They are
    the digits on the tablet's screen, read out by whoever holds it: comparing
    them with what this program prints proves nothing.
crossarm-office tablets --store FILE
    Lists the tablets that are enrolled.
crossarm-office revoke --store FILE TABLET --from TIME --reason TEXT
    Takes nothing more in that this tablet seals, from TIME on. What was taken
    before stays.
crossarm-office receipt --store FILE TABLET --office NAME --out FILE
    Tells a tablet what the office holds. A day pack brings the same.
crossarm-office verify [--store FILE] FILE...
    Says of each bundle, day pack, receipt or enrolment whether it is whole;
    with the office store, also whether it comes from one of its tablets or
    from itself.
)";

Result<OfficeStore> store_of(const Arguments& arguments, OfficeStore::Make make) {
    const auto path = arguments.needed("store");
    if (!path) {
        return path.problem();
    }
    return OfficeStore::open(*path, make);
}

Result<std::string> the_one(const Arguments& arguments, const char* what) {
    if (arguments.plain().size() != 1) {
        return Problem{what, "it has to be named, once", "see crossarm-office --help"};
    }
    return arguments.plain().front();
}

Ending run_key(const Arguments& arguments, model::Timestamp now) {
    const auto store = store_of(arguments, OfficeStore::Make::Yes);
    if (!store) {
        return could_not(store.problem());
    }
    const auto key = arguments.has("change") ? change_office_key(*store, now) : office_key(*store, now);
    if (!key) {
        return could_not(key.problem());
    }
    return {0,
            "office key " + key->pair.id().substr(0, 8) + ", fingerprint " +
                seal::fingerprint(key->pair.public_key()) + "\n",
            ""};
}

Ending run_enrol(const Arguments& arguments, model::Timestamp now) {
    const auto file = the_one(arguments, "the enrolment file");
    const auto digits = arguments.needed("fingerprint");
    const auto by = arguments.needed("by");
    for (const auto* text : {&file, &digits, &by}) {
        if (!text->ok()) {
            return could_not(text->problem());
        }
    }
    const auto bytes = bundle::read_whole(*file);
    if (!bytes) {
        return could_not(bytes.problem());
    }
    const auto read = bundle::read_enrolment(*bytes, *file);
    if (!read) {
        return {kRefused, "", model::to_text(read.problem()) + "\n"};
    }
    if (!seal::is_fingerprint(*digits, read->key)) {
        // The right digits are not printed: they have to come from the tablet's screen.
        const Problem problem{"--fingerprint",
                              "these are not the digits of the key in " + *file + "; nothing was pinned",
                              "compare again with the tablet's screen; if they differ, the file is not that "
                              "tablet's: do not use it"};
        return {kRefused, "", model::to_text(problem) + "\n"};
    }
    const auto store = store_of(arguments, OfficeStore::Make::Yes);
    if (!store) {
        return could_not(store.problem());
    }
    const KnownTablet tablet{read->enrolment.device, read->enrolment.life, read->key, *by, now};
    if (auto pinned = pin_tablet(*store, tablet); !pinned) {
        return {kRefused, "", model::to_text(pinned.problem()) + "\n"};
    }
    return {0,
            "tablet " + tablet.device + ", life " + std::to_string(tablet.life) + ": enrolled, compared by " +
                *by + "\n",
            ""};
}

Ending run_tablets(const Arguments& arguments) {
    const auto store = store_of(arguments, OfficeStore::Make::No);
    const auto known = store ? tablets(*store) : store.problem();
    if (!known) {
        return could_not(known.problem());
    }
    Ending ending;
    for (const KnownTablet& tablet : *known) {
        ending.out += tablet.device + "  life " + std::to_string(tablet.life) + "  " +
                      seal::fingerprint(tablet.key) + "  enrolled " + model::to_text(tablet.pinned_at) +
                      " by " + tablet.pinned_by;
        if (tablet.revoked_from) {
            ending.out +=
                "  REVOKED from " + model::to_text(*tablet.revoked_from) + ": " + tablet.revoked_why;
        }
        ending.out += "\n";
    }
    return ending;
}

Ending run_revoke(const Arguments& arguments) {
    const auto device = the_one(arguments, "the tablet");
    const auto from_text = arguments.needed("from");
    const auto why = arguments.needed("reason");
    for (const auto* text : {&device, &from_text, &why}) {
        if (!text->ok()) {
            return could_not(text->problem());
        }
    }
    const auto from = model::parse_timestamp(*from_text, "--from");
    if (!from) {
        return could_not(from.problem());
    }
    const auto store = store_of(arguments, OfficeStore::Make::No);
    if (!store) {
        return could_not(store.problem());
    }
    if (auto revoked = revoke_tablet(*store, *device, *from, *why); !revoked) {
        return {kRefused, "", model::to_text(revoked.problem()) + "\n"};
    }
    return {0, "tablet " + *device + ": revoked from " + model::to_text(*from) + " on\n", ""};
}

Ending run_receipt(const Arguments& arguments, model::Timestamp now) {
    const auto device = the_one(arguments, "the tablet");
    const auto office = arguments.needed("office");
    const auto out = arguments.needed("out");
    for (const auto* text : {&device, &office, &out}) {
        if (!text->ok()) {
            return could_not(text->problem());
        }
    }
    const auto store = store_of(arguments, OfficeStore::Make::No);
    const auto file =
        store ? make_receipt_file(*store, *device, *office, now) : Result<std::string>(store.problem());
    if (!file) {
        return could_not(file.problem());
    }
    if (auto written = bundle::write_atomically(*out, *file); !written) {
        return could_not(written.problem());
    }
    return {0, *out + ": receipt for tablet " + *device + "\n", ""};
}

Ending run_verify(const Arguments& arguments, model::Timestamp now) {
    if (arguments.plain().empty()) {
        return could_not({"verify", "name at least one file", "see crossarm-office --help"});
    }
    std::optional<Keys> keys;
    if (arguments.has("store")) {
        const auto store = store_of(arguments, OfficeStore::Make::No);
        auto known = store ? keys_of(*store, now) : Result<Keys>(store.problem());
        if (!known) {
            return could_not(known.problem());
        }
        keys = std::move(*known);
    }
    Ending ending;
    for (const std::string& file : arguments.plain()) {
        const auto verified = verify_file(file, keys ? &*keys : nullptr);
        ending.out += verified ? *verified + "\n" : "";
        ending.err += verified ? "" : model::to_text(verified.problem()) + "\n";
        ending.code = verified ? ending.code : kRefused;
    }
    return ending;
}

} // namespace

const char* key_help() {
    return kHelp;
}

std::optional<Grammar> key_grammar(std::string_view verb) {
    if (verb == "key") {
        return Grammar{{"store"}, {"change"}};
    }
    if (verb == "enrol") {
        return Grammar{{"store", "fingerprint", "by"}, {}};
    }
    if (verb == "tablets" || verb == "verify") {
        return Grammar{{"store"}, {}};
    }
    if (verb == "revoke") {
        return Grammar{{"store", "from", "reason"}, {}};
    }
    if (verb == "receipt") {
        return Grammar{{"store", "office", "out"}, {}};
    }
    return std::nullopt;
}

Ending run_key_verb(std::string_view verb, const Arguments& arguments, model::Timestamp now) {
    return verb == "key"       ? run_key(arguments, now)
           : verb == "enrol"   ? run_enrol(arguments, now)
           : verb == "tablets" ? run_tablets(arguments)
           : verb == "revoke"  ? run_revoke(arguments)
           : verb == "receipt" ? run_receipt(arguments, now)
                               : run_verify(arguments, now);
}

} // namespace crossarm::office
