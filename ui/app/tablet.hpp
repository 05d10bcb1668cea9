// Everything a tablet has when it is switched on: store, day pack, protocol, limits, words.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/model/protocol.hpp"
#include "checklist/model/register.hpp"
#include "checklist/model/result.hpp"
#include "checklist/model/words.hpp"
#include "checklist/store/store.hpp"
#include "ui/app/trust.hpp"
#include "ui/screens/session.hpp"

#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace crossarm::ui {

struct TabletSettings {
    std::string store;          ///< path of the tablet's store; made when it is not there
    std::string day_pack;       ///< a new day pack to load; may be empty: the newest loaded one serves
    std::string bundles_folder; ///< where bundles are written; empty: a folder "bundles" beside the store
    std::string language = "en";
    Compared office = {}; ///< for the first day pack of an office
};

/// Owns what a session works on.
class Tablet {
public:
    /// Opens the store, loads the day pack into it, reads the assets. Problem when one of them cannot be, or
    /// when there is no day pack at all. `clock` is the wall clock.
    [[nodiscard]] static model::Result<std::unique_ptr<Tablet>>
    switch_on(const TabletSettings& settings, std::function<model::Timestamp()> clock);

    [[nodiscard]] Session& session() { return *session_; }
    [[nodiscard]] store::Store& store() { return store_; }
    [[nodiscard]] const model::Words& words() const { return words_; }
    [[nodiscard]] const model::Protocol& protocol() const { return protocols_.front(); } ///< of upkeep
    [[nodiscard]] const model::Register& reg() const { return register_; }

private:
    explicit Tablet(store::Store store) : store_(std::move(store)) {}

    store::Store store_;
    std::vector<model::Protocol> protocols_;
    model::LimitLibrary limits_;
    model::Register register_;
    model::Words words_;
    std::unique_ptr<Session> session_;
};

/// The wall clock with the place's UTC offset. The only place that asks it.
[[nodiscard]] model::Timestamp wall_clock();

} // namespace crossarm::ui
