// crossarm-office: gives the command its words and the time, prints what it says.
#include "sync/office/command.hpp"

#include <chrono>
#include <csignal>
#include <cstdio>
#include <ctime>
#include <string>
#include <vector>

#include <unistd.h>

namespace {

volatile std::sig_atomic_t asked_to_end = 0;

/// Ends waiting too: no SA_RESTART.
void end_when_asked() {
    struct sigaction act{};
    act.sa_flags = static_cast<int>(SA_RESETHAND); // the second time it ends at once
    act.sa_handler = [](int) { asked_to_end = 1; };
    for (const int signal : {SIGINT, SIGTERM}) {
        ::sigaction(signal, &act, nullptr);
    }
}

void print(std::FILE* file, const std::string& text) {
    std::fwrite(text.data(), 1, text.size(), file);
    std::fflush(file);
}

crossarm::model::Timestamp now() {
    const auto since = std::chrono::system_clock::now().time_since_epoch();
    const std::int64_t ms = std::chrono::duration_cast<std::chrono::milliseconds>(since).count();
    const auto seconds = static_cast<std::time_t>(ms / 1000);
    std::tm here{};
    const bool known = ::localtime_r(&seconds, &here) != nullptr;
    return {ms, static_cast<std::int16_t>(known ? here.tm_gmtoff / 60 : 0)};
}

/// A bar on the terminal, drawn anew at every whole percent.
void draw_bar(std::size_t done, std::size_t all) {
    static std::size_t shown = 101;
    const std::size_t percent = all == 0 ? 100 : 100 * done / all;
    if (percent == shown) {
        return;
    }
    shown = percent;
    const std::string bar = std::string(percent / 2, '#') + std::string(50 - percent / 2, '.');
    std::fprintf(stderr, "\r[%s] %3zu %% (%zu of %zu)%s", bar.c_str(), percent, done, all,
                 done == all ? "\n" : "");
}

} // namespace

int main(int argc, char* argv[]) {
    end_when_asked();
    const crossarm::office::Surroundings around{
        now, [](const std::string& text) { print(stdout, text); },
        [](const std::string& text) { print(stderr, text); }, [] { return asked_to_end == 0; },
        ::isatty(STDERR_FILENO) != 0 ? crossarm::office::Progress(draw_bar) : crossarm::office::Progress()};
    const auto ending = crossarm::office::run_command({argv + 1, argv + argc}, around);
    std::fwrite(ending.err.data(), 1, ending.err.size(), stderr);
    const bool printed = std::fwrite(ending.out.data(), 1, ending.out.size(), stdout) == ending.out.size() &&
                         std::fflush(stdout) == 0;
    return printed ? ending.code : 2;
}
