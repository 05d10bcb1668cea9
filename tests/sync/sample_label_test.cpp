// The label on a sample's bottle: every field, escaped, and empty lines where nothing is known.
#include "sync/bundle/sample_label.hpp"

#include "sync/bundle/assets.hpp"
#include "tests/support/catch.hpp"

#include <map>
#include <set>

using namespace crossarm;

namespace {

struct Bottle {
    model::Structure structure;
    visit::State state;
    std::vector<model::Person> people = {{"P-011", "Jory Pellam", {"crew"}}};
    std::string owner = "Quillmere Valley Power Cooperative, Tollgate depot";
    std::string reason = "Yearly";
    std::string tests = "Breakdown, water";
    std::string liquid = "Mineral oil";

    Bottle() {
        structure.id = "QM-0101";
        structure.name = "Weir Cottages";
        structure.feeder = "Osier Lane";
        structure.plate.rating_kVA = 100.0;
        structure.plate.make = "Alderworks";
        structure.plate.serial = "AL-09-4100";
        structure.plate.made_year = 2009;
        structure.plate.oil_litres = 140.0;
    }
    void answer(const std::string& checkpoint, model::Value value) {
        visit::Answer answer;
        answer.at = *model::parse_timestamp("2026-11-25T10:42:00+05:30", "at");
        answer.by = "P-011";
        answer.finding = {"oil", checkpoint, std::move(value), "", ""};
        state.answers[checkpoint] = answer;
    }
    void permit(const std::string& number) {
        visit::permit::Party party;
        party.ever_accepted = true;
        state.permit.number = number;
        state.permit.parties = {party};
    }
    void answer_all() {
        answer("oil.sample_id", model::Remark{"QM-0101-261125-1"});
        answer("oil.drawn", model::Choice{{"bottom_valve"}});
        answer("oil.bottle", model::Choice{{"glass"}});
        answer("oil.weather", model::Choice{{"dry"}});
        answer("oil.pcb", model::Choice{{"below_50"}});
        answer("oil.temperature", model::Quantity{31.0, model::Unit::Celsius});
        answer("oil.humidity", model::Quantity{46.0, model::Unit::Percent});
        answer("oil.flushed", model::Quantity{0.8, model::Unit::Litre});
        permit("QV 2611");
    }
    [[nodiscard]] std::string page() const {
        const std::string assets = *bundle::assets_dir();
        const auto words = *bundle::load_words(assets, "en");
        const auto protocol = *bundle::load_protocol(assets, "upkeep");
        return bundle::sample_label({structure, state, protocol, people,
                                     *model::parse_date("2026-11-25", "printed"), owner, reason, tests,
                                     liquid},
                                    words);
    }
};

// The lines of the label by the name that stands over them.
std::map<std::string, std::string> lines_of(const std::string& page) {
    std::map<std::string, std::string> lines;
    for (std::size_t at = page.find("<dt>"); at != std::string::npos; at = page.find("<dt>", at + 1)) {
        const std::size_t name_end = page.find("</dt><dd>", at);
        const std::size_t value_end = page.find("</dd>", name_end);
        lines[page.substr(at + 4, name_end - at - 4)] = page.substr(name_end + 9, value_end - name_end - 9);
    }
    return lines;
}

const std::string kGap = "\xC2\xA0"; // no-break space between number and unit

} // namespace

