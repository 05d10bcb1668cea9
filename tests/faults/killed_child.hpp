// A child process that tells what it has done, line by line, and is killed in the middle of it.
#pragma once

#include "tests/support/catch.hpp"

#include <array>
#include <chrono>
#include <functional>
#include <iostream>
#include <string>

#include <csignal>
#include <sys/wait.h>
#include <unistd.h>

namespace crossarm::tests {

/// In the child: the line has left the process when this returns.
inline void tell(int pipe, const std::string& line) {
    if (::write(pipe, line.data(), line.size()) != static_cast<ssize_t>(line.size())) {
        ::_exit(3);
    }
}

/// Runs `work` in a child, kills it `more` after it told `lines` lines, and calls `told` with each line it
/// managed to tell. No connection to a store may be open here: SQLite's are not carried over a fork. `work`
/// gets the pipe for tell() and must not return.
inline void run_and_kill(const std::function<void(int)>& work, std::size_t lines,
                         std::chrono::microseconds more,
                         const std::function<void(const std::string&)>& told) {
    std::array<int, 2> ends{};
    REQUIRE(::pipe(ends.data()) == 0);
    std::cout.flush();
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        ::close(ends[0]);
        work(ends[1]);
        ::_exit(4);
    }
    ::close(ends[1]);
    std::string rest;
    std::size_t taken = 0;
    const auto take_more = [&] {
        std::array<char, 4096> buffer{};
        const ssize_t size = ::read(ends[0], buffer.data(), buffer.size());
        if (size <= 0) {
            return false;
        }
        rest.append(buffer.data(), static_cast<std::size_t>(size));
        for (std::size_t end = rest.find('\n'); end != std::string::npos; end = rest.find('\n')) {
            told(rest.substr(0, end));
            rest.erase(0, end + 1);
            ++taken;
        }
        return true;
    };
    while (taken < lines && take_more()) {
    }
    const auto until = std::chrono::steady_clock::now() + more;
    while (std::chrono::steady_clock::now() < until) {
    }
    ::kill(child, SIGKILL);
    while (take_more()) {
    }
    ::close(ends[0]);
    int status = 0;
    REQUIRE(::waitpid(child, &status, 0) == child);
    REQUIRE(WIFSIGNALED(status));
    REQUIRE(WTERMSIG(status) == SIGKILL);
}

} // namespace crossarm::tests
