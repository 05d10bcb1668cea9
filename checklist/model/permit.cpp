#include "checklist/model/permit.hpp"

#include "checklist/model/json_reader.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <initializer_list>
#include <utility>

namespace crossarm::model::permit {

namespace {

using Json = nlohmann::json;

constexpr double kMostMm2 = 1000.0;    // no hand lifts a thicker earth
constexpr double kMostMetres = 1000.0; // what is farther is not near the work
constexpr int kMostTools = 10000;

// Each act says once what its members are called in files; the writer and the reader below go over that.
template<typename Fields>
void fields(Fields& f, Prepared& a) {
    f("number", a.number);
    f("work", a.work);
    f("limits", a.limits);
}
template<typename Fields>
void fields(Fields& f, PointAdded& a) {
    f("point", a.point);
    f("device", a.device);
    f("place", a.place);
    f("side", a.side);
}
template<typename Fields>
void fields(Fields& f, PointOpened& a) {
    f("point", a.point);
    f("position", a.position);
}
template<typename Fields>
void fields(Fields& f, PointLocked& a) {
    f("point", a.point);
    f("lock", a.lock);
    f("label", a.label);
    f("keyHeldBy", a.key_held_by);
}
template<typename Fields>
void fields(Fields& f, PointUnlocked& a) {
    f("point", a.point);
}
template<typename Fields>
void fields(Fields& f, SuppliesAsked& a) {
    f.word("generators", a.generators, {"none", "locked_off", "earthed"});
    f.word("solar", a.solar, {"none", "locked_off", "earthed"});
    f.word("ring", a.ring, {"none", "locked_off", "earthed"});
    f("askedOf", a.asked_of);
}
template<typename Fields>
void fields(Fields& f, DetectorProved& a) {
    f("side", a.side);
    f("detector", a.detector);
    f("after", a.after);
    f("indicated", a.indicated);
}
template<typename Fields>
void fields(Fields& f, ConductorTested& a) {
    f("side", a.side);
    f.word("conductor", a.conductor, {"A", "B", "C", "N"});
    f.word("result", a.result, {"none", "indicated", "not_reached"});
}
template<typename Fields>
void fields(Fields& f, EarthEndOn& a) {
    f("earth", a.earth);
    f("kind", a.kind);
    f("side", a.side);
    f("party", a.party);
    f("place", a.place);
    f("fixedBy", a.fixed_by);
    f.number("sizeMm2", a.size_mm2, kMostMm2);
}
template<typename Fields>
void fields(Fields& f, LineEndOn& a) {
    f("earth", a.earth);
}
template<typename Fields>
void fields(Fields& f, LineEndOff& a) {
    f("earth", a.earth);
}
template<typename Fields>
void fields(Fields& f, EarthEndOff& a) {
    f("earth", a.earth);
}
template<typename Fields>
void fields(Fields& f, LivePartNoted& a) {
    f("what", a.what);
    f.number("distanceM", a.distance_m, kMostMetres);
}
template<typename Fields>
void fields(Fields& f, ZoneMarked& a) {
    f("how", a.how);
}
template<typename Fields>
void fields(Fields& f, Briefed& a) {
    f("person", a.person);
}
template<typename Fields>
void fields(Fields& f, Issued& a) {
    f("party", a.party);
    f("holder", a.holder);
    f("until", a.until);
    f("second", a.second);
    f("signing", a.signing);
}
template<typename Fields>
void fields(Fields& f, Accepted& a) {
    f("party", a.party);
    f("signing", a.signing);
}
template<typename Fields>
void fields(Fields& f, Suspended& a) {
    f("party", a.party);
    f("reason", a.reason);
}
template<typename Fields>
void fields(Fields& f, Resumed& a) {
    f("party", a.party);
}
template<typename Fields>
void fields(Fields& f, Transferred& a) {
    f("party", a.party);
    f("holder", a.holder);
}
template<typename Fields>
void fields(Fields& f, Extended& a) {
    f("party", a.party);
    f("until", a.until);
}
template<typename Fields>
void fields(Fields& f, TakenBack& a) {
    f("party", a.party);
}
template<typename Fields>
void fields(Fields& f, SignedOn& a) {
    f("party", a.party);
    f("person", a.person);
}
template<typename Fields>
void fields(Fields& f, SignedOff& a) {
    f("person", a.person);
    f("reason", a.reason);
}
template<typename Fields>
void fields(Fields& f, ToolsOut& a) {
    f("party", a.party);
    f.count("count", a.count);
}
template<typename Fields>
void fields(Fields& f, ToolsIn& a) {
    f("party", a.party);
    f.count("count", a.count);
}
template<typename Fields>
void fields(Fields& f, LeadDecided& a) {
    f.word("matter", a.matter, {"earth_not_fitted", "tools_not_found"});
    f("about", a.about);
    f("reason", a.reason);
}
template<typename Fields>
void fields(Fields& f, HandedBack& a) {
    f("party", a.party);
    f("remarks", a.remarks);
    f("signing", a.signing);
}
template<typename Fields>
void fields(Fields& f, Cancelled& a) {
    f("second", a.second);
    f("signing", a.signing);
}

const char* word_for(EarthKind kind) {
    return kind == EarthKind::Control ? "control" : "working";
}

class Writer {
public:
    Json json = Json::object();
    void operator()(const char* name, const std::string& text) { json[name] = text; }
    void operator()(const char* name, Side side) { json[name] = word_of(side); }
    void operator()(const char* name, EarthKind kind) { json[name] = word_for(kind); }
    void operator()(const char* name, bool yes) { json[name] = yes; }
    void operator()(const char* name, Timestamp at) { json[name] = to_text(at); }
    void operator()(const char* name, const Signing& signing) {
        json[name] = {{"over", signing.over}, {"strokes", signing.strokes}};
    }
    void word(const char* name, const std::string& text, std::initializer_list<std::string_view> /*known*/) {
        json[name] = text;
    }
    void number(const char* name, double value, double /*most*/) { json[name] = value; }
    void count(const char* name, int value) { json[name] = value; }
};

class Reader {
public:
    explicit Reader(const JsonReader& data) : data_(data) {}
    void operator()(const char* name, std::string& text) { text = data_.text(name); }
    void operator()(const char* name, Side& side) {
        side = is_first(name, word_of(Side::Hv), word_of(Side::Lv)) ? Side::Hv : Side::Lv;
    }
    void operator()(const char* name, EarthKind& kind) {
        kind = is_first(name, word_for(EarthKind::Control), word_for(EarthKind::Working))
                   ? EarthKind::Control
                   : EarthKind::Working;
    }
    void operator()(const char* name, bool& yes) {
        if (!data_.has(name)) {
            data_.wrong(name, "is missing", "write true or false");
        }
        yes = data_.boolean_or(name, false);
    }
    void operator()(const char* name, Timestamp& at) { at = data_.time(name); }
    void operator()(const char* name, Signing& signing) {
        const JsonReader inner = data_.object(name);
        signing.over = inner.text("over");
        signing.strokes = inner.text("strokes");
    }
    void word(const char* name, std::string& text, std::initializer_list<std::string_view> known) {
        text = data_.text(name);
        if (std::ranges::find(known, text) == known.end()) {
            data_.wrong(name, "has the unknown answer \"" + text + "\"", "take the file of a newer program");
        }
    }
    void number(const char* name, double& value, double most) {
        value = data_.number(name);
        if (!(value >= 0.0 && value <= most)) {
            data_.wrong(name, "is out of range",
                        "write a number from 0 to " + std::to_string(std::lround(most)));
        }
    }
    void count(const char* name, int& value) {
        const std::int64_t read = data_.integer(name);
        if (read < 1 || read > kMostTools) {
            data_.wrong(name, "is out of range", "write a count from 1 to " + std::to_string(kMostTools));
            return;
        }
        value = static_cast<int>(read);
    }

private:
    [[nodiscard]] bool is_first(const char* name, std::string_view first, std::string_view second) const {
        const std::string text = data_.text(name);
        if (text != first && text != second) {
            data_.wrong(name, "is \"" + text + "\"",
                        "write \"" + std::string(first) + "\" or \"" + std::string(second) + "\"");
        }
        return text == first;
    }
    const JsonReader& data_;
};

constexpr std::array<std::string_view, std::variant_size_v<Act>> kNames = {
    "prepared",        "point_added",      "point_opened", "point_locked", "point_unlocked", "supplies_asked",
    "detector_proved", "conductor_tested", "earth_end_on", "line_end_on",  "line_end_off",   "earth_end_off",
    "live_part_noted", "zone_marked",      "briefed",      "issued",       "accepted",       "suspended",
    "resumed",         "transferred",      "extended",     "taken_back",   "signed_on",      "signed_off",
    "tools_out",       "tools_in",         "lead_decided", "handed_back",  "cancelled"};

template<std::size_t... I>
Act read_as(std::size_t which, Reader& reader, std::index_sequence<I...> /*all*/) {
    Act out;
    const auto try_one = [&]<typename One>(std::size_t index, One one) {
        if (index == which) {
            fields(reader, one);
            out = std::move(one);
        }
    };
    (try_one(I, std::variant_alternative_t<I, Act>{}), ...);
    return out;
}

} // namespace

const char* word_of(Side side) {
    return side == Side::Hv ? "hv" : "lv";
}

std::string_view name(const Act& act) {
    return kNames.at(act.index());
}

Json to_json(const Act& act) {
    Writer writer;
    std::visit([&](auto one) { fields(writer, one); }, act);
    return writer.json;
}

bool is_act(std::string_view name) {
    return std::ranges::find(kNames, name) != kNames.end();
}

Act read_act(std::string_view name, const JsonReader& data) {
    const auto found = std::ranges::find(kNames, name);
    require(found != kNames.end(), "read_act is asked for the name of an act");
    Reader reader(data);
    return read_as(static_cast<std::size_t>(found - kNames.begin()), reader,
                   std::make_index_sequence<std::variant_size_v<Act>>());
}

} // namespace crossarm::model::permit
