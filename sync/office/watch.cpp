#include "sync/office/watch.hpp"

#include "sync/office/folder_events.hpp"
#include "sync/office/incoming_folder.hpp"
#include "sync/office/settling.hpp"

#include <chrono>

#include <sys/stat.h>

namespace crossarm::office {

namespace {

std::int64_t steady_ms() {
    return std::chrono::duration_cast<std::chrono::milliseconds>(
               std::chrono::steady_clock::now().time_since_epoch())
        .count();
}

model::Result<std::map<std::string, Look>> look_at(const std::string& folder) {
    const auto names = names_in(folder);
    if (!names) {
        return names.problem();
    }
    constexpr std::int64_t kSecond_ns = 1'000'000'000;
    std::map<std::string, Look> there;
    for (const std::string& name : *names) {
        struct stat about{};
        if (::stat((folder + "/" + name).c_str(), &about) == 0) {
            there[name] = {static_cast<std::uint64_t>(about.st_size),
                           about.st_mtim.tv_sec * kSecond_ns + about.st_mtim.tv_nsec, about.st_ino};
        }
    }
    return there;
}

model::Result<Intake> take_batch(const std::string& store_path, const std::string& folder,
                                 const std::vector<std::string>& names, const WatchManner& manner) {
    auto store = OfficeStore::open(store_path, OfficeStore::Make::Yes);
    if (!store) {
        return store.problem();
    }
    return take_in_files(*store, folder, names, manner.now(), {manner.move_taken, nullptr});
}

} // namespace

model::Done watch(const std::string& store_path, const std::string& folder, const WatchManner& manner) {
    const FolderEvents events(folder);
    Settling settling(manner.quiet_ms);
    bool first = true;
    for (; manner.go_on(); first = false) {
        const auto there = look_at(folder);
        if (!there && first) {
            return there.problem();
        }
        if (!there) {
            manner.trouble(there.problem());
        } else if (const auto quiet = settling.see(*there, steady_ms()); !quiet.empty()) {
            const auto intake = take_batch(store_path, folder, quiet, manner);
            if (intake) {
                manner.taken(*intake);
            } else {
                settling.again(quiet);
                manner.trouble(intake.problem());
                events.wait(manner.look_blind_ms);
                continue;
            }
        }
        events.wait(settling.wait_ms(steady_ms(), events.sees() ? manner.look_ms : manner.look_blind_ms));
    }
    return {};
}

} // namespace crossarm::office
