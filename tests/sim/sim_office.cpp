#include "tests/sim/sim_office.hpp"

#include "sync/office/dump.hpp"
#include "sync/office/held_back.hpp"
#include "sync/office/office_keys.hpp"
#include "sync/office/receipts.hpp"
#include "tests/sim/broken.hpp"

#include <filesystem>

namespace crossarm::tests {

namespace {
constexpr model::Timestamp kNow{1'773'800'000'000, 60};
constexpr const char* kOffice = "Quillmere Valley Power Cooperative";
} // namespace

SimOffice::SimOffice(const std::string& folder, FaultyDisk& disk, FaultyFiles& files, std::mt19937& dice)
    : in_(folder + "/in"), path_(folder + "/office.store"), disk_(disk), files_(files), dice_(dice) {
    std::filesystem::create_directories(in_);
}

office::OfficeStore SimOffice::open() {
    return must(office::OfficeStore::open(path_, office::OfficeStore::Make::Yes), "the office store opens");
}

bool SimOffice::enrol(const std::string& device, std::int64_t life, const seal::PublicKey& key) {
    const auto store = open();
    return office::pin_tablet(store, {device, life, key, "P-001", kNow}).ok();
}

void SimOffice::enrol_as(SimOffice& other) {
    const auto store = open();
    for (const office::KnownTablet& tablet : must(office::tablets(other.open()), "tablets are listed")) {
        must(office::pin_tablet(store, tablet), "a tablet is enrolled");
    }
}

void SimOffice::arrive(const std::string& bytes, const std::string& ending) {
    write_file(in_ + "/" + std::to_string(dice_() % 1000) + "-" + std::to_string(++arrived_) + ending, bytes);
}

void SimOffice::take_in(bool cut_power) {
    if (cut_power) {
        disk_.cut_power_at(1 + dice_() % 80);
        files_.together_with([this] { return disk_.has_failed(); });
    }
    {
        auto store = office::OfficeStore::open(path_, office::OfficeStore::Make::Yes);
        promise(store.ok() || disk_.has_failed(),
                "the office store opens" + (store ? "" : ": " + model::to_text(store.problem())));
        if (store) {
            if (dice_() % 4 == 0 && !cut_power) {
                const auto second = office::OfficeStore::open(path_, office::OfficeStore::Make::Yes);
                promise(!second.ok() && office::OfficeStore::is_held_by_another(second.problem()),
                        "a second office is told that the store is held");
            }
            const auto intake = office::take_in(*store, in_, kNow, {dice_() % 2 == 0, nullptr});
            promise(intake.ok() || disk_.has_failed(),
                    "intake goes on" + (intake ? "" : ": " + model::to_text(intake.problem())));
        }
    }
    if (disk_.has_failed()) {
        disk_.power_comes_back(dice_, /*torn=*/dice_() % 2 == 0, path_);
        files_.power_comes_back(dice_);
    }
    disk_.heal();
    files_.together_with(nullptr);
}

void SimOffice::take_in_again() {
    auto store = open();
    must(office::take_in_again(store, kNow), "what is held back is tried again");
}

std::string SimOffice::receipt_for(const std::string& device) {
    const auto store = open();
    return must(office::make_receipt_file(store, device, kOffice, kNow), "a receipt is made");
}

seal::KeyRing SimOffice::ring() {
    const auto store = open();
    seal::KeyRing ring;
    ring.add({must(office::office_key(store, kNow), "the office has a key").pair.public_key(),
              {seal::Owner::Kind::Office, kOffice}});
    return ring;
}

std::string SimOffice::dump() {
    const auto store = open();
    return must(office::dump(store), "the office store is dumped");
}

std::vector<std::pair<std::string, std::string>> SimOffice::bundles() {
    const auto store = open();
    std::vector<std::pair<std::string, std::string>> out;
    for (const office::BundleRow& row : must(store.bundles(), "bundles are listed")) {
        out.emplace_back(row.digest, must(store.raw(row.digest), "a bundle is read"));
    }
    return out;
}

std::set<std::string> SimOffice::entries() {
    const auto store = open();
    std::set<std::string> out;
    for (const model::Id& visit : must(store.visits(), "visits are listed")) {
        for (const std::string& text : must(store.texts(visit), "a visit is read")) {
            promise(out.insert(model::hash_of(text)).second, "an entry is at the office once");
        }
    }
    return out;
}

std::size_t SimOffice::forks() {
    const auto store = open();
    return must(office::check_sequence(store), "the sequence is checked").forks.size();
}

std::string SimOffice::reasons() {
    std::string out;
    for (const office::HeldFile& file : must(office::HeldBack(path_).list(), "what is held back is listed")) {
        out += file.reason ? "\n    " + model::to_text(file.reason->why) : "\n    no reason";
    }
    return out;
}

std::size_t SimOffice::held() {
    return must(office::HeldBack(path_).list(), "what is held back is listed").size();
}

} // namespace crossarm::tests
