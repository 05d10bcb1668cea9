// Whether what a protocol names is there, and whether a visit can get through it.
#include "checklist/model/protocol_check.hpp"

#include "checklist/model/nearest.hpp"

#include <algorithm>
#include <array>

namespace crossarm::model {

namespace {

constexpr std::array<const char*, 7> kStages = {"arrive",  "brief",    "permit",   "work",
                                                "restore", "sign_off", "hand_over"};

template<typename T>
std::vector<std::string> ids_of(const std::vector<T>& all) {
    std::vector<std::string> out;
    out.reserve(all.size());
    for (const T& one : all) {
        out.push_back(one.id);
    }
    return out;
}

struct Check {
    const Protocol& protocol;
    const std::string& file;

    [[nodiscard]] Problem problem(const std::string& place, const std::string& what,
                                  const std::string& remedy) const {
        return {file + ": " + place, what, remedy};
    }
    [[nodiscard]] Problem unknown(const std::string& place, const char* what, const std::string& word,
                                  const std::vector<std::string>& known) const {
        return problem(place, unknown_word(what, word, known),
                       std::string("name a ") + what + " of this file");
    }

    [[nodiscard]] Done stages() const {
        for (std::size_t i = 0; i < kStages.size(); ++i) {
            if (i >= protocol.stages.size() || protocol.stages[i].id != kStages[i]) {
                return problem(
                    "/stages/" + std::to_string(i),
                    std::string("stage ") + std::to_string(i + 1) + " is not \"" + kStages[i] + "\"",
                    "a visit has these stages in this order: arrive, brief, permit, work, restore, "
                    "sign_off, hand_over");
            }
        }
        if (protocol.stages.size() > kStages.size()) {
            return problem("/stages/7", "there is an eighth stage", "take it out");
        }
        return {};
    }

    template<typename T>
    [[nodiscard]] Done once(const std::vector<T>& all, const char* list) const {
        const std::vector<std::string> ids = ids_of(all);
        for (std::size_t i = 0; i < ids.size(); ++i) {
            const auto first = static_cast<std::size_t>(std::ranges::find(ids, ids[i]) - ids.begin());
            if (first != i) {
                return problem(std::string("/") + list + "/" + std::to_string(i) + "/id",
                               "the id \"" + ids[i] + "\" is already at /" + list + "/" +
                                   std::to_string(first),
                               "give each its own id");
            }
        }
        return {};
    }

    /// The checkpoint named `id`, when it stands before number `before` in the file.
    [[nodiscard]] Result<const Checkpoint*> earlier(const std::string& id, std::size_t before,
                                                    const std::string& place) const {
        const auto found = std::ranges::find(protocol.checkpoints, id, &Checkpoint::id);
        if (found == protocol.checkpoints.end()) {
            return unknown(place, "checkpoint", id, ids_of(protocol.checkpoints));
        }
        if (static_cast<std::size_t>(found - protocol.checkpoints.begin()) >= before) {
            return problem(place, "\"" + id + "\" is asked only later", "put it before this checkpoint");
        }
        return &*found;
    }

    [[nodiscard]] Done condition(const Condition& c, std::size_t index, const std::string& place) const {
        if (!c.nameplate.empty()) {
            return {};
        }
        const auto other = earlier(c.checkpoint, index, place + "/checkpoint");
        if (!other) {
            return other.problem();
        }
        const auto* choice = std::get_if<ChoiceInput>(&(*other)->input);
        if (choice == nullptr) {
            return problem(place + "/checkpoint", "\"" + c.checkpoint + "\" is not a choice",
                           "name a checkpoint whose answer is one of several options");
        }
        for (std::size_t i = 0; i < c.any_of.size(); ++i) {
            const std::vector<std::string> options = ids_of(choice->options);
            if (std::ranges::find(options, c.any_of[i]) == options.end()) {
                return problem(place + "/any_of/" + std::to_string(i),
                               unknown_word("option", c.any_of[i], options),
                               "name an option of \"" + c.checkpoint + "\"");
            }
        }
        return {};
    }

    [[nodiscard]] Done checkpoint(std::size_t index) const {
        const Checkpoint& c = protocol.checkpoints[index];
        const std::string place = "/checkpoints/" + std::to_string(index);
        if (protocol.stage(c.stage) == nullptr) {
            return unknown(place + "/stage", "stage", c.stage, ids_of(protocol.stages));
        }
        if (c.stage == "permit") {
            return problem(place + "/stage",
                           "the permit has no checkpoints: the program itself asks for its steps",
                           "put this one into another stage");
        }
        if (index > 0 &&
            protocol.stage_index(c.stage) < protocol.stage_index(protocol.checkpoints[index - 1].stage)) {
            return problem(place + "/stage",
                           "\"" + c.stage + "\" comes before the stage of the checkpoint above",
                           "put the checkpoints in the order of the stages");
        }
        if (!c.part.empty() && protocol.part(c.part) == nullptr) {
            return unknown(place + "/part", "part", c.part, ids_of(protocol.parts));
        }
        for (std::size_t i = 0; i < c.asked_when.size(); ++i) {
            if (Done done = condition(c.asked_when[i], index, place + "/asked_when/" + std::to_string(i));
                !done) {
                return done;
            }
        }
        return {};
    }

    /// A key must be there, be of the kind that the interlocks can read, and always be answered.
    [[nodiscard]] Done key(const char* name, const std::string& id, std::size_t kind, const char* kind_words,
                           const char* stage) const {
        const std::string place = std::string("/keys/") + name;
        const Checkpoint* found = protocol.checkpoint(id);
        if (found == nullptr) {
            return unknown(place, "checkpoint", id, ids_of(protocol.checkpoints));
        }
        if (found->input.index() != kind) {
            return problem(place, "\"" + id + "\" is not " + kind_words, "name one that is");
        }
        if (found->stage != stage) {
            return problem(place, "\"" + id + "\" is not asked in the stage " + stage, "name one that is");
        }
        if (!found->needed || found->may_be_out_of_reach || found->may_be_not_fitted ||
            !found->asked_when.empty()) {
            return problem(place, "\"" + id + "\" can be left out",
                           "an interlock reads it: make it needed, without conditions, never out of reach");
        }
        return {};
    }

    [[nodiscard]] Done keys() const {
        constexpr std::size_t kChoice = 1;
        constexpr std::size_t kPeople = 2;
        const KeyCheckpoints& k = protocol.keys;
        if (Done done = key("crew", k.crew, kPeople, "people", "brief"); !done) {
            return done;
        }
        if (Done done = key("energise", k.energise, kChoice, "a choice", "restore"); !done) {
            return done;
        }
        const auto options = ids_of(std::get<ChoiceInput>(protocol.checkpoint(k.energise)->input).options);
        if (std::ranges::find(options, k.stays_off) == options.end()) {
            return problem("/keys/stays_off", unknown_word("option", k.stays_off, options),
                           "name an option of \"" + k.energise + "\"");
        }
        return {};
    }
};

} // namespace

Done check_protocol(const Protocol& protocol, const std::string& file) {
    const Check check{protocol, file};
    for (const Done& done : {check.stages(), check.once(protocol.parts, "parts"),
                             check.once(protocol.checkpoints, "checkpoints")}) {
        if (!done) {
            return done;
        }
    }
    for (std::size_t i = 0; i < protocol.checkpoints.size(); ++i) {
        if (Done done = check.checkpoint(i); !done) {
            return done;
        }
    }
    return check.keys();
}

} // namespace crossarm::model
