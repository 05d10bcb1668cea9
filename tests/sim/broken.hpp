// A promise that did not hold: ends the run of this seed.
#pragma once

#include "checklist/model/result.hpp"

#include <stdexcept>
#include <string>

namespace crossarm::tests {

class Broken : public std::runtime_error {
public:
    using std::runtime_error::runtime_error;
};

inline void promise(bool holds, const std::string& text) {
    if (!holds) {
        throw Broken(text);
    }
}
template<typename T>
T must(model::Result<T> result, const std::string& text) {
    promise(result.ok(), text + (result.ok() ? "" : ": " + model::to_text(result.problem())));
    return std::move(result).value();
}
inline void must(const model::Done& done, const std::string& text) {
    promise(done.ok(), text + (done.ok() ? "" : ": " + model::to_text(done.problem())));
}

} // namespace crossarm::tests
