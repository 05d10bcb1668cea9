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
        {"arrive", "Arrive", "", Order::ReadThenDo},      {"brief", "Brief", "", Order::DoThenConfirm},
        {"permit", "Permit", "", Order::ReadThenDo},      {"work", "Work", "", Order::DoThenConfirm},
        {"restore", "Restore", "", Order::ReadThenDo},    {"sign_off", "Sign off", "", Order::ReadThenDo},
        {"hand_over", "Hand over", "", Order::ReadThenDo}};
    out.parts = {{"ground", "Ground", false}, {"top", "Top", true}};
    const model::GradeInput grades{"clean", "dusty", "rusty", "broken"};
    out.checkpoints = {
        checkpoint("arrive.right", "", "arrive", yes_or_stop("This is another structure")),
        checkpoint("arrive.position", "", "arrive", model::TextInput{20}),
        checkpoint("brief.crew", "", "brief", model::PeopleInput{2}),
        checkpoint("ground.load", "ground", "brief", count(0, 500)),
        checkpoint("ground.rust", "ground", "work", grades),
        checkpoint("top.damage", "top", "work", grades),
        checkpoint("top.gap", "top", "work", model::NumberInput{model::Unit::Metre, {0, 50}, {1, 10}, 1}),
        checkpoint("top.extra", "top", "work", grades),
        checkpoint("restore.energise", "", "restore",
                   model::ChoiceInput{
                       {{"yes", "Restored", std::nullopt, ""}, {"no", "Stays off", std::nullopt, ""}}}),
    };
    out.checkpoints[7].asked_when = {{"top.damage", {"repair", "danger"}, "", {}}};
    out.keys = {"brief.crew", "restore.energise", "no"};
    return out;
}

inline model::Register small_register() {
    model::Register out;
    model::Structure structure;
    structure.id = "QM-0101";
    structure.name = "Weir Cottages";
    structure.plate.rating_kVA = 100;
    out.structures = {structure};
    const model::Date ever{40'000};
    out.people = {{"doer", "A Doer", {"crew"}, {{"accept_permit", ever}}},
                  {"mate", "A Mate", {"crew"}, {{"accept_permit", ever}}},
                  {"issuer", "An Issuer", {"crew"}, {{"issue_permit", ever}}},
                  {"lead", "A Lead", {"lead"}, {{"sign_visit", ever}, {"issue_permit", ever}}},
                  {"both", "A Both", {"crew", "lead"}, {{"sign_visit", ever}}}};
    return out;
}

} // namespace crossarm::tests
