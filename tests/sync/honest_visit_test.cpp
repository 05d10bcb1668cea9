// A visit done with care gives nothing to be told about haste: the invented scenario's, at a walking pace.
#include "checklist/visit/clock_facts.hpp"
#include "checklist/visit/haste.hpp"
#include "sync/office/register_file.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/temp_store.hpp"

#include <map>
#include <random>
#include <sstream>

using namespace crossarm;

namespace {

std::map<std::string, std::string> answers_of(const std::string& csv) {
    std::map<std::string, std::string> out;
    std::istringstream in(csv);
    for (std::string line; std::getline(in, line);) {
        const std::size_t comma = line.find(',');
        out[line.substr(0, comma)] = line.substr(comma + 1);
    }
    return out;
}

std::optional<model::Value> value_of(const model::Checkpoint& checkpoint, const std::string& text) {
    if (std::holds_alternative<model::GradeInput>(checkpoint.input)) {
        return model::Value(model::grade_of(text).value_or(model::Grade::Sound));
    }
    if (text.empty()) {
        return std::nullopt;
    }
    if (const auto* number = std::get_if<model::NumberInput>(&checkpoint.input)) {
        return model::Value(model::Quantity{std::stod(text), number->unit});
    }
    if (const auto* numbers = std::get_if<model::NumbersInput>(&checkpoint.input)) {
        model::Readings readings;
        std::istringstream in(text);
        for (double value = 0.0; in >> value;) {
            readings.values.push_back({value, numbers->unit});
        }
        return model::Value(readings);
    }
    return std::holds_alternative<model::ChoiceInput>(checkpoint.input) ? model::Value(model::Choice{{text}})
                                                                        : model::Value(model::Remark{text});
}

} // namespace

TEST_CASE("a visit done with care gives no facts about haste or the clock") {
    const std::string source = std::string(CROSSARM_SOURCE_DIR);
    const auto protocol =
        model::read_protocol(tests::read_file(source + "/assets/protocols/upkeep.json"), "upkeep.json");
    REQUIRE(protocol.ok());
    const std::string folder = source + "/demo/scenario/";
    const auto read = office::read_register(
        {folder + "register.csv", folder + "people.csv", folder + "due.csv", folder + "earlier.csv"});
    REQUIRE(read.problems.empty());
    auto answers = answers_of(tests::read_file(folder + "visit.csv"));
    std::mt19937 random(11);
    for (int pace = 0; pace < 20; ++pace) {
        std::vector<model::Entry> entries;
        model::Timestamp at{1'795'590'000'000, 0};
        const auto add = [&](const model::Body& body) {
            model::Entry entry;
            entry.id.bytes[15] = static_cast<std::uint8_t>(entries.size());
            entry.device = "tablet";
            entry.seq = static_cast<std::int64_t>(entries.size()) + 1;
            at.utc_ms += 3'000 + static_cast<std::int64_t>(random() % 90'000);
            entry.at = at;
            entry.by = "P-011";
            entry.body = body;
            entries.push_back(entry);
        };
        add(model::Opened{"QM-0101", protocol->id, protocol->digest, 1});
        for (const model::Checkpoint& checkpoint : protocol->checkpoints) {
            if (auto value = value_of(checkpoint, answers[checkpoint.id])) {
                add(model::Found{{checkpoint.part, checkpoint.id, std::move(*value), "", ""}, {}});
            }
        }
        REQUIRE(entries.size() > 90);
        for (const auto& fact : visit::haste(*protocol, read.reg, entries)) {
            FAIL_CHECK(fact.says.key);
        }
        CHECK(visit::clock_facts(entries, at).empty());
    }
}
