// Files that must be taken, and files that must be refused with exactly the message beside them.
#include "sync/bundle/atomic_file.hpp"
#include "sync/bundle/bundle.hpp"
#include "sync/bundle/day_pack.hpp"
#include "sync/bundle/structure_fields.hpp"
#include "sync/office/register_file.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/sample_visit.hpp"
#include "tests/support/temp_store.hpp"
#include "tests/support/test_keys.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <sys/wait.h>

using namespace crossarm;
namespace fs = std::filesystem;

namespace {

const std::string kData = CROSSARM_TEST_DATA;
const std::string kSchemas = std::string(CROSSARM_SOURCE_DIR) + "/assets/schemas/";

/// The reader's message, a line each; "" when the file was taken.
std::string refusal(const fs::path& path) {
    const std::string kind = path.parent_path().filename().string();
    const std::string name = path.filename().string();
    std::string out;
    if (kind == "register") {
        for (const auto& problem : office::read_register({path.string(), "", "", ""}).problems) {
            out += model::to_text(problem) + "\n";
        }
        // A register that is read but says nothing is named by its whole path.
        const std::size_t folder = out.find(path.parent_path().string() + "/");
        return folder == 0 ? out.substr(path.parent_path().string().size() + 1) : out;
    }
    const auto bytes = bundle::read_whole(path.string());
    REQUIRE(bytes.ok());
    if (kind == "bundle") {
        const auto read = bundle::read_bundle(*bytes, name, tests::ring_of(tests::sample_device(1)));
        return read ? out : model::to_text(read.problem()) + "\n";
    }
    const auto read = bundle::read_day_pack(*bytes, name, tests::office_ring());
    return read ? out : model::to_text(read.problem()) + "\n";
}

std::vector<fs::path> files_in(const std::string& folder) {
    std::vector<fs::path> files;
    for (const auto& entry : fs::directory_iterator(kData + "/" + folder)) {
        if (entry.path().extension() != ".txt") {
            files.push_back(entry.path());
        }
    }
    REQUIRE_FALSE(files.empty());
    return files;
}

/// True when the independent look at files ("take" or "refuse") finds what it should; says so when it cannot
/// look.
bool look_at(const std::string& what, const std::string& schema, const std::string& files) {
    const std::string command =
        "python3 " + kData + "/sync/schema_check.py " + what + " " + kSchemas + schema + files;
    const int status = std::system(command.c_str());
    const int code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    if (code == 77) {
        WARN("python3-jsonschema is not installed: not compared");
    }
    return code == 0 || code == 77;
}

} // namespace

TEST_CASE("every file in refuse is refused with the message beside it") {
    std::size_t files = 0;
    for (const char* kind : {"bundle", "day_pack", "register"}) {
        for (const fs::path& path : files_in(std::string("refuse/") + kind)) {
            INFO(path.string());
            CHECK(refusal(path) == tests::read_file(path.string() + ".txt"));
            ++files;
        }
    }
    CHECK(files >= 80);
}

TEST_CASE("every file in accept is taken") {
    for (const char* kind : {"bundle", "day_pack", "register"}) {
        for (const fs::path& path : files_in(std::string("accept/") + kind)) {
            INFO(path.string());
            CHECK(refusal(path).empty());
        }
    }
}

TEST_CASE("the program writes the bundle of the first version still as it was written then") {
    CHECK(bundle::write_bundle(tests::sample_bundle(1), tests::key_of(tests::sample_device(1))).bytes ==
          tests::read_file(kData + "/accept/bundle/visit.bundle"));
}

TEST_CASE("other programs find the same digest and text, and the schemas take what the program writes") {
    const tests::TempFolder folder;
    std::string bundles = " " + kData + "/accept/bundle/visit.bundle";
    for (unsigned seed = 0; seed < 5; ++seed) {
        const std::string path = folder.file(std::to_string(seed) + ".json");
        tests::write_file(
            path,
            bundle::write_bundle(tests::sample_bundle(seed), tests::key_of(tests::sample_device(1))).bytes);
        bundles += " " + path;
    }
    CHECK(look_at("take", "bundle.schema.json", bundles));
    CHECK(look_at("take", "day_pack.schema.json",
                  " " + kData + "/accept/day_pack/round.pack " + kData + "/accept/day_pack/briefing.pack"));
}

TEST_CASE("the schemas refuse what the reader refuses for its shape") {
    std::string bundles;
    for (const char* name : {"no_entries", "photo", "prev_no_digest", "protocol_digest_short",
                             "rating_missing", "rating_too_large", "seq_not_whole", "seq_zero",
                             "unknown_member", "verdict_grade_unknown", "visit_missing", "visit_no_uuid",
                             "state_unknown", "entry_member_unknown", "entry_time_wrong", "other_format"}) {
        bundles += " " + kData + "/refuse/bundle/" + name + ".bundle";
    }
    CHECK(look_at("refuse", "bundle.schema.json", bundles));
    std::string packs;
    for (const char* name : {"number_zero", "office_missing", "time_wrong", "due_kind_unknown",
                             "role_unknown", "rating_wrong_name", "voltage_as_text", "earlier_two_values",
                             "limit_without_clause", "unknown_member", "other_format", "competence_unknown",
                             "competence_no_day", "call_too_long", "hospital_minutes_zero"}) {
        packs += " " + kData + "/refuse/day_pack/" + name + ".pack";
    }
    CHECK(look_at("refuse", "day_pack.schema.json", packs));
}

TEST_CASE("the schemas give a structure's facts the ranges that the reader has") {
    for (const char* file : {"bundle.schema.json", "day_pack.schema.json"}) {
        const auto schema = nlohmann::json::parse(tests::read_file(kSchemas + file));
        const auto& structure = schema["definitions"]["structure"];
        const auto& required = structure["required"];
        CHECK(structure["properties"].size() == bundle::structure_fields().size());
        for (const auto& field : bundle::structure_fields()) {
            INFO(file << " " << field.name);
            REQUIRE(structure["properties"].contains(field.name));
            const auto& property = structure["properties"][field.name];
            CHECK(field.needed ==
                  (std::find(required.begin(), required.end(), field.name) != required.end()));
            if (bundle::is_number(field)) {
                CHECK(property["minimum"].get<double>() == field.low);
                CHECK(property["maximum"].get<double>() == field.high);
            } else if (!field.words.empty()) {
                CHECK(property["enum"].size() == field.words.size());
            } else if (!bundle::is_yes_no(field)) {
                CHECK(property["maxLength"].get<double>() == field.high);
            }
        }
    }
}
