// A protocol small enough to reason about by hand, with every kind of input and interlock in it.
#pragma once

#include "checklist/model/protocol.hpp"
#include "checklist/model/register.hpp"

#include <string>
#include <utility>

namespace crossarm::tests {

inline model::Checkpoint checkpoint(std::string id, std::string part, std::string stage, model::Input input) {
    model::Checkpoint out;
    out.title = "Title of " + id;
    out.id = std::move(id);
    out.part = std::move(part);
    out.may_be_out_of_reach = stage == "work";
    out.stage = std::move(stage);
    out.how = "Look at it closely and say what you see.";
    out.input = std::move(input);
    return out;
}

inline model::ChoiceInput yes_or_stop(const std::string& why) {
    return {{{"yes", "Yes", std::nullopt, ""}, {"no", "No", std::nullopt, why}}};
}

inline model::NumberInput count(double low, double high) {
    return {model::Unit::One, {low, high}, {low, high}, 0};
}

inline model::Protocol small_protocol() {
    using model::Order;
    model::Protocol out;
    out.id = "small";
    out.kind = "upkeep";
    out.digest = std::string(64, 'd');
    out.stages = {
        {"arrive", "Arrive", "", Order::ReadThenDo},     {"permit", "Permit", "", Order::ReadThenDo},
        {"work", "Work", "", Order::DoThenConfirm},      {"restore", "Restore", "", Order::ReadThenDo},
        {"sign_off", "Sign off", "", Order::ReadThenDo}, {"hand_over", "Hand over", "", Order::ReadThenDo}};
    out.parts = {{"ground", "Ground", false}, {"top", "Top", true}};
    const model::GradeInput grades{"clean", "dusty", "rusty", "broken"};
    out.checkpoints = {
        checkpoint("arrive.right", "", "arrive", yes_or_stop("This is another structure")),
        checkpoint("arrive.people", "", "arrive", model::PeopleInput{2}),
        checkpoint("permit.number", "", "permit", model::TextInput{20}),
        checkpoint("permit.holder", "", "permit", model::PeopleInput{1}),
        checkpoint("permit.proved", "", "permit", yes_or_stop("The detector did not prove itself")),
        checkpoint("permit.dead", "", "permit", yes_or_stop("One conductor is live")),
        checkpoint("permit.proved_after", "", "permit", yes_or_stop("The detector did not prove itself")),
        checkpoint("permit.earths", "", "permit", count(1, 6)),
        checkpoint("permit.accepted", "", "permit", yes_or_stop("The permit is not accepted")),
        checkpoint("ground.rust", "ground", "work", grades),
        checkpoint("top.damage", "top", "work", grades),
        checkpoint("top.gap", "top", "work", model::NumberInput{model::Unit::Metre, {0, 50}, {1, 10}, 1}),
        checkpoint("top.extra", "top", "work", grades),
        checkpoint("restore.handed_back", "", "restore", yes_or_stop("The permit is kept")),
        checkpoint("restore.earths_off", "", "restore", count(0, 6)),
        checkpoint("restore.energise", "", "restore", yes_or_stop("Supply stays off")),
    };
    for (const std::size_t link : {4U, 5U, 6U, 7U}) {
        out.checkpoints[link].chain = "proving";
    }
    out.checkpoints[12].asked_when = {{"top.damage", {"repair", "danger"}, "", {}}};
    out.checkpoints[14].must_equal = "permit.earths";
    out.keys = {"permit.number", "permit.holder",       "permit.accepted",
                "permit.earths", "restore.handed_back", "restore.energise"};
    return out;
}

inline model::Register small_register() {
    model::Register out;
    model::Structure structure;
    structure.id = "QM-0101";
    structure.name = "Weir Cottages";
    structure.plate.rating_kVA = 100;
    out.structures = {structure};
    out.people = {{"doer", "A Doer", {"crew"}},
                  {"mate", "A Mate", {"crew"}},
                  {"lead", "A Lead", {"lead"}},
                  {"both", "A Both", {"crew", "lead"}}};
    return out;
}

} // namespace crossarm::tests
