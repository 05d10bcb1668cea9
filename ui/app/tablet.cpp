#include "ui/app/tablet.hpp"

#include "sync/bundle/assets.hpp"
#include "sync/bundle/day_pack.hpp"

#include <chrono>
#include <ctime>
#include <filesystem>

namespace crossarm::ui {

namespace {

using model::Problem;
using model::Result;

} // namespace

model::Timestamp wall_clock() {
    const auto now = std::chrono::system_clock::now();
    const auto ms = std::chrono::duration_cast<std::chrono::milliseconds>(now.time_since_epoch()).count();
    const std::time_t seconds = std::chrono::system_clock::to_time_t(now);
    std::tm local{};
    localtime_r(&seconds, &local);
    return {ms, static_cast<std::int16_t>(local.tm_gmtoff / 60)};
}

Result<std::unique_ptr<Tablet>> Tablet::switch_on(const TabletSettings& settings,
                                                  std::function<model::Timestamp()> clock) {
    const auto assets = bundle::assets_dir();
    if (!assets) {
        return assets.problem();
    }
    auto words = bundle::load_words(*assets, settings.language);
    auto limits = bundle::load_limits(*assets);
    auto upkeep = bundle::load_protocol(*assets, "upkeep");
    auto uprating = bundle::load_protocol(*assets, "uprating");
    auto opened = store::Store::open(settings.store);
    for (const Problem* problem :
         {words.ok() ? nullptr : &words.problem(), limits.ok() ? nullptr : &limits.problem(),
          upkeep.ok() ? nullptr : &upkeep.problem(), uprating.ok() ? nullptr : &uprating.problem(),
          opened.ok() ? nullptr : &opened.problem()}) {
        if (problem != nullptr) {
            return *problem;
        }
    }
    std::unique_ptr<Tablet> tablet(new Tablet(std::move(*opened)));
    if (!settings.day_pack.empty()) {
        if (const auto loaded = load_day_pack(tablet->store_, settings.day_pack, settings.office, clock());
            !loaded) {
            return loaded.problem();
        }
    }
    const auto newest = tablet->store_.newest_day_pack();
    if (!newest) {
        return Problem{settings.store, "no day pack was ever loaded on this tablet",
                       "get one from the office and start with --day-pack FILE"};
    }
    auto pack = bundle::read_day_pack(newest->bytes, "day pack " + std::to_string(newest->number),
                                      pinned_keys(tablet->store_));
    if (!pack) {
        return pack.problem();
    }
    tablet->words_ = std::move(*words);
    tablet->protocols_.push_back(std::move(*upkeep));
    tablet->protocols_.push_back(std::move(*uprating));
    tablet->limits_ = std::move(*limits);
    tablet->limits_.sets.insert(tablet->limits_.sets.end(), pack->limits.begin(), pack->limits.end());
    // What the office chose comes before what the program chooses.
    tablet->limits_.chosen.insert(tablet->limits_.chosen.begin(), pack->chosen_limits.begin(),
                                  pack->chosen_limits.end());
    tablet->register_ = std::move(pack->reg);
    const std::filesystem::path beside = std::filesystem::path(settings.store).parent_path() / "bundles";
    tablet->session_ = std::make_unique<Session>(Supplies{
        .store = tablet->store_,
        .protocols = tablet->protocols_,
        .limits = tablet->limits_,
        .reg = tablet->register_,
        .words = tablet->words_,
        .office = pack->office,
        .day_pack = pack->number,
        .bundles_folder = settings.bundles_folder.empty() ? beside.string() : settings.bundles_folder,
        .clock = std::move(clock),
    });
    return tablet;
}

} // namespace crossarm::ui
