// The units a reading can have: UCUM code in files, SI text on the screen.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace crossarm::model {

enum class Unit {
    One,                  ///< a count or a pure ratio, code "1"
    Percent,              ///< "%"
    Kilovolt,             ///< "kV"
    Volt,                 ///< "V"
    Ampere,               ///< "A"
    KilovoltAmpere,       ///< "kV.A"
    Kilowatt,             ///< "kW"
    Watt,                 ///< "W"
    Celsius,              ///< "Cel", a temperature
    Kelvin,               ///< "K", a temperature difference
    Metre,                ///< "m"
    Millimetre,           ///< "mm"
    MetrePerYear,         ///< "m/a"
    SquareMillimetre,     ///< "mm2"
    SquareCentimetre,     ///< "cm2"
    MetrePerSecond,       ///< "m/s"
    Kilogram,             ///< "kg"
    Gram,                 ///< "g"
    GramPerDay,           ///< "g/d"
    Litre,                ///< "L"
    LitrePerDay,          ///< "L/d"
    PerMinute,            ///< "/min", drops a minute
    Minute,               ///< "min"
    Hour,                 ///< "h"
    Day,                  ///< "d"
    Month,                ///< "mo"
    Year,                 ///< "a"
    Second,               ///< "s"
    NewtonMetre,          ///< "N.m"
    Ohm,                  ///< "Ohm"
    MicroOhm,             ///< "uOhm"
    Megohm,               ///< "MOhm"
    OhmMetre,             ///< "Ohm.m"
    MilligramPerKilogram, ///< "mg/kg"
    MilligramKohPerGram,  ///< "mg{KOH}/g"
    MillinewtonPerMetre,  ///< "mN/m"
    PartsPerMillion,      ///< "[ppm]", gas volume in oil volume
    GramPerCubicMetre,    ///< "g/m3"
    MegavoltAmpere,       ///< "MV.A"
    KilowattHour,         ///< "kW.h"
    OhmPerKilometre,      ///< "Ohm/km"
    KelvinMetrePerWatt,   ///< "K.m/W", thermal resistivity of soil
    KiloAmpere,           ///< "kA"
};

/// The UCUM code written in files.
[[nodiscard]] std::string_view code(Unit unit);
/// The unit of a UCUM code we know; nothing for any other text.
[[nodiscard]] std::optional<Unit> unit_of(std::string_view ucum_code);
/// Text for people, for example "°C", "MΩ", "mm²"; empty for Unit::One.
[[nodiscard]] std::string_view symbol(Unit unit);

/// A number and its unit. `value` is always finite.
struct Quantity {
    double value = 0.0;
    Unit unit = Unit::One;
    bool operator==(const Quantity&) const = default;
};

/// "41.2 kV" with a no-break space and at most `decimals` places (trailing zeros cut), minus as U+2212.
[[nodiscard]] std::string for_people(Quantity quantity, int decimals = 2);
/// The number alone, written as `for_people` writes it.
[[nodiscard]] std::string number_for_people(double value, int decimals = 2);

} // namespace crossarm::model
