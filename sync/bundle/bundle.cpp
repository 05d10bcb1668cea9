#include "sync/bundle/bundle.hpp"

#include "checklist/model/canonical.hpp"
#include "checklist/model/digest.hpp"
#include "checklist/model/json_reader.hpp"
#include "sync/bundle/bundle_entries.hpp"
#include "sync/bundle/structure_fields.hpp"
#include "sync/bundle/utf8.hpp"
#include "sync/bundle/verdict_json.hpp"

#include <nlohmann/json.hpp>

namespace crossarm::bundle {

namespace {

using Json = nlohmann::json;
using model::JsonReader;
using model::Problem;
using model::Result;

constexpr const char* kFormat = "crossarm.bundle/1";
constexpr std::int64_t kMostCount = 9'007'199'254'740'991;
constexpr std::size_t kMostEntries = 5'000;
constexpr std::string_view kEntries = R"("entries":[)";

std::int64_t count(const JsonReader& reader, const char* name, std::int64_t low) {
    const std::int64_t number = reader.integer(name);
    if (number < low || number > kMostCount) {
        reader.wrong(name, std::to_string(number) + " is less than " + std::to_string(low),
                     "write the bundle again on the tablet");
    }
    return number;
}

std::string digest(const JsonReader& reader, const char* name, bool may_be_empty) {
    std::string text = reader.text(name);
    if (!model::is_hex(text, 64) && !(may_be_empty && text.empty())) {
        reader.wrong(name, in_quotes(text) + " is not a SHA-256 of 64 hexadecimal digits",
                     "write the bundle again on the tablet");
    }
    return text;
}

Bundle read_shape(const JsonReader& reader) {
    reader.only({"format", "device", "life", "seq", "prev", "visit", "revision", "state", "protocol",
                 "engine", "register", "entries", "verdicts", "dayPack", "photos"});
    Bundle bundle;
    bundle.device = reader.text("device");
    if (!is_plain_id(bundle.device)) {
        reader.wrong("device", in_quotes(bundle.device) + " is not a tablet's id",
                     "write the bundle again on the tablet");
    }
    bundle.life = count(reader, "life", 1);
    bundle.seq = count(reader, "seq", 1);
    bundle.prev = digest(reader, "prev", /*may_be_empty=*/true);
    if (bundle.prev.empty() != (bundle.seq == 1)) {
        reader.wrong("prev", "bundle 1 has no bundle before it, and every other has one",
                     "write the bundle again on the tablet");
    }
    bundle.visit = reader.id("visit");
    bundle.revision = count(reader, "revision", 1);
    const std::string state = reader.text("state");
    if (state != "closed" && state != "open") {
        reader.wrong("state", in_quotes(state) + " is not \"closed\" or \"open\"",
                     "write the bundle again on the tablet");
    }
    bundle.is_open = state == "open";
    const JsonReader protocol = reader.object("protocol");
    protocol.only({"id", "digest"});
    bundle.protocol = protocol.text("id");
    bundle.protocol_digest = digest(protocol, "digest", /*may_be_empty=*/false);
    bundle.engine = reader.text("engine");
    bundle.day_pack = count(reader, "dayPack", 0);
    bundle.structure = read_structure(reader.object("register"));
    for (const JsonReader& item : reader.objects("verdicts")) {
        bundle.verdicts.push_back(read_assessed(item));
    }
    const auto entries = reader.objects("entries");
    if (entries.empty() || entries.size() > kMostEntries) {
        reader.wrong("entries", std::to_string(entries.size()) + " entries; a visit has 1 to 5000",
                     "write the bundle again on the tablet");
    }
    if (!reader.objects("photos").empty()) {
        reader.wrong("photos", "photos are not taken yet", "install the version that takes photos");
    }
    return bundle;
}

model::Done check_owner(const Bundle& bundle, const seal::Owner& owner, const std::string& place) {
    if (owner == seal::Owner{seal::Owner::Kind::Tablet, bundle.device, bundle.life}) {
        return {};
    }
    const bool is_tablet = owner.kind == seal::Owner::Kind::Tablet;
    return Problem{
        place + "/device",
        "the bundle speaks for life " + std::to_string(bundle.life) + " of tablet " + bundle.device +
            ", but its key is that of " +
            (is_tablet ? "life " + std::to_string(owner.life) + " of tablet " + owner.name : "an office"),
        "ask who wrote it; a tablet seals in its own name only"};
}

} // namespace

Sealed write_bundle(const Bundle& bundle, const seal::KeyPair& key) {
    Json entries = Json::array();
    for (const std::string& text : bundle.entries) {
        entries.push_back(Json::parse(text));
    }
    Json verdicts = Json::array();
    for (const visit::Assessed& assessed : bundle.verdicts) {
        verdicts.push_back(to_json(assessed));
    }
    const Json body = {{"format", kFormat},
                       {"device", bundle.device},
                       {"life", bundle.life},
                       {"seq", bundle.seq},
                       {"prev", bundle.prev},
                       {"visit", model::to_text(bundle.visit)},
                       {"revision", bundle.revision},
                       {"state", bundle.is_open ? "open" : "closed"},
                       {"protocol", {{"id", bundle.protocol}, {"digest", bundle.protocol_digest}}},
                       {"engine", bundle.engine},
                       {"dayPack", bundle.day_pack},
                       {"register", to_json(bundle.structure)},
                       {"entries", std::move(entries)},
                       {"verdicts", std::move(verdicts)},
                       {"photos", Json::array()}};
    return seal_json(body, seal::Kind::Bundle, key);
}

Result<ReadBundle> read_bundle(std::string_view bytes, std::string_view file, const seal::KeyRing& ring) {
    auto sealed = open_sealed(bytes, file, seal::Kind::Bundle, kFormat, ring);
    if (!sealed) {
        return sealed.problem();
    }
    const std::string place = std::string(file) + ": /body";
    const JsonReader reader(sealed->body, place);
    ReadBundle read{read_shape(reader), sealed->seal.digest, {}, {}};
    if (reader.failed()) {
        return reader.problem();
    }
    if (auto owned = check_owner(read.bundle, sealed->by.owner, place); !owned) {
        return owned.problem();
    }
    Json& entries = sealed->body["entries"];
    // Where they begin in the canonical text: a quote within a text is escaped there, and the members before
    // this one are texts and numbers.
    std::string_view rest = sealed->text.substr(sealed->text.find(kEntries) + kEntries.size());
    for (std::size_t i = 0; i < entries.size(); ++i) {
        const std::string at = place + "/entries/" + std::to_string(i);
        auto entry = model::entry_from_json(entries[i], at);
        if (!entry) {
            return entry.problem();
        }
        entries[i] = nullptr; // a bundle may be large: nothing is held twice
        const std::string text = model::to_canonical(*entry);
        // What the fold sees must be all that the chain vouches for.
        if (!rest.starts_with(text)) {
            return Problem{at, "the entry holds more than this version reads",
                           "install the version that wrote the bundle"};
        }
        read.entries.push_back(std::move(entry).value());
        read.hashes.push_back(model::hash_of(text));
        read.bundle.entries.emplace_back(rest.substr(0, text.size()));
        rest.remove_prefix(text.size() + 1);
    }
    if (auto checked = check_entries(read.bundle, read.entries, read.hashes, place + "/entries"); !checked) {
        return checked.problem();
    }
    return read;
}

} // namespace crossarm::bundle
