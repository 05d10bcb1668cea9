// Tablets, people, clocks, sticks and an office, driven by a seed. Every file may be lost, repeated, cut,
// flipped, re-ordered; the power may go off at any operation of a disk; tablets are put back from backups,
// with a new life and without. After each run:
//   1 every entry that was called kept is at the office exactly once, or still on its tablet;
//   2 the office holds only what a tablet truly sealed, and all of it that reached the office whole;
//   3 what a tablet shows as received is at the office, byte for byte;
//   4 another office that gets the same files in another order has the same content.
//
// sim FIRST COUNT    runs COUNT seeds from FIRST on; a seed that fails prints how to run it again.
#include "checklist/model/canonical.hpp"
#include "checklist/model/digest.hpp"
#include "sync/bundle/sealed_json.hpp"
#include "tests/sim/broken.hpp"
#include "tests/sim/sim_office.hpp"
#include "tests/sim/sim_tablet.hpp"
#include "tests/support/sample_visit.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <filesystem>
#include <iostream>
#include <memory>

using namespace crossarm;
using tests::promise;

namespace {

namespace fs = std::filesystem;

struct Counts {
    std::size_t entries = 0, bundles = 0, forged = 0, restored = 0, cuts = 0, forks = 0, held = 0;
};

class World {
public:
    World(std::uint32_t seed, Counts& counts)
        : dice_(seed), counts_(counts), office_(folder_.path() + "/office", disk_, files_, dice_) {
        const std::size_t count = 2 + dice_() % 2;
        for (std::size_t i = 0; i < count; ++i) {
            const std::string folder = folder_.file("t" + std::to_string(i));
            fs::create_directories(folder + "/stick");
            tablets_.push_back(std::make_unique<tests::SimTablet>(
                folder + "/tablet.store", disk_, dice_, genuine_,
                [this](const auto& device, std::int64_t life, const auto& key) {
                    return office_.enrol(device, life, key);
                }));
            if (dice_() % 4 != 0) {
                tablets_.back()->enrol(); // the others come later: until then they wait at the office
            }
        }
    }

    void run() {
        const std::size_t steps = 30 + dice_() % 30;
        for (std::size_t i = 0; i < steps; ++i) {
            step();
        }
        settle();
        check();
    }

private:
    [[nodiscard]] bool one_in(std::uint32_t n) { return dice_() % n == 0; }
    tests::SimTablet& some_tablet() { return *tablets_[dice_() % tablets_.size()]; }

    void step() {
        tests::SimTablet& tablet = some_tablet();
        const bool cut = one_in(6);
        counts_.cuts += cut ? 1U : 0U;
        switch (dice_() % 13) {
        case 0:
        case 1:
        case 2:
        case 3:
            // Now and then two tablets work on one visit.
            tablet.record(one_in(6) ? some_tablet().some_visit() : std::nullopt, cut);
            break;
        case 4:
        case 5:
            tablet.seal_visit(/*open_copy=*/one_in(5), cut);
            break;
        case 6:
            carry(tablet);
            break;
        case 7:
            office_.take_in(cut);
            break;
        case 8:
            tablet.jump_clock();
            break;
        case 9:
        case 11:
            if (tablet.has_backup() && one_in(2)) {
                tablet.put_back(/*new_life=*/one_in(2));
                ++counts_.restored;
            } else {
                tablet.back_up();
            }
            break;
        case 10:
            receipts(tablet);
            break;
        default:
            forge(tablet);
        }
    }

    /// A stick goes from the tablet to the office.
    void carry(tests::SimTablet& tablet) {
        const tests::TempFolder stick;
        const auto out = tablet.outgoing();
        if (one_in(5)) {
            files_.fail(1 + dice_() % 12, one_in(2) ? ENOSPC : EIO, tests::FaultyFiles::Fails::Forever);
        }
        const auto handed =
            bundle::hand_over(out, stick.path(), [&](const bundle::Outgoing& one, const std::string& path) {
                tablet.handed_over(one.digest, path);
                return model::Done();
            });
        promise(!handed.stopped || files_.has_failed(), "a hand-over goes through");
        files_.power_comes_back(dice_);
        std::vector<std::string> found;
        for (const auto& file : fs::directory_iterator(stick.path())) {
            found.push_back(tests::read_file(file.path().string()));
        }
        std::ranges::sort(found); // not in the order of the folder, which differs from run to run
        for (std::string& bytes : found) {
            spoil_and_bring(bytes);
        }
    }

    void bring(const std::string& bytes, const std::string& ending = ".json") {
        offered_.push_back(bytes);
        office_.arrive(bytes, ending);
    }

    void spoil_and_bring(std::string bytes) {
        switch (dice_() % 10) {
        case 0:
            return; // lost
        case 1:
            bring(bytes);
            break; // twice
        case 2:
            bring(bytes.substr(0, dice_() % (bytes.size() + 1)));
            return;
        case 3:
            if (!bytes.empty()) {
                char& byte = bytes[dice_() % bytes.size()];
                byte = static_cast<char>(static_cast<unsigned char>(byte) ^ (1U << (dice_() % 8)));
            }
            break;
        case 4:
            office_.arrive(bytes.substr(0, bytes.size() / 2), ".json.part");
            break;
        default:
            break;
        }
        bring(bytes);
    }