TEST_CASE("The label has every line that a laboratory asks for") {
    // IEC 60475:2011 cl. 4.3, from memory.
    Bottle bottle;
    bottle.answer_all();
    const std::string page = bottle.page();
    const std::map<std::string, std::string> expected = {
        {"Owner and depot", "Quillmere Valley Power Cooperative, Tollgate depot"},
        {"Structure", "QM-0101, Weir Cottages"},
        {"Feeder", "Osier Lane"},
        {"Transformer, serial no.", "Alderworks, AL-09-4100"},
        {"Year of make", "2009"},
        {"Rating, voltages", "100" + kGap + "kVA, 11" + kGap + "kV / 433" + kGap + "V"},
        {"Liquid, volume in the tank", "Mineral oil, 140" + kGap + "L"},
        {"PCB", "Tested, below 50 mg/kg"},
        {"Sampling point", "Bottom valve, after flushing"},
        {"Flushed before", "0.8" + kGap + "L"},
        {"Sampled on", "Wed 25 Nov 2026, 10:42"},
        {"Sampled by", "Jory Pellam"},
        {"Oil temperature at sampling", "31" + kGap + "°C"},
        {"Energised at sampling?", "Isolated under permit QV 2611"},
        {"Air humidity", "46" + kGap + "%"},
        {"Weather", "Dry and still"},
        {"Container", "Brown glass"},
        {"Reason for the sample", "Yearly"},
        {"Tests wanted", "Breakdown, water"},
    };
    CHECK(lines_of(page) == expected);
    CHECK(page.find("<h1>Oil sample: QM-0101-261125-1</h1>") != std::string::npos);
    CHECK(page.find("@page{size:100mm 70mm") != std::string::npos);
}

TEST_CASE("What is not known stays as an empty line, and nothing is made up") {
    Bottle bottle;
    bottle.answer_all();
    const std::size_t all = lines_of(bottle.page()).size();
    Bottle bare;
    bare.structure.name = bare.structure.feeder = "";
    bare.structure.plate.make = bare.structure.plate.serial = "";
    bare.structure.plate.made_year.reset();
    bare.structure.plate.oil_litres.reset();
    bare.owner = bare.reason = bare.tests = bare.liquid = "";
    bare.answer("oil.temperature", model::OutOfReach{"no thermometer"});
    const auto lines = lines_of(bare.page());
    CHECK(lines.size() == all);
    for (const auto& [name, value] : lines) {
        INFO(name);
        const bool known = name == "Structure" || name == "Rating, voltages" || name == "Sampled on";
        CHECK(value.empty() != known);
    }
    CHECK(lines.at("Sampled on") == "25 Nov 2026");
}

TEST_CASE("Nothing that was typed becomes part of the page") {
    Bottle bottle;
    bottle.answer_all();
    const std::string evil = "<script>\"x\" & 'y'</script>\n\t\x01";
    const std::string tame = "&lt;script&gt;&quot;x&quot; &amp; &#39;y&#39;&lt;/script&gt;   ";
    bottle.structure.name = bottle.structure.feeder = bottle.structure.plate.serial = evil;
    bottle.owner = bottle.reason = bottle.tests = bottle.liquid = evil;
    bottle.people[0].name = evil;
    bottle.answer("oil.sample_id", model::Remark{evil});
    bottle.permit(evil);
    const std::string page = bottle.page();
    CHECK(page.find("<script") == std::string::npos);
    CHECK(page.find("'y'") == std::string::npos);
    CHECK(lines_of(page).at("Sampled by") == tame);
    CHECK(lines_of(page).at("Energised at sampling?") == "Isolated under permit " + tame);
    CHECK(page.find("http") == std::string::npos); // the page asks nothing of a network
}

TEST_CASE("A sample's number is the structure, the day there, and a running number") {
    const auto at = *model::parse_timestamp("2026-11-25T23:30:00+05:30", "at");
    const std::string first = bundle::suggested_sample_id("QM-0101", at);
    CHECK(first == "QM-0101-261125-1");
    CHECK(bundle::suggested_sample_id("QM-0102", at) != first);
    std::vector<std::string> taken;
    for (int i = 0; i < 30; ++i) {
        taken.push_back(bundle::suggested_sample_id("QM-0101", at, taken));
    }
    CHECK(std::set<std::string>(taken.begin(), taken.end()).size() == 30);
    CHECK(taken.back() == "QM-0101-261125-30");
    // The day at the place, not in Greenwich.
    CHECK(bundle::suggested_sample_id(
              "QM-0101", *model::parse_timestamp("2026-11-26T00:30:00+05:30", "at")) == "QM-0101-261126-1");
}
