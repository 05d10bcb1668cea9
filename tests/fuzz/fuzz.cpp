// Every file that enters, as libFuzzer targets in one program: CROSSARM_FUZZED names the target,
// tests/fuzz/run runs them all.
//
// A byte changed in a sealed file ends at its seal. So each kind of sealed file is two targets: the file as
// it comes, and "..._body", where what was changed is sealed anew and reaches the reader behind the seal.
#include "checklist/model/canonical.hpp"
#include "checklist/model/entry.hpp"
#include "checklist/model/limits.hpp"
#include "checklist/model/protocol.hpp"
#include "checklist/model/strokes.hpp"
#include "checklist/model/words.hpp"
#include "checklist/store/head_file.hpp"
#include "sync/bundle/bundle.hpp"
#include "sync/bundle/day_pack.hpp"
#include "sync/bundle/enrolment.hpp"
#include "sync/bundle/receipt.hpp"
#include "sync/bundle/sealed_json.hpp"
#include "sync/office/office_keys.hpp"
#include "sync/office/office_store.hpp"
#include "sync/office/register_csv.hpp"
#include "sync/office/register_file.hpp"
#include "sync/office/study_files.hpp"
#include "tests/support/sample_visit.hpp"
#include "tests/support/temp_store.hpp"
#include "tests/support/test_keys.hpp"

#include <nlohmann/json.hpp>

#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <string>
#include <string_view>

using namespace crossarm;

