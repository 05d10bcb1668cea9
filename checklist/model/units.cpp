#include "checklist/model/units.hpp"

#include <array>
#include <cmath>
#include <cstdio>

namespace crossarm::model {

namespace {

struct Row {
    Unit unit;
    std::string_view code;
    std::string_view symbol;
};

constexpr std::array kUnits = {
    Row{Unit::One, "1", ""},
    Row{Unit::Percent, "%", "%"},
    Row{Unit::Kilovolt, "kV", "kV"},
    Row{Unit::Volt, "V", "V"},
    Row{Unit::Ampere, "A", "A"},
    Row{Unit::KilovoltAmpere, "kV.A", "kVA"},
    Row{Unit::Kilowatt, "kW", "kW"},
    Row{Unit::Watt, "W", "W"},
    Row{Unit::Celsius, "Cel", "°C"},
    Row{Unit::Kelvin, "K", "K"},
    Row{Unit::Metre, "m", "m"},
    Row{Unit::Millimetre, "mm", "mm"},
    Row{Unit::MetrePerYear, "m/a", "m/year"},
    Row{Unit::SquareMillimetre, "mm2", "mm²"},
    Row{Unit::SquareCentimetre, "cm2", "cm²"},
    Row{Unit::MetrePerSecond, "m/s", "m/s"},
    Row{Unit::Kilogram, "kg", "kg"},
    Row{Unit::Gram, "g", "g"},
    Row{Unit::GramPerDay, "g/d", "g/day"},
    Row{Unit::Litre, "L", "L"},
    Row{Unit::LitrePerDay, "L/d", "L/day"},
    Row{Unit::PerMinute, "/min", "/min"},
    Row{Unit::Minute, "min", "min"},
    Row{Unit::Hour, "h", "h"},
    Row{Unit::Day, "d", "days"},
    Row{Unit::Month, "mo", "months"},
    Row{Unit::Year, "a", "years"},
    Row{Unit::Second, "s", "s"},
    Row{Unit::NewtonMetre, "N.m", "N·m"},
    Row{Unit::Ohm, "Ohm", "Ω"},
    Row{Unit::MicroOhm, "uOhm", "µΩ"},
    Row{Unit::Megohm, "MOhm", "MΩ"},
    Row{Unit::OhmMetre, "Ohm.m", "Ω·m"},
    Row{Unit::MilligramPerKilogram, "mg/kg", "mg/kg"},
    Row{Unit::MilligramKohPerGram, "mg{KOH}/g", "mg KOH/g"},
    Row{Unit::MillinewtonPerMetre, "mN/m", "mN/m"},
    Row{Unit::PartsPerMillion, "[ppm]", "µL/L"},
    Row{Unit::GramPerCubicMetre, "g/m3", "g/m³"},
    Row{Unit::MegavoltAmpere, "MV.A", "MVA"},
    Row{Unit::KilowattHour, "kW.h", "kWh"},
    Row{Unit::OhmPerKilometre, "Ohm/km", "Ω/km"},
    Row{Unit::KelvinMetrePerWatt, "K.m/W", "K·m/W"},
    Row{Unit::KiloAmpere, "kA", "kA"},
};

const Row& row_of(Unit unit) {
    for (const Row& row : kUnits) {
        if (row.unit == unit) {
            return row;
        }
    }
    return kUnits.front();
}

constexpr std::string_view kNoBreakSpace = "\xC2\xA0";
constexpr std::string_view kMinus = "\xE2\x88\x92";

} // namespace

std::string_view code(Unit unit) {
    return row_of(unit).code;
}

std::optional<Unit> unit_of(std::string_view ucum_code) {
    for (const Row& row : kUnits) {
        if (row.code == ucum_code) {
            return row.unit;
        }
    }
    return std::nullopt;
}

std::string_view symbol(Unit unit) {
    return row_of(unit).symbol;
}

std::string number_for_people(double value, int decimals) {
    if (!std::isfinite(value)) {
        return "?";
    }
    std::array<char, 64> buffer{};
    std::snprintf(buffer.data(), buffer.size(), "%.*f", decimals, std::fabs(value));
    std::string text = buffer.data();
    if (text.find('.') != std::string::npos) {
        text.erase(text.find_last_not_of('0') + 1);
        if (text.back() == '.') {
            text.pop_back();
        }
    }
    return value < 0.0 && text != "0" ? std::string(kMinus) + text : text;
}

std::string for_people(Quantity quantity, int decimals) {
    const std::string number = number_for_people(quantity.value, decimals);
    const std::string_view unit = symbol(quantity.unit);
    return unit.empty() ? number : number + std::string(kNoBreakSpace) + std::string(unit);
}

} // namespace crossarm::model
