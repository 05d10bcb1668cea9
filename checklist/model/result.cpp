#include "checklist/model/result.hpp"

#include <cstdio>
#include <cstdlib>

namespace crossarm::model {

std::string to_text(const Problem& problem) {
    return problem.where + ": " + problem.what + "; " + problem.remedy;
}

void require(bool condition, const char* sentence) {
    if (!condition) {
        std::fprintf(stderr, "crossarm: internal fault: %s\n", sentence);
        std::abort();
    }
}

} // namespace crossarm::model
