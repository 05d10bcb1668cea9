#include "sync/office/settling.hpp"

#include <algorithm>

namespace crossarm::office {

std::vector<std::string> Settling::see(const std::map<std::string, Look>& there, std::int64_t now_ms) {
    std::erase_if(files_, [&](const auto& file) { return !there.contains(file.first); });
    std::vector<std::string> quiet;
    for (const auto& [name, look] : there) {
        const auto [at, is_new] = files_.try_emplace(name, Waiting{look, now_ms, false});
        Waiting& waiting = at->second;
        if (!is_new && waiting.look != look) {
            waiting = {look, now_ms, false};
        }
        if (!waiting.offered && now_ms - waiting.since_ms >= quiet_ms_) {
            waiting.offered = true;
            quiet.push_back(name);
        }
    }
    return quiet;
}

void Settling::again(const std::vector<std::string>& names) {
    for (const std::string& name : names) {
        if (const auto found = files_.find(name); found != files_.end()) {
            found->second.offered = false;
        }
    }
}

std::int64_t Settling::wait_ms(std::int64_t now_ms, std::int64_t otherwise) const {
    std::int64_t wait = otherwise;
    for (const auto& [name, waiting] : files_) {
        if (!waiting.offered) {
            wait = std::min(wait, std::max<std::int64_t>(1, waiting.since_ms + quiet_ms_ - now_ms));
        }
    }
    return wait;
}

} // namespace crossarm::office
