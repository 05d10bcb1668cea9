#include "sync/office/register_file.hpp"

#include "sync/office/csv.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/temp_store.hpp"

using namespace crossarm;

namespace {

const std::string kHeader = "id,name,feeder,latitude,longitude,support,pole,customers,critical_customers,"
                            "note,hospital,hospital_minutes,rating_kVA,hv_kV,lv_V,make,"
                            "serial,made_year,impedance_percent,oil_litres,mass_kg,no_load_loss_W,load_loss_"
                            "W,top_oil_rise_K,vector_group,"
                            "conservator,breather,gel_kg,hv_fuse,lv_breaker\n";
const std::string kGood =
    "QM-0101,Weir Cottages,Osier Lane,-47.11228,-121.404,two-pole,wood,42,1,\"Slope, \"\"slippery\"\" after "
    "rain\",Tollgate Infirmary,35,100,11,"
    "433,Harrow & Dene,HD-1,2004,4.5,135,640,210,1500,45,Dyn11,yes,blue,0.5,16 K,200 A MCCB\r\n";
const std::string kBare =
    "QM-0102,Mühle,Tollgate,47.5,8.25,single-pole,steel,0,,,,,25,11,433,,,,,,,,,,,no,,,,\n";

std::string with(std::string row, const std::string& from, const std::string& to) {
    const std::size_t at = row.find(from);
    REQUIRE(at != std::string::npos);
    return row.replace(at, from.size(), to);
}

std::vector<std::string> problems_of(const office::RegisterRead& read) {
    std::vector<std::string> out;
    for (const auto& problem : read.problems) {
        out.push_back(model::to_text(problem));
    }
    return out;
}

struct Files {
    tests::TempFolder folder;
    office::RegisterFiles files;

    explicit Files(const std::string& text, const std::string& name = "register.csv") {
        files.reg = add(name, text);
    }
    std::string add(const std::string& name, const std::string& text) {
        tests::write_file(folder.file(name), text);
        return folder.file(name);
    }
    [[nodiscard]] office::RegisterRead read() const { return office::read_register(files); }
};

} // namespace

TEST_CASE("CSV cells as RFC 4180 section 2 has them") {
    struct Case {
        std::string text;
        std::vector<office::CsvRow> rows;
    };
    const std::vector<Case> cases = {
        {"aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n",
         {{1, {"aaa", "bbb", "ccc"}}, {2, {"zzz", "yyy", "xxx"}}}},                               // rule 1
        {"aaa,bbb,ccc\r\nzzz,yyy,xxx", {{1, {"aaa", "bbb", "ccc"}}, {2, {"zzz", "yyy", "xxx"}}}}, // rule 2
        {"\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx",
         {{1, {"aaa", "bbb", "ccc"}}, {2, {"zzz", "yyy", "xxx"}}}}, // rule 5
        {"\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx",
         {{1, {"aaa", "b\r\nbb", "ccc"}}, {3, {"zzz", "yyy", "xxx"}}}},  // rule 6
        {"\"aaa\",\"b\"\"bb\",\"ccc\"", {{1, {"aaa", "b\"bb", "ccc"}}}}, // rule 7
        {"a,,\n\n ,b , c\n", {{1, {"a", "", ""}}, {3, {"", "b", "c"}}}}, // our own: blanks, empty lines
        {"\xEF\xBB\xBF"
         "a\rb\n",
         {{1, {"a"}}, {2, {"b"}}}}, // our own: mark, lone CR
    };
    for (const Case& one : cases) {
        std::vector<model::Problem> problems;
        CHECK(office::read_csv(one.text, "t.csv", problems) == one.rows);
        CHECK(problems.empty());
    }
}

TEST_CASE("CSV that cannot be read names file and line") {
    struct Case {
        std::string text, expected;
    };
    const std::vector<Case> cases = {
        {"", "t.csv:1: the file is empty; give a file with a header row and one row each"},
        {"\n\n", "t.csv:1: the file is empty; give a file with a header row and one row each"},
        {"a,b\n1,\"2", "t.csv:2: a quote is opened here and never closed; close it at the end of the cell"},
        {"a,b\n1,2\"\"",
         "t.csv:2: a quote stands within a cell that does not begin with one; put the whole cell in "
         "quotes and write each quote in it twice"},
        {"a\n\"1\"2\n",
         "t.csv:2: something stands between a closing quote and the next comma; put the whole cell in "
         "quotes and write each quote in it twice"},
        {"a\nM\xFChle\n", "t.csv:2: byte 2 of the line is not UTF-8; save the file as UTF-8"},
        {std::string("a\n1\0\n", 5), "t.csv:2: there is a NUL byte in the line; save the file as text"},
    };
    for (const Case& one : cases) {
        std::vector<model::Problem> problems;
        (void)office::read_csv(one.text, "t.csv", problems);
        REQUIRE(problems.size() == 1);
        CHECK(model::to_text(problems.front()) == one.expected);
    }
}

