#include "sync/office/folder_events.hpp"

#include <algorithm>
#include <array>

#include <poll.h>
#include <sys/inotify.h>
#include <unistd.h>

namespace crossarm::office {

FolderEvents::FolderEvents(const std::string& folder) : events_(::inotify_init1(IN_NONBLOCK | IN_CLOEXEC)) {
    if (events_ >= 0 &&
        ::inotify_add_watch(events_, folder.c_str(), IN_CLOSE_WRITE | IN_MOVED_TO | IN_ONLYDIR) < 0) {
        ::close(events_);
        events_ = -1;
    }
}

FolderEvents::~FolderEvents() {
    if (sees()) {
        ::close(events_);
    }
}

void FolderEvents::wait(std::int64_t ms) const {
    constexpr std::int64_t kMost_ms = 60'000;
    pollfd asked{events_, POLLIN, 0};
    // A negative descriptor is left out by poll: it then only waits.
    ::poll(&asked, 1, static_cast<int>(std::clamp<std::int64_t>(ms, 0, kMost_ms)));
    if (sees()) {
        std::array<char, 4096> told{};
        while (::read(events_, told.data(), told.size()) > 0) {
        }
    }
}

} // namespace crossarm::office
