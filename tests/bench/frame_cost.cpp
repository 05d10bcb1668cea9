// What a frame costs: NewFrame to Render, nothing sent to a graphics card. Not a test: run by hand, built for
// release. Every screen and main state, 200 structures in the register, the whole upkeep protocol.
#include "tests/support/screen_rig.hpp"
#include "tests/support/screen_states.hpp"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <exception>
#include <string>
#include <vector>

namespace {

using namespace crossarm; // NOLINT(google-build-using-namespace): a script, not a room

constexpr int kFrames = 300;

double frame_ms(tests::ScreenRig& rig) {
    const auto before = std::chrono::steady_clock::now();
    rig.platform().frame(rig.face());
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - before;
    return took.count();
}

void measure(const tests::RigLook& look) {
    tests::ScreenRig rig(look);
    tests::VisitScript script(rig.tablet(), tests::scenario_answers());
    std::printf("%dx%d, %.2f px/mm, %zu structures, %zu checkpoints, %d frames a state\n",
                look.glass.width_px, look.glass.height_px, static_cast<double>(look.glass.px_per_mm),
                rig.view().reg.structures.size(), rig.view().protocol().checkpoints.size(), kFrames);
    std::printf("%-32s %10s %10s\n", "state", "median ms", "p99 ms");
    double worst = 0;
    tests::show_every_state(script, [&](const std::string& state) {
        rig.finger().settle();
        rig.face().touch().log = nullptr; // the log is for tests only
        std::vector<double> times;
        for (int i = 0; i < kFrames; ++i) {
            times.push_back(frame_ms(rig));
        }
        std::ranges::sort(times);
        const double median = times[times.size() / 2];
        worst = std::max(worst, median);
        std::printf("%-32s %10.3f %10.3f\n", state.c_str(), median, times[times.size() * 99 / 100]);
    });
    std::printf("worst median: %.3f ms\n\n", worst);
}

} // namespace

int main() {
    try {
        measure({.glass = {1280, 800, 5.88F}, .structures = 200});
        measure({.glass = {800, 1280, 7.43F}, .structures = 200});
        return 0;
    } catch (const std::exception& error) {
        std::fprintf(stderr, "bench_frame_cost: %s\n", error.what());
        return 3;
    }
}
