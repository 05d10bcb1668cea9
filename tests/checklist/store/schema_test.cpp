#include "checklist/store/schema.hpp"

#include "checklist/store/settings.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/small_visit.hpp"
#include "tests/support/temp_store.hpp"

using namespace crossarm;

TEST_CASE("the steps between schemas are numbered from 1 without gap") {
    std::int64_t expected = 1;
    for (const store::Migration& step : store::migrations()) {
        CHECK(step.to == expected++);
    }
    CHECK(store::newest_schema() == expected - 1);
}

TEST_CASE("an older file takes exactly the steps that it lacks, and keeps what it has") {
    tests::TempFolder folder;
    store::Database database(folder.file("any"), store::Database::Make::Yes);
    store::apply_settings(database);
    std::vector<store::Migration> steps = {{1, "CREATE TABLE a (x INTEGER) STRICT"}};
    CHECK(store::migrate(database, steps));
    database.run("INSERT INTO a VALUES (7)");
    CHECK(!store::migrate(database, steps));
    steps.push_back({2, "CREATE TABLE b (y TEXT) STRICT"});
    steps.push_back({3, "INSERT INTO b SELECT 'from ' || x FROM a"});
    CHECK(store::migrate(database, steps));
    CHECK(database.number("PRAGMA user_version") == 3);
    CHECK(database.text("SELECT y FROM b") == "from 7");
    CHECK(!store::migrate(database, steps));
}

TEST_CASE("a step that fails leaves the file at the step before") {
    tests::TempFolder folder;
    store::Database database(folder.file("any"), store::Database::Make::Yes);
    const std::vector<store::Migration> steps = {{1, "CREATE TABLE a (x INTEGER) STRICT"},
                                                 {2, "CREATE TABLE b (y TEXT) STRICT; INSERT INTO none "
                                                     "VALUES (1)"}};
    CHECK_THROWS_AS(store::migrate(database, steps), store::DiskFault);
    CHECK(database.number("PRAGMA user_version") == 1);
    CHECK(database.number("SELECT count(*) FROM sqlite_schema") == 1);
}

TEST_CASE("a store says in its header whose it is and which schema it has, and every table is strict") {
    tests::TempStore t;
    {
        const store::Store closing = std::move(t.store);
    }
    store::Database database(t.path, store::Database::Make::No);
    CHECK(database.number("PRAGMA application_id") == store::kApplicationId);
    CHECK(database.number("PRAGMA user_version") == store::newest_schema());
    CHECK(database.text("PRAGMA journal_mode") == "wal");
    CHECK(database.text("PRAGMA integrity_check") == "ok");
    CHECK(database.number("SELECT count(*) FROM pragma_table_list WHERE schema = 'main' AND type = 'table' "
                          "AND name NOT LIKE 'sqlite_%' AND strict = 0") == 0);
}

TEST_CASE("the tables refuse what cannot be") {
    tests::TempStore t;
    {
        const store::Store closing = std::move(t.store);
    }
    store::Database database(t.path, store::Database::Make::No);
    const std::string id = "x'00112233445566778899aabbccddeeff'";
    const std::string hash = "'" + std::string(64, 'a') + "'";
    for (const std::string& sql : std::vector<std::string>{
             "INSERT INTO tablet VALUES (2, '0199aabb-ccdd-7eef-8011-223344556677')",
             "INSERT INTO entry VALUES (1, x'00', " + id + ", 'd', 1, '{}', " + hash + ")",
             "INSERT INTO entry VALUES (1, " + id + ", " + id + ", '', 1, '{}', " + hash + ")",
             "INSERT INTO entry VALUES (1, " + id + ", " + id + ", 'd', 0, '{}', " + hash + ")",
             "INSERT INTO entry VALUES (1, " + id + ", " + id + ", 'd', 'one', '{}', " + hash + ")",
             "INSERT INTO entry VALUES (1, " + id + ", " + id + ", 'd', 1, '', " + hash + ")",
             "INSERT INTO entry VALUES (1, " + id + ", " + id + ", 'd', 1, '{}', 'short')",
             "INSERT INTO entry VALUES (1, " + id + ", " + id + ", 'd', 1, NULL, " + hash + ")",
             "INSERT INTO day_pack VALUES (0, " + hash + ", x'', 0, 0)",
             "INSERT INTO day_pack VALUES (1, " + hash + ", x'', 0, 1440)",
             "INSERT INTO outbox VALUES (1, " + hash + ", " + id + ", x'', 0, 0, 'sent', '', 1, 1, 0)",
             "INSERT INTO outbox VALUES (1, " + hash + ", " + id + ", x'', 0, 0, 'written', '', 0, 1, 0)",
             "INSERT INTO identity VALUES (2, x'00', 0, 0)",
             "INSERT INTO office_holds VALUES (" + hash + ", 0, 1, " + hash + ", 0, 0)",
         }) {
        CHECK_THROWS_AS(database.run(sql), store::DiskFault);
    }
    // The same rows with nothing wrong are taken.
    database.run("INSERT INTO entry VALUES (1, " + id + ", " + id + ", 'd', 1, '{}', " + hash + ")");
    database.run("INSERT INTO day_pack VALUES (1, " + hash + ", x'', 0, 1439)");
    database.run("INSERT INTO outbox VALUES (1, " + hash + ", " + id +
                 ", x'', 0, 0, 'written', '', 1, 1, 0)");
    // Two entries with one number in a visit on one device cannot be.
    CHECK_THROWS_AS(database.run("INSERT INTO entry VALUES (2, x'ff112233445566778899aabbccddeeff', " + id +
                                 ", 'd', 1, '{}', " + hash + ")"),
                    store::DiskFault);
}
