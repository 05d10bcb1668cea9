#include "ui/screens/checkpoint_inputs.hpp"

#include "checklist/visit/check_value.hpp"
#include "ui/screens/chrome.hpp"
#include "ui/screens/label_out.hpp"
#include "ui/touch/button.hpp"
#include "ui/touch/choice.hpp"
#include "ui/touch/keyboard.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/number_pad.hpp"
#include "ui/touch/text.hpp"

#include <algorithm>
#include <array>

namespace crossarm::ui {

namespace {

void record(const model::Checkpoint& checkpoint, model::Value value, std::string insisted, Wishes& wishes) {
    wishes.push_back(
        Mean{visit::Record{{checkpoint.part, checkpoint.id, std::move(value), std::move(insisted), ""}}});
}

std::string last_time(const View& view, const model::Checkpoint& checkpoint) {
    const auto earlier = view.reg.earlier_of(view.at_hand->structure->id, checkpoint.id);
    if (earlier.empty()) {
        return view.words.say("checkpoint.no_earlier");
    }
    return say(view, "checkpoint.last_time",
               {{"value", value_text(view, &checkpoint, earlier.back().value)},
                {"date", model::for_people(earlier.back().on)}});
}

std::optional<double> last_number(const View& view, const model::Checkpoint& checkpoint,
                                  std::size_t reading) {
    const auto earlier = view.reg.earlier_of(view.at_hand->structure->id, checkpoint.id);
    if (earlier.empty()) {
        return std::nullopt;
    }
    if (const auto* one = std::get_if<model::Quantity>(&earlier.back().value)) {
        return one->value;
    }
    const auto* several = std::get_if<model::Readings>(&earlier.back().value);
    return several != nullptr && reading < several->values.size()
               ? std::optional(several->values[reading].value)
               : std::nullopt;
}

struct Numeric {
    model::Unit unit;
    model::Range hard;
    model::Range usual;
    int decimals;
};

NumberDraft fresh_draft(const View& view, const model::Checkpoint& checkpoint, const Numeric& numeric,
                        std::string title, std::size_t reading) {
    NumberDraft out;
    out.limits.decimals = numeric.decimals;
    out.limits.negative = numeric.hard.low < 0.0;
    out.limits.hard_low = numeric.hard.low;
    out.limits.hard_high = numeric.hard.high;
    out.limits.usual_low = numeric.usual.low;
    out.limits.usual_high = numeric.usual.high;
    out.limits.previous = last_number(view, checkpoint, reading);
    out.title = std::move(title);
    out.unit = model::symbol(numeric.unit);
    out.previous_line = last_time(view, checkpoint);
    out.usual_line = say(view, "checkpoint.usual",
                         {{"low", model::number_for_people(numeric.usual.low, numeric.decimals)},
                          {"high", model::for_people({numeric.usual.high, numeric.unit}, numeric.decimals)}});
    return out;
}

// The value that the drafts hold, when it is whole.
std::optional<model::Value> drafted(const model::Checkpoint& checkpoint, const Drafts& drafts) {
    if (const auto* one = std::get_if<model::NumberInput>(&checkpoint.input)) {
        const std::optional<double> value = number(drafts.number);
        return value ? std::optional(model::Value(model::Quantity{*value, one->unit})) : std::nullopt;
    }
    const auto& several = std::get<model::NumbersInput>(checkpoint.input);
    model::Readings out;
    for (const std::optional<double>& reading : drafts.readings) {
        if (!reading) {
            return std::nullopt;
        }
        out.values.push_back({*reading, several.unit});
    }
    return out;
}

// Keeps a whole value, or asks first why it is unusual (once).
void keep_or_ask(const model::Checkpoint& checkpoint, Drafts& drafts, Wishes& wishes) {
    const std::optional<model::Value> value = drafted(checkpoint, drafts);
    if (!value) {
        return;
    }
    const bool tenfold = check(drafts.number).state == NumberState::Tenfold;
    if (visit::is_unusual(checkpoint, *value) || tenfold) {
        drafts.asking = Asking::WhyUnusual;
        return;
    }
    record(checkpoint, *value, "", wishes);
}

void draw_number(Touch& touch, const View& view, const model::Checkpoint& checkpoint,
                 const model::NumberInput& input, Drafts& drafts, Wishes& wishes) {
    if (drafts.number.usual_line.empty()) { // not prepared yet; the screen's heading is title enough
        drafts.number =
            fresh_draft(view, checkpoint, {input.unit, input.hard, input.usual, input.decimals}, "", 0);
    }
    if (number_pad(touch, "pad", drafts.number)) {
        keep_or_ask(checkpoint, drafts, wishes);
    }
}

void draw_numbers(Touch& touch, const View& view, const model::Checkpoint& checkpoint,
                  const model::NumbersInput& input, Drafts& drafts, Wishes& wishes) {
    const Numeric numeric{input.unit, input.hard, input.usual, input.decimals};
    if (drafts.readings.size() != input.names.size()) {
        drafts.readings.assign(input.names.size(), std::nullopt);
        drafts.reading = 0;
        drafts.number = {};
    }
    std::vector<Option> options;
    for (std::size_t i = 0; i < input.names.size(); ++i) {
        options.push_back({std::to_string(i + 1), input.names[i], std::nullopt,
                           drafts.readings[i]
                               ? model::for_people({*drafts.readings[i], input.unit}, input.decimals)
                               : touch.say("checkpoint.not_yet")});
    }
    if (const auto picked = choice(touch, "reading", options, drafts.reading, 24.0F)) {
        drafts.reading = *picked;
        drafts.number = {};
    }
    if (drafts.number.usual_line.empty()) {
        drafts.number = fresh_draft(view, checkpoint, numeric, input.names[drafts.reading], drafts.reading);
    }
    if (number_pad(touch, "pad", drafts.number)) {
        drafts.readings[drafts.reading] = number(drafts.number);
        const auto open = std::ranges::find_if(drafts.readings, [](const auto& one) { return !one; });
        if (open == drafts.readings.end()) {
            keep_or_ask(checkpoint, drafts, wishes);
        } else {
            drafts.reading = static_cast<std::size_t>(open - drafts.readings.begin());
            drafts.number = {};
        }
    }
}

void draw_grade(Touch& touch, const View& view, const model::Checkpoint& checkpoint,
                const model::GradeInput& input, Wishes& wishes) {
    constexpr std::array kGrades = {model::Grade::Sound, model::Grade::Watch, model::Grade::Repair,
                                    model::Grade::Danger};
    const std::array looks = {&input.sound, &input.watch, &input.repair, &input.danger};
    const visit::Answer* answer = answer_at(view, checkpoint.id);
    const auto* now = answer == nullptr ? nullptr : std::get_if<model::Grade>(&answer->finding.value);
    std::vector<Option> options;
    std::vector<model::Grade> offered;
    std::optional<std::size_t> chosen;
    for (std::size_t i = 0; i < kGrades.size(); ++i) {
        if (!looks[i]->empty()) {
            if (now != nullptr && *now == kGrades[i]) {
                chosen = options.size();
            }
            options.push_back(
                {std::string(name(kGrades[i])), view.words.say(kGrades[i]), mark_of(kGrades[i]), *looks[i]});
            offered.push_back(kGrades[i]);
        }
    }
    if (const auto picked = choice(touch, "grade", options, chosen, 80.0F)) {
        record(checkpoint, offered[*picked], "", wishes);
    }
}

void draw_choice(Touch& touch, const View& view, const model::Checkpoint& checkpoint,
                 const model::ChoiceInput& input, Wishes& wishes) {
    const visit::Answer* answer = answer_at(view, checkpoint.id);
    const model::Option* now = answer == nullptr ? nullptr : visit::picked_option(checkpoint, *answer);
    std::vector<Option> options;
    std::optional<std::size_t> chosen;
    for (const model::Option& option : input.options) {
        if (now != nullptr && now->id == option.id) {
            chosen = options.size();
        }
        options.push_back({option.id, option.title,
                           option.grade ? std::optional(mark_of(*option.grade)) : std::nullopt,
                           option.grade ? view.words.say(*option.grade) : std::string()});
    }
    if (const auto picked = choice(touch, "choice", options, chosen, 60.0F)) {
        record(checkpoint, model::Choice{{input.options[*picked].id}}, "", wishes);
    }
}

void draw_people_here(Touch& touch, const View& view, const model::Checkpoint& checkpoint,
                      const model::PeopleInput& input, Drafts& drafts, Wishes& wishes) {
    for (const model::Person& person : view.reg.people) {
        const bool here = drafts.people.contains(person.id);
        if (button(touch, person.id, person.name,
                   {.emphasis = here ? Emphasis::Chosen : Emphasis::Plain,
                    .second = view.words.say(here ? "checkpoint.is_here" : "checkpoint.tap_if_here")})) {
            if (here) {
                drafts.people.erase(person.id);
            } else {
                drafts.people.insert(person.id);
            }
        }
    }
    const bool enough = std::ssize(drafts.people) >= input.at_least;
    const std::string why =
        enough ? "" : say(view, "checkpoint.people_least", {{"least", std::to_string(input.at_least)}});
    if (button(touch, "keep",
               say(view, "checkpoint.keep_people", {{"count", std::to_string(drafts.people.size())}}),
               {.emphasis = Emphasis::Main, .why_disabled = why})) {
        record(checkpoint, model::Choice{{drafts.people.begin(), drafts.people.end()}}, "", wishes);
    }
}

void draw_text(Touch& touch, const View& view, const model::Checkpoint& checkpoint,
               const model::TextInput& input, Drafts& drafts, Wishes& wishes) {
    if (input.is_sample) {
        const std::string number = offered_sample_number(view, checkpoint);
        if (button(touch, "offered", say(view, "checkpoint.take_number", {{"number", number}}))) {
            record(checkpoint, model::Remark{number}, "", wishes);
        }
    }
    drafts.text.most = static_cast<std::size_t>(input.at_most);
    if (keyboard(touch, "text", drafts.text)) {
        record(checkpoint, model::Remark{drafts.text.text}, "", wishes);
    }
}

struct DrawInput {
    Touch& touch;
    const View& view;
    const model::Checkpoint& checkpoint;
    Drafts& drafts;
    Wishes& wishes;