TEST_CASE("a register in CSV gives every fact, and leaves open what is not known") {
    const Files files(kHeader + kGood + kBare);
    const auto read = files.read();
    REQUIRE(problems_of(read) == std::vector<std::string>{});
    REQUIRE(read.reg.structures.size() == 2);
    const model::Structure& full = read.reg.structures[0];
    CHECK(full.id == "QM-0101");
    CHECK(full.latitude == -47.11228);
    CHECK(full.note == "Slope, \"slippery\" after rain");
    CHECK(full.critical_customers == 1);
    CHECK(full.hospital == "Tollgate Infirmary");
    CHECK(full.hospital_minutes == 35);
    CHECK(full.plate.rating_kVA == 100.0);
    CHECK(full.plate.made_year == 2004);
    CHECK(full.plate.top_oil_rise_K == 45.0);
    CHECK(full.plate.conservator);
    CHECK(full.plate.lv_breaker == "200 A MCCB");
    const model::Structure& bare = read.reg.structures[1];
    CHECK(bare.name == "Mühle");
    CHECK(bare.plate.impedance_percent == std::nullopt);
    CHECK(bare.plate.breather.empty());
    CHECK(bare.hospital_minutes == std::nullopt);
    CHECK_FALSE(bare.plate.conservator);
}

TEST_CASE("everything wrong in a register is told at once, and nothing of it is taken") {
    const Files files(kHeader + with(with(kGood, ",100,11,", ",1O0,11,"), ",yes,", ",ja,") +
                      with(kBare, ",25,11,", ",7000,11,") +
                      with(kGood, "two-pole,wood,42,1", "two-pole,brick,4.5,9") + "QM-0103,short\n");
    const auto read = files.read();
    CHECK(read.reg.structures.empty());
    CHECK(problems_of(read) ==
          std::vector<std::string>{
              "register.csv:5: the row has 2 cells, the header has 30; give the row one cell for each "
              "column; a cell "
              "with a comma stands in quotes",
              "register.csv:2: rating_kVA: \"1O0\" is not a number; write the rating in kVA, for example 100",
              "register.csv:2: conservator: \"ja\" is neither yes nor no; write yes or no",
              "register.csv:3: rating_kVA: 7000 is not from 5 to 5000; write the rating in kVA, for example "
              "100",
              "register.csv:4: pole: \"brick\" is not one of: wood, concrete, steel; write wood, concrete or "
              "steel",
              "register.csv:4: customers: 4.5 is not a whole number; write how many customers it serves, for "
              "example "
              "42",
              "register.csv:4: critical_customers: 9 critical customers are more than the 0 customers in "
              "all; correct "
              "one of the two",
              "register.csv:4: the id \"QM-0101\" stands here a second time; keep one of the two rows, or "
              "correct the "
              "id of one"});
}

TEST_CASE("columns that are missing, unknown or twice are told with the nearest name") {
    const Files files(with(with(kHeader, "rating_kVA", "rating_kva"), "note", "name") + kGood);
    CHECK(problems_of(files.read()) ==
          std::vector<std::string>{
              "register.csv:1: the column \"name\" is there twice; take one of the two out",
              "register.csv:1: unknown column \"rating_kva\"; nearest is \"rating_kVA\"; correct its name, "
              "or take the "
              "column out",
              "register.csv:1: the column \"note\" is missing; add it to the header; what is not known stays "
              "empty in "
              "the rows",
              "register.csv:1: the column \"rating_kVA\" is missing; add it to the header; what is not known "
              "stays "
              "empty in the rows"});
}

