// Waking up when something arrives in a folder.
#pragma once

#include <cstdint>
#include <string>

namespace crossarm::office {

/// Uses inotify: wakes when a file was closed after writing or moved in. It only says that it is time to
/// look; the looking decides. Where inotify is not there, or does not see (a network share written to by
/// another machine), waiting ends by the time alone.
class FolderEvents {
public:
    explicit FolderEvents(const std::string& folder);
    FolderEvents(const FolderEvents&) = delete;
    FolderEvents& operator=(const FolderEvents&) = delete;
    ~FolderEvents();

    /// Whether inotify watches the folder.
    [[nodiscard]] bool sees() const { return events_ >= 0; }
    /// Waits for an arrival, a signal, or until the time is over.
    void wait(std::int64_t ms) const;

private:
    int events_ = -1;
};

} // namespace crossarm::office
