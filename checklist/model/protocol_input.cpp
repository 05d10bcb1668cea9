// What a checkpoint of a protocol file takes as its answer.
#include "checklist/model/protocol_input.hpp"

#include "checklist/model/nearest.hpp"
#include "checklist/model/protocol_fields.hpp"

#include <algorithm>

namespace crossarm::model {

namespace {

constexpr std::size_t kShortText = 60;
constexpr std::size_t kLongText = 300;

std::vector<std::string> unit_codes() {
    std::vector<std::string> out;
    for (int i = 0; i <= static_cast<int>(Unit::KiloAmpere); ++i) {
        out.emplace_back(code(static_cast<Unit>(i)));
    }
    return out;
}

Unit read_unit(const JsonReader& from) {
    const std::string written = from.text("unit");
    const std::optional<Unit> unit = unit_of(written);
    if (!unit) {
        from.wrong("unit", unknown_word("unit", written.substr(0, kShortText), unit_codes()),
                   "write a UCUM code that this program knows, for example \"kV\"");
    }
    return unit.value_or(Unit::One);
}

// The part that one reading and several have in common.
template<typename T>
void read_ranges(const JsonReader& from, T& into) {
    into.unit = read_unit(from);
    into.hard = range(from, "hard");
    into.usual = range(from, "usual");
    into.decimals = whole(from, "decimals", 0, 3);
    if (!into.hard.holds(into.usual.low) || !into.hard.holds(into.usual.high)) {
        from.wrong("usual", "the usual range reaches outside the hard one", "widen hard or narrow usual");
    }
}

GradeInput read_grade(const JsonReader& from) {
    known_members(from, {"kind", "sound", "watch", "repair", "danger"});
    const auto offered = [&](const char* name) {
        return from.has(name) ? sentence(from, name, 1, kShortText) : std::string();
    };
    GradeInput out{offered("sound"), offered("watch"), offered("repair"), offered("danger")};
    const int count = int{!out.sound.empty()} + int{!out.watch.empty()} + int{!out.repair.empty()} +
                      int{!out.danger.empty()};
    if (count < 2) {
        from.wrong("kind", "fewer than two grades are offered", "say what two or more grades look like here");
    }
    return out;
}

Option read_option(const JsonReader& from) {
    known_members(from, {"id", "title", "grade", "stops"});
    Option out;
    out.id = id_text(from, "id");
    out.title = sentence(from, "title", 1, kShortText);
    if (from.has("grade")) {
        out.grade = one_of<Grade>(from, "grade",
                                  {{"sound", Grade::Sound},
                                   {"watch", Grade::Watch},
                                   {"repair", Grade::Repair},
                                   {"danger", Grade::Danger}});
    }
    if (from.has("stops")) {
        out.stops = sentence(from, "stops", 1, kLongText);
    }
    return out;
}

ChoiceInput read_choice(const JsonReader& from) {
    known_members(from, {"kind", "options"});
    ChoiceInput out;
    for (const JsonReader& item : from.objects("options")) {
        Option option = read_option(item);
        if (std::ranges::find(out.options, option.id, &Option::id) != out.options.end()) {
            item.wrong("id", "the id \"" + option.id + "\" is there twice", "give each option its own id");
        }
        out.options.push_back(std::move(option));
    }
    no_more_than(from, "options", 20, out.options.size());
    if (out.options.size() < 2) {
        from.wrong("options", "there are fewer than two options", "offer at least two");
    } else if (std::ranges::none_of(out.options, [](const Option& o) { return o.stops.empty(); })) {
        from.wrong("options", "every option stops the stage", "offer one with which the work goes on");
    }
    return out;
}

NumbersInput read_numbers(const JsonReader& from) {
    known_members(from, {"kind", "unit", "hard", "usual", "decimals", "names"});
    NumbersInput out;
    read_ranges(from, out);
    out.names = sentences(from, "names", 1, kShortText);
    if (out.names.size() < 2 || out.names.size() > 12) {
        from.wrong("names", "these are not 2 to 12 names", "name each of the readings");
    }
    for (std::size_t i = 0; i < out.names.size(); ++i) {
        if (std::find(out.names.begin(), out.names.begin() + static_cast<std::ptrdiff_t>(i), out.names[i]) !=
            out.names.begin() + static_cast<std::ptrdiff_t>(i)) {
            from.wrong(("names/" + std::to_string(i)).c_str(),
                       "the name \"" + out.names[i] + "\" is there twice", "give each reading its own name");
        }
    }
    return out;
}

} // namespace

Input read_input(const JsonReader& from) {
    enum class Kind { Grade, Choice, People, Number, Numbers, Text };
    const Kind kind = one_of<Kind>(from, "kind",
                                   {{"grade", Kind::Grade},
                                    {"choice", Kind::Choice},
                                    {"people", Kind::People},
                                    {"number", Kind::Number},
                                    {"numbers", Kind::Numbers},
                                    {"text", Kind::Text}});
    switch (kind) {
    case Kind::Choice:
        return read_choice(from);
    case Kind::People:
        known_members(from, {"kind", "at_least"});
        return PeopleInput{whole(from, "at_least", 1, 50)};
    case Kind::Number: {
        known_members(from, {"kind", "unit", "hard", "usual", "decimals"});
        NumberInput out;
        read_ranges(from, out);
        return out;
    }
    case Kind::Numbers:
        return read_numbers(from);
    case Kind::Text:
        known_members(from, {"kind", "at_most", "is_sample"});
        return TextInput{whole(from, "at_most", 1, 2000), from.boolean_or("is_sample", false)};
    case Kind::Grade:
        break;
    }
    return read_grade(from);
}

} // namespace crossarm::model