TEST_CASE("a register that is empty, not UTF-8, not there or of no known kind") {
    const Files empty("");
    CHECK(problems_of(empty.read()) ==
          std::vector<std::string>{
              "register.csv:1: the file is empty; give a file with a header row and one row each"});
    const Files header(kHeader);
    CHECK(problems_of(header.read()) ==
          std::vector<std::string>{header.files.reg + ": there is no structure in it; "
                                                      "give a register with structures"});
    const Files latin(kHeader + with(kBare, "ü", "\xFC"));
    CHECK(
        problems_of(latin.read()) ==
        std::vector<std::string>{"register.csv:2: byte 10 of the line is not UTF-8; save the file as UTF-8"});
    Files absent(kHeader);
    absent.files.reg += ".csv";
    CHECK(problems_of(absent.read()) ==
          std::vector<std::string>{absent.files.reg +
                                   ": cannot be opened: No such file or directory; check the place "
                                   "and its permissions, then try again"});
    const Files table("x", "register.ods");
    CHECK(problems_of(table.read()) ==
          std::vector<std::string>{
              table.files.reg +
              ": the name ends neither in .csv nor in .json; name the file after what it is"});
}

TEST_CASE("people, due visits and earlier readings come from files of their own") {
    Files files(kHeader + kGood + kBare);
    files.files.people = files.add(
        "people.csv",
        "id,name,roles,competences\nP-003,Odo Brandt,crew lead,issue_permit:2027-03-31 climb:2026-03-14\n"
        "P-014,Ilse Tarn,crew,\n");
    files.files.due = files.add("due.csv", "structure,kind,due,reason\nQM-0101,upkeep,2026-03-14,yearly\n");
    files.files.earlier =
        files.add("earlier.csv", "structure,checkpoint,date,kind,value,unit\n"
                                 "QM-0101,oil.level,2025-03-14,grade,watch,\n"
                                 "QM-0101,trees.clearance,2025-03-14,number,3.25,m\n"
                                 "QM-0101,oil.breakdown,2025-03-14,numbers,41.2 40 39.5,kV\n"
                                 "QM-0101,crew,2025-03-14,choice,P-003 P-014,\n"
                                 "QM-0101,arrive.note,2025-03-14,text,\"gate, sticks\",\n");
    files.files.utility =
        files.add("utility.csv", "control_room_call,emergency_call\n\"Control room, extension 100\","
                                 "\"Emergency, extension 199\"\n");
    const auto read = files.read();
    REQUIRE(problems_of(read) == std::vector<std::string>{});
    CHECK(read.reg.person("P-003")->is("lead"));
    CHECK(model::to_text(read.reg.due.at(0).due) == "2026-03-14");
    CHECK(read.reg.person("P-003")->may("issue_permit", {20'543}));
    CHECK(read.reg.person("P-014")->competences.empty());
    CHECK(read.reg.utility == model::Utility{"Control room, extension 100", "Emergency, extension 199"});
    REQUIRE(read.reg.earlier.size() == 5);
    CHECK(read.reg.earlier[0].value == model::Value(model::Grade::Watch));
    CHECK(read.reg.earlier[1].value == model::Value(model::Quantity{3.25, model::Unit::Metre}));
    CHECK(read.reg.earlier[2].value == model::Value(model::Readings{{{41.2, model::Unit::Kilovolt},
                                                                     {40.0, model::Unit::Kilovolt},
                                                                     {39.5, model::Unit::Kilovolt}}}));
    CHECK(read.reg.earlier[3].value == model::Value(model::Choice{{"P-003", "P-014"}}));
    CHECK(read.reg.earlier[4].value == model::Value(model::Remark{"gate, sticks"}));

    SECTION("and as JSON the same register") {
        const Files as_json(office::write_register_json(read.reg), "register.json");
        const auto again = as_json.read();
        CHECK(problems_of(again) == std::vector<std::string>{});
        CHECK(again.reg.structures == read.reg.structures);
        CHECK(again.reg.people == read.reg.people);
        CHECK(again.reg.due == read.reg.due);
        CHECK(again.reg.earlier == read.reg.earlier);
        CHECK(again.reg.utility == read.reg.utility);
    }
    SECTION("and say what is wrong in them") {
        files.add("people.csv", "id,name,roles,competences\nP 3,,boss,fly:2027-03-31\n"
                                "P-4,A,crew,climb climb:2027-02-30\n"
                                "P-5,B,crew,climb:2027-03-31 climb:2027-03-31\n");
        files.add("due.csv", "structure,kind,due,reason\nQM-0911,check,14.3.2026,\n");
        files.add("earlier.csv", "structure,checkpoint,date,kind,value,unit\n"
                                 "QM-0101,oil.level,2025-02-29,grade,bad,\n"
                                 "QM-0101,,2025-03-14,number,3 4,m\n"
                                 "QM-0101,a,2025-03-14,number,inf,m\n"
                                 "QM-0101,a,2025-03-14,number,3,yd\n"
                                 "QM-0101,a,2025-03-14,photo,x,\n"
                                 "QM-0101,a,2025-03-14,text,x,m\n");
        CHECK(
            problems_of(files.read()) ==
            std::vector<std::string>{
                "people.csv:2: id: \"P 3\" is not an id of letters, digits, '-', '_' and '.'; write the "
                "person's "
                "number, for example P-014",
                "people.csv:2: name: nothing is written here; write the person's name",
                "people.csv:2: roles: \"boss\" is not one of: crew, lead, office; write the person's roles, "
                "separated by spaces",
                "people.csv:2: competences: \"fly\" is not one of: issue_permit, accept_permit, sign_visit, "
                "first_aid, climb; write each competence with its last day, for example climb:2027-03-31, "
                "separated by spaces",
                "people.csv:3: competences: \"climb\" has no date; write each competence with its last day, "
                "for example climb:2027-03-31, separated by spaces",
                "people.csv:3: competences: \"climb:2027-02-30\" has no date; write each competence with "
                "its last day, for example climb:2027-03-31, separated by spaces",
                "people.csv:4: competences: \"climb\" stands here a second time; write each competence with "
                "its last day, for example climb:2027-03-31, separated by spaces",
                "due.csv:2: due: \"14.3.2026\" is not a date; write year, month and day, for example "
                "2026-03-14",
                "due.csv:2: kind: \"check\" is not one of: upkeep, uprating; write upkeep or uprating",
                "earlier.csv:2: date: \"2025-02-29\" is not a date; write year, month and day, for example "
                "2026-03-14",
                "earlier.csv:2: value: \"bad\" is not a grade; write sound, watch, repair or danger",
                "earlier.csv:3: checkpoint: nothing is written here; write the checkpoint's id",
                "earlier.csv:3: value: 2 numbers stand here; write one number, or the kind numbers",
                "earlier.csv:4: value: \"inf\" is not a number; write numbers with a point, separated by "
                "spaces",
                "earlier.csv:5: unit: \"yd\" is not a unit known here; write a UCUM code, for example kV; 1 "
                "for a "
                "count",
                "earlier.csv:6: kind: \"photo\" is not one of: grade, choice, number, numbers, text; write "
                "the kind "
                "of what was recorded",
                "earlier.csv:7: unit: only numbers have a unit; leave it empty",
                "due.csv:2: unknown structure \"QM-0911\"; nearest is \"QM-0101\"; correct the id, or add "
                "the "
                "structure to the register"});
    }
}

TEST_CASE("a JSON register tells every wrong row with its pointer") {
    const Files files(
        R"({"format":"crossarm.register/1","structures":[{"id":"QM-0101"},{"id":"QM-0102","rating_kVA":"9"}],
                         "people":[{"id":"P-1","name":"A","roles":[]}],"due":{}})",
        "register.json");
    CHECK(problems_of(files.read()) ==
          std::vector<std::string>{
              "register.json: /structures/0/name: \"name\" is missing; write the place's name",
              "register.json: /structures/1/name: \"name\" is missing; write the place's name",
              "register.json: /people/0/roles: the person has no role; give the roles the person has: crew, "
              "lead, "
              "office",
              "register.json: /due: this is not a list; write [ ... ] here"});
}

TEST_CASE("whom to call is one row, and stands in one place") {
    Files files(kHeader + kGood);
    files.files.utility = files.add("utility.csv", "control_room_call,emergency_call\n");
    CHECK(problems_of(files.read()) ==
          std::vector<std::string>{
              "utility.csv: there are 0 rows; give one row below the names of the columns"});
    files.add("utility.csv", "control_room_call,emergency_call\n" + std::string(121, 'x') + ",\n");
    CHECK(
        problems_of(files.read()) ==
        std::vector<std::string>{"utility.csv:2: control_room_call: the text is longer than 120 bytes; write "
                                 "whom to call and the number, or leave it empty"});
    const std::string call = R"("utility":{"control_room_call":"extension 100"})";
    Files twice(R"({"format":"crossarm.register/1",)" + call + "}", "register.json");
    CHECK(twice.read().problems.size() == 1); // no structure in it, but the call was read
    twice.files.utility = twice.add("utility.csv", "control_room_call,emergency_call\nextension 100,\n");
    CHECK(problems_of(twice.read()) ==
          std::vector<std::string>{
              "utility.csv:2: whom to call stands here a second time; give it once, in the "
              "register or in a file of its own"});
}