    void receipts(tests::SimTablet& tablet) {
        waiting_.push_back(office_.receipt_for(tablet.device()));
        while (!waiting_.empty() && !one_in(3)) {
            std::string bytes = waiting_[dice_() % waiting_.size()]; // late, early, twice, or never
            if (one_in(8)) {
                bytes[dice_() % bytes.size()] ^= 1;
            }
            some_tablet().take_receipt(bytes, office_.ring());
            tablet.take_receipt(bytes, office_.ring());
            if (one_in(2)) {
                break;
            }
        }
    }

    /// Somebody makes bundles up.
    void forge(tests::SimTablet& tablet) {
        ++counts_.forged;
        const bundle::Bundle made =
            tests::sample_bundle(static_cast<unsigned>(dice_() % 1000), tablet.device());
        const auto stranger = seal::KeyPair::from_seed(model::sha256("stranger"));
        std::string bytes = bundle::write_bundle(made, stranger).bytes;
        if (!genuine_.empty() && one_in(2)) {
            // A true seal beside another body, with its digest worked out again.
            auto at = genuine_.begin();
            std::advance(at, static_cast<std::ptrdiff_t>(dice_() % genuine_.size()));
            auto file = nlohmann::json::parse(at->second);
            file["body"]["engine"] = "9.9.9";
            file["seal"]["digest"] = model::sha256_hex(model::canonical(file["body"]));
            bytes = model::canonical(file);
        }
        bring(bytes);
    }

    /// Everything comes to the office in the end, and the receipts back.
    void settle() {
        for (const auto& tablet : tablets_) {
            tablet->enrol();
        }
        for (const auto& tablet : tablets_) {
            tablet->check_kept();
            for (const bundle::Outgoing& one : tablet->outgoing()) {
                bring(tests::must(one.bytes(), "a bundle is read back"));
            }
        }
        office_.take_in(false);
        office_.take_in_again();
        for (const auto& tablet : tablets_) {
            tablet->take_receipt(office_.receipt_for(tablet->device()), office_.ring());
        }
    }

    void check() {
        std::map<std::string, std::string> here;
        for (auto& [digest, bytes] : office_.bundles()) {
            promise(genuine_.contains(digest) && genuine_[digest] == bytes,
                    "the office holds only what a tablet sealed");
            here[digest] = bytes;
        }
        for (const std::string& bytes : offered_) {
            for (const auto& [digest, genuine] : genuine_) {
                promise(bytes != genuine || here.contains(digest),
                        "what reached the office whole is there: " + digest + office_.reasons());
            }
        }
        const auto entries = office_.entries();
        for (const auto& tablet : tablets_) {
            for (const std::string& hash : tablet->kept()) {
                promise(entries.contains(hash) || tablet->holds(hash),
                        "a kept entry is at the office or still on its tablet");
            }
            for (const store::OutboxRow& row : tablet->outbox()) {
                promise(here.contains(row.digest), "every bundle in an outbox came to the office");
                promise(row.state == store::HandOver::Received, "the last receipt confirms every bundle");
                promise(here[row.digest] == tests::must(bytes_of(*tablet, row.digest), "bytes are read back"),
                        "what is shown as received is at the office, byte for byte");
            }
            counts_.entries += tablet->kept().size();
        }
        counts_.bundles += here.size();
        counts_.forks += office_.forks();
        counts_.held += office_.held();
        check_other_order();
    }
    [[nodiscard]] static model::Result<std::string> bytes_of(const tests::SimTablet& tablet,
                                                             const std::string& digest) {
        for (const bundle::Outgoing& one : tablet.outgoing()) {
            if (one.digest == digest) {
                return one.bytes();
            }
        }
        return model::Problem{digest, "is not in the outbox", "look there"};
    }

    void check_other_order() {
        tests::SimOffice other(folder_.path() + "/other", disk_, files_, dice_);
        other.enrol_as(office_);
        std::vector<std::string> files = offered_;
        std::ranges::shuffle(files, dice_);
        for (std::size_t i = 0; i < files.size(); ++i) {
            other.arrive(files[i]);
            if (one_in(20)) {
                other.take_in(false);
            }
        }
        other.take_in(false);
        promise(other.dump() == office_.dump(), "another order gives the same office");
    }

    std::mt19937 dice_;
    Counts& counts_;
    tests::TempFolder folder_;
    tests::FaultyDisk disk_;
    tests::FaultyFiles files_;
    tests::SimOffice office_;
    tests::Genuine genuine_;
    std::vector<std::unique_ptr<tests::SimTablet>> tablets_;
    std::vector<std::string> offered_;
    std::vector<std::string> waiting_; ///< receipts under way
};

} // namespace

int main(int argc, char** argv) {
    const auto number = [&](int at, std::uint32_t otherwise) {
        return argc > at ? static_cast<std::uint32_t>(std::strtoul(argv[at], nullptr, 10)) : otherwise;
    };
    const std::uint32_t first = number(1, 1);
    const std::uint32_t count = number(2, 1);
    Counts counts;
    std::uint32_t failed = 0;
    for (std::uint32_t seed = first; seed < first + count; ++seed) {
        try {
            World(seed, counts).run();
        } catch (const std::exception& broken) {
            ++failed;
            std::cout << "seed " << seed << ": does not hold: " << broken.what() << "\n    again: " << argv[0]
                      << ' ' << seed << " 1\n";
        }
    }
    std::cout << count << " seeds, " << failed << " failed: " << counts.entries << " kept entries, "
              << counts.bundles << " bundles, " << counts.cuts << " power cuts, " << counts.restored
              << " tablets put back, " << counts.forks << " forked numbers, " << counts.forged
              << " forged and " << counts.held << " files held back\n";
    return failed == 0 ? 0 : 1;
}
