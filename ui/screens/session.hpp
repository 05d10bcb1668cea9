// Between the screens and the store: carries out wishes, keeps the view up to date.
#pragma once

#include "checklist/model/result.hpp"
#include "checklist/store/store.hpp"
#include "ui/screens/drafts.hpp"
#include "ui/screens/view.hpp"

#include <functional>
#include <string>
#include <vector>

namespace crossarm::ui {

/// What a session works on. Everything outlives it.
struct Supplies {
    store::Store& store;
    const std::vector<model::Protocol>& protocols; ///< of every kind of visit; the first one stands for none
    const model::LimitLibrary& limits;
    const model::Register& reg;
    const model::Words& words;
    std::string office;
    std::int64_t day_pack = 0;
    std::string bundles_folder;
    std::function<model::Timestamp()> clock;                        ///< the wall clock, with offset
    std::function<double()> since_boot = store::seconds_since_boot; ///< for the waits after wrong PINs
    store::PinCost pin_cost = store::kPinCost;                      ///< of a new PIN; tests make it cheap
};

/// The one place where a wish becomes an entry: decide, append and commit, fold, and only then the view shows
/// it. Reopening after a crash makes a new session on the same store.
class Session {
public:
    explicit Session(Supplies supplies);

    [[nodiscard]] const View& view() const { return view_; }
    [[nodiscard]] const Place& place() const { return way_.back(); }
    [[nodiscard]] Drafts& drafts() { return drafts_; }
    [[nodiscard]] bool can_go_back() const { return way_.size() > 1; }

    /// Carries out wishes in order, and overwrites the PINs in them. True when the place changed.
    bool carry_out(Wishes wishes);
    /// Before each frame: the clock of the view.
    void look_at_clock();

private:
    void go(const Place& place);
    void load_visit(const std::string& structure);
    [[nodiscard]] const model::Protocol* protocol_of(const std::string& id) const;
    void refresh();
    void rework();
    void refresh_round();
    void take_up_work();
    /// `confirmed`: the people whose PINs were right.
    void mean(const visit::Intent& intent, const std::string& who, const std::vector<std::string>& confirmed);
    void carry_out_one(const Wish& wish);
    void refresh_pins();
    [[nodiscard]] bool is_right(const GivenPin& pin);
    [[nodiscard]] bool are_confirmed(const visit::Intent& intent, const std::string& who,
                                     const std::vector<std::string>& confirmed);
    void leave_people();
    void take_over(const TakeOver& wish);
    void set_pin(const SetPin& wish);
    void mean_with_pins(const MeanWithPins& wish);
    static void wipe_pins(Wish& wish);
    void clear_notices();
    void go_on();
    void go_back();
    void after_keeping(const visit::Intent& intent);
    void tell_written(const model::Result<std::string>& written, const char* told);
    void write_bundle();
    void say(const model::Problem& problem);

    Supplies supplies_;
    View view_;
    std::vector<Place> way_;
    Drafts drafts_;
};

} // namespace crossarm::ui