    void operator()(const model::GradeInput& input) const {
        draw_grade(touch, view, checkpoint, input, wishes);
    }
    void operator()(const model::ChoiceInput& input) const {
        draw_choice(touch, view, checkpoint, input, wishes);
    }
    void operator()(const model::PeopleInput& input) const {
        draw_people_here(touch, view, checkpoint, input, drafts, wishes);
    }
    void operator()(const model::NumberInput& input) const {
        draw_number(touch, view, checkpoint, input, drafts, wishes);
    }
    void operator()(const model::NumbersInput& input) const {
        draw_numbers(touch, view, checkpoint, input, drafts, wishes);
    }
    void operator()(const model::TextInput& input) const {
        draw_text(touch, view, checkpoint, input, drafts, wishes);
    }
};

// A reason, from a short list or in own words. The reason's sentence is what is stored.
template<std::size_t N>
std::optional<std::string> draw_reason(Touch& touch, std::string_view question,
                                       const std::array<const char*, N>& keys, Drafts& drafts) {
    heading(touch, question);
    std::vector<Option> options;
    for (const char* key : keys) {
        options.push_back({key, touch.say(key)});
    }
    options.push_back({"own_words", touch.say("reason.own_words")});
    if (const auto picked = choice(touch, "reason", options, std::nullopt, 60.0F)) {
        if (*picked + 1 < options.size()) {
            return options[*picked].label;
        }
        drafts.own_words_for = drafts.asking;
        drafts.asking = Asking::OwnWords;
        drafts.text = {};
    }
    return std::nullopt;
}

void keep_with_reason(const model::Checkpoint& checkpoint, Asking asked, const std::string& reason,
                      const Drafts& drafts, Wishes& wishes) {
    if (asked == Asking::WhyOut) {
        record(checkpoint, model::OutOfReach{reason}, "", wishes);
    } else if (const auto value = drafted(checkpoint, drafts)) {
        record(checkpoint, *value, reason, wishes);
    }
}

} // namespace

void draw_input(Touch& touch, const View& view, const model::Checkpoint& checkpoint, Drafts& drafts,
                Wishes& wishes) {
    constexpr std::array kUnusual = {"reason.measured_again", "reason.instrument_checked"};
    constexpr std::array kOut = {"reason.live_near", "reason.blocked", "reason.weather",
                                 "reason.no_instrument"};
    std::optional<std::string> reason;
    const Asking asked = drafts.asking == Asking::OwnWords ? drafts.own_words_for : drafts.asking;
    switch (drafts.asking) {
    case Asking::Value:
    case Asking::Again:
        std::visit(DrawInput{touch, view, checkpoint, drafts, wishes}, checkpoint.input);
        return;
    case Asking::WhyUnusual: {
        const auto value = drafted(checkpoint, drafts);
        const std::string written = value ? value_text(view, &checkpoint, *value) : "";
        const bool tenfold = check(drafts.number).state == NumberState::Tenfold;
        reason = draw_reason(
            touch, say(view, tenfold ? "checkpoint.tenfold" : "checkpoint.unusual", {{"value", written}}),
            kUnusual, drafts);
        break;
    }
    case Asking::WhyOut:
        reason = draw_reason(touch, touch.say("checkpoint.why_out"), kOut, drafts);
        break;
    case Asking::OwnWords:
        drafts.text.title = touch.say("reason.title");
        if (keyboard(touch, "own_words", drafts.text)) {
            reason = drafts.text.text;
        }
        break;
    }
    if (reason) {
        keep_with_reason(checkpoint, asked, *reason, drafts, wishes);
    } else if (button(touch, "again", touch.say("checkpoint.type_again"))) {
        drafts.asking = Asking::Again;
        drafts.text = {};
    }
}

} // namespace crossarm::ui
