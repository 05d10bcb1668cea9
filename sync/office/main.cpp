// crossarm-office: gives the command its words and the time, prints what it says.
#include "sync/office/command.hpp"

#include <chrono>
#include <cstdio>
#include <ctime>
#include <string>
#include <vector>

namespace {

crossarm::model::Timestamp now() {
    const auto since = std::chrono::system_clock::now().time_since_epoch();
    const std::int64_t ms = std::chrono::duration_cast<std::chrono::milliseconds>(since).count();
    const auto seconds = static_cast<std::time_t>(ms / 1000);
    std::tm here{};
    const bool known = ::localtime_r(&seconds, &here) != nullptr;
    return {ms, static_cast<std::int16_t>(known ? here.tm_gmtoff / 60 : 0)};
}

} // namespace

int main(int argc, char* argv[]) {
    const auto ending = crossarm::office::run_command({argv + 1, argv + argc}, now());
    std::fwrite(ending.err.data(), 1, ending.err.size(), stderr);
    const bool printed = std::fwrite(ending.out.data(), 1, ending.out.size(), stdout) == ending.out.size() &&
                         std::fflush(stdout) == 0;
    return printed ? ending.code : 2;
}