namespace {

constexpr model::Timestamp kNow{1'773'500'000'000, 60};
const std::string kDevice = tests::sample_device(1);

/// The office that takes in what passes the reader.
const office::OfficeStore& office_store() {
    static const tests::TempFolder folder;
    static const office::OfficeStore store =
        std::move(office::OfficeStore::open(folder.file("office.store"), office::OfficeStore::Make::Yes))
            .value();
    return store;
}

/// The body of a sealed file, or the bytes themselves.
std::string_view body_in(std::string_view bytes) {
    constexpr std::string_view kHead = R"({"body":)";
    if (!bytes.starts_with(kHead)) {
        return bytes;
    }
    bytes.remove_prefix(kHead.size());
    return bytes.substr(0, bytes.rfind(R"(,"seal":)"));
}

/// The body as JSON, when it is any.
nlohmann::json body_of(std::string_view bytes) {
    auto json = model::parse_json(body_in(bytes), "fuzzed");
    return json && json->is_object() ? std::move(json).value() : nlohmann::json();
}

void take(std::string_view bytes) {
    const auto read = bundle::read_bundle(bytes, "fuzzed", tests::ring_of(kDevice));
    if (!read) {
        model::require(!read.problem().what.empty() && !read.problem().remedy.empty(), "a reason is given");
        return;
    }
    auto& store = const_cast<office::OfficeStore&>(office_store());
    const auto taking = store.take(*read, bytes, kNow);
    model::require(taking.ok(), "the store goes on");
    if (taking->kind != office::Taking::Kind::Refused) {
        model::require(store.raw(read->digest).value() == bytes, "what was taken is there");
    }
}

void bundle_file(std::string_view bytes) {
    take(bytes);
}

void bundle_body(std::string_view bytes) {
    if (const auto body = body_of(bytes); body.is_object()) {
        take(bundle::seal_json(body, seal::Kind::Bundle, tests::key_of(kDevice)).bytes);
    }
}

/// The same with a chain of hashes that holds, so that changes reach the meaning of entries.
void bundle_entries(std::string_view bytes) {
    nlohmann::json body = body_of(bytes);
    if (!body.is_object() || !body.contains("entries") || !body["entries"].is_array()) {
        return;
    }
    std::map<nlohmann::json, std::string> heads;
    std::map<nlohmann::json, std::int64_t> seqs;
    for (auto& entry : body["entries"]) {
        if (!entry.is_object() || !entry.contains("device") || !entry.contains("kind") ||
            !entry.contains("data")) {
            continue;
        }
        std::string& head = heads[entry["device"]];
        entry["prev"] = head;
        entry["seq"] = ++seqs[entry["device"]];
        if (entry["kind"] == "signed" && entry["data"].is_object()) {
            entry["data"]["head"] = head;
        }
        head = model::hash_of(model::canonical(entry));
    }
    take(bundle::seal_json(body, seal::Kind::Bundle, tests::key_of(kDevice)).bytes);
}

void day_pack(std::string_view bytes) {
    (void)bundle::read_day_pack(bytes, "fuzzed", tests::office_ring());
}

void day_pack_body(std::string_view bytes) {
    if (const auto body = body_of(bytes); body.is_object()) {
        const auto sealed = bundle::seal_introduced_json(body, seal::Kind::DayPack, tests::office_key());
        const auto read = bundle::read_day_pack(sealed.bytes, "fuzzed", tests::office_ring());
        if (read) {
            const auto again = bundle::read_day_pack(bundle::write_day_pack(*read, tests::office_key()),
                                                     "written", tests::office_ring());
            model::require(again.ok(), "a pack that was read can be written and read again");
        }
    }
}

void receipt(std::string_view bytes) {
    (void)bundle::read_receipt(bytes, "fuzzed", tests::office_ring());
}

void receipt_body(std::string_view bytes) {
    if (const auto body = body_of(bytes); body.is_object()) {
        const auto sealed = bundle::seal_introduced_json(body, seal::Kind::Receipt, tests::office_key());
        (void)bundle::read_receipt(sealed.bytes, "fuzzed", tests::office_ring());
    }
}

void enrolment(std::string_view bytes) {
    (void)bundle::read_enrolment(bytes, "fuzzed");
}

void enrolment_body(std::string_view bytes) {
    if (const auto body = body_of(bytes); body.is_object()) {
        (void)bundle::read_enrolment(
            bundle::seal_introduced_json(body, seal::Kind::Enrolment, tests::key_of(kDevice)).bytes,
            "fuzzed");
    }
}

void json(std::string_view bytes) {
    const auto read = model::parse_json(bytes, "fuzzed");
    if (read) {
        const std::string text = model::canonical(*read);
        const auto again = model::parse_json(text, "canonical");
        model::require(again.ok() && model::canonical(*again) == text, "canonical text is a fixed point");
    }
}

void entry(std::string_view bytes) {
    const auto read = model::read_entry(bytes, "fuzzed");
    if (read) {
        const std::string text = model::to_canonical(*read);
        const auto again = model::read_entry(text, "canonical");
        model::require(again.ok() && *again == *read, "an entry reads back as it was");
        model::require(model::canonical(*model::parse_json(text, "canonical")) == text,
                       "its text is canonical");
    }
}

template<auto Read>
void csv(std::string_view bytes) {
    std::vector<model::Problem> problems;
    (void)Read(bytes, "fuzzed.csv", problems);
}

/// Files that are read by their names.
std::string file_with(std::string_view bytes, const std::string& name) {
    static const tests::TempFolder folder;
    tests::write_file(folder.file(name), std::string(bytes));
    return folder.file(name);
}

void register_file(std::string_view bytes) {
    (void)office::read_register({file_with(bytes, "register.json"), "", "", ""});
}

void study_csv(std::string_view bytes) {
    // The first line of each names its columns: whichever it is, the others refuse it.
    const std::string path = file_with(bytes, "study.csv");
    std::vector<model::Problem> problems;
    (void)office::read_study_files({path, path, path, path, path}, problems);
}

void protocol(std::string_view bytes) {
    (void)model::read_protocol(bytes, "fuzzed.json");
}

void limits(std::string_view bytes) {
    (void)model::read_limit_set(bytes, "fuzzed.json");
}

void words(std::string_view bytes) {
    model::Words words;
    if (words.add(bytes, "fuzzed.json")) {
        for (const std::string& key : words.keys()) {
            (void)words.say(model::Phrase{key, {{"limit", std::string("41 kV")}}});
        }
    }
}

void head_file(std::string_view bytes) {
    if (const auto head = store::read_head(bytes)) {
        model::require(store::to_text(*head) == bytes, "a head file has one text");
    }
}

using Target = void (*)(std::string_view);
const std::map<std::string, Target>& targets() {
    static const std::map<std::string, Target> all = {
        {"bundle", bundle_file},
        {"bundle_body", bundle_body},
        {"bundle_entries", bundle_entries},
        {"day_pack", day_pack},
        {"day_pack_body", day_pack_body},
        {"receipt", receipt},
        {"receipt_body", receipt_body},
        {"enrolment", enrolment},
        {"enrolment_body", enrolment_body},
        {"register_csv", csv<office::read_structures_csv>},
        {"people_csv", csv<office::read_people_csv>},
        {"utility_csv", csv<office::read_utility_csv>},
        {"due_csv", csv<office::read_due_csv>},
        {"earlier_csv", csv<office::read_earlier_csv>},
        {"register_json", register_file},
        {"study_csv", study_csv},
        {"protocol", protocol},
        {"limits", limits},
        {"words", words},
        {"json", json},
        {"entry", entry},
        {"head_file", head_file},
    };
    return all;
}

Target chosen() {
    const char* name = std::getenv("CROSSARM_FUZZED");
    const auto found = targets().find(name == nullptr ? "" : name);
    if (found == targets().end()) {
        std::fprintf(stderr, "CROSSARM_FUZZED names one of:\n");
        for (const auto& [known, target] : targets()) {
            std::printf("%s\n", known.c_str());
        }
        std::fflush(stdout); // libFuzzer ends the program in its own way
        std::exit(2);
    }
    return found->second;
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const Target target = chosen();
    target({reinterpret_cast<const char*>(data), size});
    return 0;
}
