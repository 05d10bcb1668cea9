// Where in the program one is, and what a screen may ask for.
#pragma once

#include "checklist/model/ids.hpp"
#include "checklist/visit/intents.hpp"

#include <string>
#include <variant>
#include <vector>

namespace crossarm::ui {

enum class Screen {
    People,
    Round,
    Structure,
    Part,
    Checkpoint,
    Workings,
    Danger,
    SignOff,
    HandOver,
    Permit,
    Briefing
};

/// A place one can go to and come back from.
struct Place {
    Screen screen = Screen::Round;
    std::string structure; ///< for every screen but People and Round
    std::string part;      ///< for Part; for Permit the step that is looked at, empty for the list of steps
    std::string
        checkpoint; ///< for Checkpoint, Workings, Danger; for Permit, Briefing and SignOff the open form
    bool operator==(const Place&) const = default;
};

struct GoTo {
    Place place;
};
struct GoBack {};
/// A PIN as typed. Whoever carries out the wish checks it, and overwrites it then.
struct GivenPin {
    std::string person;
    std::string digits;
};
/// Another person holds the tablet from now on. The PIN may be left empty only while this person has none.
struct TakeOver {
    std::string person;
    std::string pin = {};
};
/// A first PIN on this tablet, witnessed by somebody who has one; without a witness only while nobody has.
struct SetPin {
    GivenPin fresh;
    GivenPin witness = {};
};
/// As Mean, by the person of the first PIN. All PINs must be right, else nothing is recorded.
struct MeanWithPins {
    visit::Intent intent;
    std::vector<GivenPin> pins;
};
/// What the finger meant about the visit at hand. Once it is kept the session goes on by itself: from an
/// answer to the next step, or back; it stays where a verdict or a reason to stop has to be read first.
struct Mean {
    visit::Intent intent;
};
/// Read it; go on from here.
struct GoOn {};
/// Write the label of the oil sample to print.
struct WriteLabel {};
/// Write the permit to print.
struct WritePermit {};
struct WriteBundle {};
struct SayHandedOver {};

/// The only things a screen can ask for. Screens never write.
using Wish = std::variant<GoTo, GoBack, GoOn, TakeOver, SetPin, Mean, MeanWithPins, WriteLabel, WritePermit,
                          WriteBundle, SayHandedOver>;
using Wishes = std::vector<Wish>;

} // namespace crossarm::ui
