#include "checklist/store/place.hpp"
#include "checklist/store/schema.hpp"
#include "checklist/store/settings.hpp"
#include "checklist/store/store.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/small_visit.hpp"
#include "tests/support/temp_store.hpp"

#include <map>

#include <sys/stat.h>
#include <unistd.h>

using namespace crossarm;
using tests::kMorning;

namespace {

/// Every file in a folder and its content.
std::map<std::string, std::string> content_of(const tests::TempFolder& folder) {
    std::map<std::string, std::string> content;
    for (const auto& item : std::filesystem::recursive_directory_iterator(folder.path())) {
        content[item.path().filename().string()] =
            item.is_regular_file() ? tests::read_file(item.path().string()) : "no file";
    }
    return content;
}

/// The refusal's text, with the folder's own name cut out; empty when the store was opened.
std::string refusal(const tests::TempFolder& folder, const std::string& path) {
    const auto opened = store::Store::open(path, tests::seeded_random(3));
    if (opened) {
        return "";
    }
    std::string text = model::to_text(opened.problem());
    const std::string home = std::filesystem::canonical(folder.path()).string() + '/';
    for (std::size_t at = text.find(home); at != std::string::npos; at = text.find(home)) {
        text.erase(at, home.size());
    }
    return text;
}

void make_closed_store(const std::string& path) {
    auto opened = store::Store::open(path, tests::seeded_random(1));
    REQUIRE(opened.ok());
    REQUIRE(opened->append(opened->new_visit(kMorning), {tests::opened()}, kMorning, "P-014").ok());
}

void run_sql(const std::string& path, const std::string& sql) {
    store::Database database(path, store::Database::Make::Yes);
    database.run(sql);
}

} // namespace

