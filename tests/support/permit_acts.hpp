// The acts of one regular permit, in order, with made-up points, detectors and earths.
#pragma once

#include "checklist/model/digest.hpp"
#include "checklist/visit/permit.hpp"

#include <string>
#include <utility>
#include <vector>

namespace crossarm::tests {

namespace acts = model::permit;

/// Who does what in it.
struct PermitPeople {
    std::string issuer = "issuer";
    std::string holder = "doer";
    std::string second = "mate";
};

inline acts::Signing signing_over(const visit::permit::State& state, const std::string& structure) {
    return {model::sha256_hex(visit::permit::sheet_text(state, structure)), "100,100 200,120;210,90 220,95"};
}

/// From prepared to the zone marked: two points, both sides proved, one control earth on each side.
inline std::vector<acts::Act> isolating_acts(const PermitPeople& people, const std::string& number = "QV 7") {
    using namespace model::permit;
    std::vector<Act> out = {
        Prepared{number, "Yearly upkeep", "Nothing above the crossarm"},
        PointAdded{"LV1", "LV breaker", "box at the pole", Side::Lv},
        PointAdded{"HV1", "HV fuses", "crossarm", Side::Hv},
        PointOpened{"LV1", "open, handle down"},
        PointLocked{"LV1", "lock 11", "label 11", people.issuer},
        PointOpened{"HV1", "three tubes down, gap seen"},
        PointLocked{"HV1", "tubes in the truck", "label 12", people.issuer},
        SuppliesAsked{"none", "none", "none", "every house on the list"},
    };
    for (const Side side : {Side::Hv, Side::Lv}) {
        const std::string detector = side == Side::Hv ? "D-HV 3" : "D-LV 5";
        out.push_back(DetectorProved{side, detector, false, true});
        for (const std::string_view conductor : visit::permit::conductors(side)) {
            out.push_back(ConductorTested{side, std::string(conductor), "none"});
        }
        out.push_back(DetectorProved{side, detector, true, true});
        const std::string earth = side == Side::Hv ? "E-21" : "E-22";
        out.push_back(EarthEndOn{earth, EarthKind::Control, side, "", "pole foot", people.holder, 1000.0});
        out.push_back(LineEndOn{earth});
    }
    out.push_back(LivePartNoted{"Line above the fuses", 2.0});
    out.push_back(ZoneMarked{"Barrier all round, height mark"});
    return out;
}

/// An act and who does it; the signatures stand over the sheet of `state`.
struct NextAct {
    acts::Act act;
    std::string by;
};

inline NextAct issuing(const visit::permit::State& state, const std::string& structure,
                       const PermitPeople& people, model::Timestamp until, const std::string& party = "A") {
    return {acts::Issued{party, people.holder, until, people.second, signing_over(state, structure)},
            people.issuer};
}
inline NextAct accepting(const visit::permit::State& state, const std::string& structure,
                         const PermitPeople& people, const std::string& party = "A") {
    return {acts::Accepted{party, signing_over(state, structure)}, people.holder};
}
inline NextAct handing_back(const visit::permit::State& state, const std::string& structure,
                            const PermitPeople& people, const std::string& party = "A") {
    return {acts::HandedBack{party, "", signing_over(state, structure)}, people.holder};
}
inline NextAct cancelling(const visit::permit::State& state, const std::string& structure,
                          const PermitPeople& people) {
    return {acts::Cancelled{people.second, signing_over(state, structure)}, people.issuer};
}

/// Control earths off and then the locks, as the permit stands.
inline std::vector<acts::Act> clearing_acts(const visit::permit::State& state, bool locks = true) {
    std::vector<acts::Act> out;
    for (const visit::permit::Earth& earth : state.earths) {
        if (earth.line_end) {
            out.push_back(acts::LineEndOff{earth.id});
        }
        if (earth.earth_end) {
            out.push_back(acts::EarthEndOff{earth.id});
        }
    }
    for (const visit::permit::Point& point : state.points) {
        if (locks && point.locked) {
            out.push_back(acts::PointUnlocked{point.id});
        }
    }
    return out;
}

} // namespace crossarm::tests