TEST_CASE("what is no store is refused with place and remedy, and nothing in its folder changes") {
    tests::TempFolder folder;
    const std::string path = folder.file("tablet.store");
    std::string expected;
    SECTION("a text file") {
        tests::write_file(path, "Poles looked at on Tuesday: 14\n");
        expected = "tablet.store: it is not a store: it is a file of another kind; give the store another "
                   "name, or move that file away";
    }
    SECTION("a long text file") {
        tests::write_file(path, std::string(100'000, 'x'));
        expected = "tablet.store: it is not a store: it is a file of another kind; give the store another "
                   "name, or move that file away";
    }
    SECTION("an empty file") {
        tests::write_file(path, "");
        expected = "tablet.store: it is an empty file, not a store; give the store another name, or move "
                   "that file away";
    }
    SECTION("a folder") {
        std::filesystem::create_directory(path);
        expected = "tablet.store: it is a folder; give the name of the store's file in it";
    }
    SECTION("a link to a store") {
        make_closed_store(folder.file("other.store"));
        std::filesystem::create_symlink(folder.file("other.store"), path);
        expected = "tablet.store: it is a link or a device, not a file; give the store another name, or "
                   "move that file away";
    }
    SECTION("a pipe") {
        REQUIRE(::mkfifo(path.c_str(), 0600) == 0);
        expected = "tablet.store: it is a link or a device, not a file; give the store another name, or "
                   "move that file away";
    }
    SECTION("another program's database") {
        run_sql(path, "PRAGMA application_id=7; CREATE TABLE entry (text TEXT)");
        expected = "tablet.store: it is not a store: it is a database of another program; give the store "
                   "another name, or move that file away";
    }
    SECTION("another program's database with a journal that waits to be rolled back") {
        run_sql(path, "CREATE TABLE entry (text TEXT)");
        tests::write_file(path + "-journal", std::string(2000, 'j'));
        expected = "tablet.store: it is not a store: it is a database of another program; give the store "
                   "another name, or move that file away";
    }
    SECTION("a store of a newer version") {
        make_closed_store(path);
        run_sql(path, "PRAGMA user_version=" + std::to_string(store::newest_schema() + 1));
        expected = "tablet.store: it was made by a newer version of this program (schema " +
                   std::to_string(store::newest_schema() + 1) + ", this one knows up to " +
                   std::to_string(store::newest_schema()) +
                   "); open it with the newer version; nothing was changed";
    }
    SECTION("a store cut off in its header") {
        make_closed_store(path);
        std::filesystem::resize_file(path, 99);
        expected = "tablet.store: it is not a store: it is a file of another kind; give the store another "
                   "name, or move that file away";
    }
    SECTION("a store that is gone while its log is still there") {
        tests::write_file(path + "-wal", "log");
        expected = "tablet.store: the store is gone, but its log tablet.store-wal is still there; put the "
                   "store back beside its log and tell the office";
    }
    SECTION("a store that is gone while its head file knows of entries") {
        make_closed_store(path);
        std::filesystem::remove(path);
        expected = "tablet.store: the store is gone, but its head file tablet.store.head knows of entries in "
                   "it; put the store back, or move the head file away to begin a new one";
    }
    const auto before = content_of(folder);
    CHECK(refusal(folder, path) == expected);
    CHECK(content_of(folder) == before);
}

TEST_CASE("a newer version is seen also when only the log says so") {
    tests::TempFolder folder;
    const std::string path = folder.file("tablet.store");
    make_closed_store(path);
    {
        store::Database database(path, store::Database::Make::No);
        database.leave_log_on_close(true);
        store::apply_settings(database);
        database.run("PRAGMA user_version=9");
    }
    REQUIRE(store::size_of(path + "-wal") > 0);
    const auto before = content_of(folder);
    CHECK(refusal(folder, path) ==
          "tablet.store: it was made by a newer version of this program (schema 9, this one knows up to " +
              std::to_string(store::newest_schema()) +
              "); open it with the newer version; nothing was changed");
    CHECK(content_of(folder) == before);
}

TEST_CASE("a path that names no file is refused") {
    tests::TempFolder folder;
    CHECK(refusal(folder, folder.path() + "/") ==
          ": it is a folder; give the name of the store's file in it");
    CHECK(refusal(folder, folder.file("nowhere/tablet.store")) ==
          "nowhere/tablet.store: its folder is not there; make the folder, or give another one");
    CHECK(content_of(folder).empty());
}

TEST_CASE("a second opener is refused and does not disturb the first") {
    tests::TempStore t;
    const model::Id visit = t.store.new_visit(kMorning);
    REQUIRE(t.store.append(visit, {tests::opened()}, kMorning, "P-014").ok());
    const std::string expected =
        "tablet.store: another program holds this store; close the other program, then open it again";
    CHECK(refusal(t.folder, t.path) == expected);
    REQUIRE(t.store.append(visit, {tests::found("tank.leak", model::Grade::Sound)}, kMorning, "P-014").ok());
    CHECK(refusal(t.folder, t.path) == expected);
    CHECK(t.store.entries(visit)->size() == 2);
    t.reopen();
    CHECK(t.store.entries(visit)->size() == 2);
}

TEST_CASE("a folder reached through a link is a folder like any other") {
    tests::TempFolder folder;
    std::filesystem::create_directory(folder.file("real"));
    std::filesystem::create_directory_symlink(folder.file("real"), folder.file("link"));
    CHECK(refusal(folder, folder.file("link/tablet.store")) == "");
    CHECK(std::filesystem::exists(folder.file("real/tablet.store")));
}

// Type numbers from statfs(2), Linux manual pages.
TEST_CASE("a stick or a network drive is no place for a store") {
    struct Row {
        std::uint64_t type;
        const char* name;
    };
    for (const Row row : {Row{0x4d44, "vfat"}, Row{0x2011bab0, "exfat"}, Row{0x6969, "nfs"},
                          Row{0x517b, "smb"}, Row{0xff534d42, "cifs"}, Row{0xfe534d42, "smb2"}}) {
        const auto place = store::check_filesystem("/media/stick/tablet.store", row.type);
        REQUIRE(!place.ok());
        CHECK(model::to_text(place.problem()) ==
              std::string("/media/stick/tablet.store: it lies on a ") + row.name +
                  " file system, a stick or a network drive, which can lose what was confirmed; keep the "
                  "store on the tablet's own disk");
    }
    for (const std::uint64_t own : {0xef53U, 0x9123683eU, 0x58465342U, 0xf2f52010U, 0x01021994U}) {
        CHECK(store::check_filesystem("/home/crew/tablet.store", own).ok()); // ext4, btrfs, xfs, f2fs, tmpfs
    }
}
