#include "checklist/store/pins.hpp"

#include "checklist/store/journal.hpp"
#include "checklist/store/pin_rules.hpp"

#include <cmath>
#include <ctime>

namespace crossarm::store {

namespace {

constexpr double kMs = 1000.0;
// A hundred years; what is beyond that is no reading of a clock.
constexpr double kLongestRun_s = 100.0 * 366 * 86'400;

struct Row {
    std::int64_t wrong = 0;
    double then_s = 0.0; ///< since boot, at the last wrong try
};

std::optional<Row> row_of(Database& database, const std::string& person) {
    Statement statement(database, "SELECT wrong, tried_boot_ms FROM pin WHERE person = ?1");
    statement.bind(1, person);
    if (!statement.step()) {
        return std::nullopt;
    }
    return Row{statement.number(0), static_cast<double>(statement.number(1)) / kMs};
}

bool is_reading(double since_boot_s) {
    return std::isfinite(since_boot_s) && since_boot_s >= 0.0 && since_boot_s <= kLongestRun_s;
}

double left_of(const Row& row, PinMoment when) {
    return pin_wait_left(pin_wait_after(row.wrong), row.then_s, when.since_boot_s);
}

model::Problem no_reading() {
    return {"the tablet's clock", "it does not tell how long the tablet has been running",
            "restart the tablet"};
}

model::Problem witness_problem(const PinTry& answer) {
    const std::string where = "the witness's PIN";
    if (answer.answer == PinAnswer::NoPin) {
        return {where, "the witness has no PIN on this tablet", "ask somebody who has one"};
    }
    const std::string wait = std::to_string(static_cast<std::int64_t>(std::ceil(answer.wait_s)));
    if (answer.answer == PinAnswer::Wait) {
        return {where, "it is not looked at before " + wait + " s have passed", "wait, then try again"};
    }
    return {where,
            "it is wrong; " + std::to_string(answer.wrong) +
                (answer.wrong == 1 ? " wrong try" : " wrong tries in a row"),
            answer.wait_s > 0.0 ? "wait " + wait + " s, then try again" : "try again"};
}

/// Who confirmed the PIN; nobody for the first one on the tablet.
model::Result<std::string> check_witness(Database& database, const model::Person& person,
                                         const std::optional<PinWitness>& witness, PinMoment when) {
    const std::string where = "the PIN of " + person.id;
    if (people_with_pin(database).empty()) {
        if (!person.is("lead")) {
            return model::Problem{where, "the first PIN on a tablet is a lead's", "let a lead begin"};
        }
        return std::string();
    }
    const bool change = row_of(database, person.id).has_value();
    if (!witness) {
        return model::Problem{where, "nobody confirms it",
                              change ? "confirm with the PIN so far, or let a lead confirm"
                                     : "let somebody confirm who has a PIN on this tablet"};
    }
    const bool own = witness->person.id == person.id;
    if (own && !change) {
        return model::Problem{where, "a first PIN is confirmed by another person",
                              "let somebody confirm who has a PIN on this tablet"};
    }
    if (change && !own && !witness->person.is("lead")) {
        return model::Problem{where, "another person can change it only as a lead",
                              "confirm with the PIN so far, or let a lead confirm"};
    }
    const auto answer = try_pin(database, witness->person.id, witness->digits, when);
    if (!answer) {
        return answer.problem();
    }
    if (answer->answer != PinAnswer::Right) {
        return witness_problem(*answer);
    }
    return witness->person.id;
}

} // namespace

double seconds_since_boot() {
    timespec now{};
    model::require(::clock_gettime(CLOCK_BOOTTIME, &now) == 0,
                   "the system tells how long it has been running");
    return static_cast<double>(now.tv_sec) + static_cast<double>(now.tv_nsec) * 1e-9;
}

std::vector<std::string> people_with_pin(Database& database) {
    std::vector<std::string> people;
    Statement statement(database, "SELECT person FROM pin ORDER BY person");
    while (statement.step()) {
        people.push_back(statement.text(0));
    }
    return people;
}

PinTry look_at_pin(Database& database, const std::string& person, PinMoment when) {
    const auto row = row_of(database, person);
    if (!row) {
        return {};
    }
    const double wait_s = is_reading(when.since_boot_s) ? left_of(*row, when) : pin_wait_after(row->wrong);
    return {PinAnswer::Wait, row->wrong, wait_s};
}

PinTry count_pin_try(Database& database, const std::string& person, PinMoment when) {
    Transaction transaction(database);
    auto row = row_of(database, person);
    if (!row) {
        return {};
    }
    const double left_s = left_of(*row, when);
    const bool counts = left_s <= 0.0;
    if (counts) {
        ++row->wrong;
        row->then_s = when.since_boot_s;
    } else if (when.since_boot_s < row->then_s) {
        // The tablet was restarted: from now on the wait counts from its start.
        row->then_s = 0.0;
    }
    {
        Statement statement(database, "UPDATE pin SET wrong = ?1, tried_boot_ms = ?2 WHERE person = ?3");
        statement.bind(1, row->wrong);
        statement.bind(2, static_cast<std::int64_t>(std::ceil(row->then_s * kMs)));
        statement.bind(3, person).finish();
    }
    transaction.commit();
    return counts ? PinTry{PinAnswer::Wrong, row->wrong, pin_wait_after(row->wrong)}
                  : PinTry{PinAnswer::Wait, row->wrong, left_s};
}

bool pin_fits(Database& database, const std::string& person, std::string_view digits) {
    Statement statement(database, "SELECT hash FROM pin WHERE person = ?1");
    statement.bind(1, person);
    return statement.step() && PinHash::fits(digits, statement.text(0));
}

void forget_wrong_pins(Database& database, const std::string& person) {
    Transaction transaction(database);
    {
        Statement statement(database, "UPDATE pin SET wrong = 0, tried_boot_ms = 0 WHERE person = ?1");
        statement.bind(1, person).finish();
    }
    transaction.commit();
}

model::Result<PinTry> try_pin(Database& database, const std::string& person, std::string_view digits,
                              PinMoment when) {
    if (!is_reading(when.since_boot_s)) {
        return no_reading();
    }
    const PinTry counted = count_pin_try(database, person, when);
    if (counted.answer != PinAnswer::Wrong || !pin_fits(database, person, digits)) {
        return counted;
    }
    forget_wrong_pins(database, person);
    return PinTry{PinAnswer::Right, 0, 0.0};
}

model::Done set_pin(Database& database, const model::Person& person, std::string_view digits,
                    const std::optional<PinWitness>& witness, PinMoment when, PinCost cost) {
    if (!is_reading(when.since_boot_s)) {
        return no_reading();
    }
    if (!is_usable(when.wall)) {
        return model::Problem{"the tablet's clock", "it does not show a date between 1970 and 9999",
                              "set date and time of the tablet"};
    }
    if (const auto flaw = flaw_of_pin(digits)) {
        return problem_of(*flaw);
    }
    const auto confirmed_by = check_witness(database, person, witness, when);
    if (!confirmed_by) {
        return confirmed_by.problem();
    }
    const std::string hash = PinHash(cost).make(digits);
    if (hash.empty()) {
        return model::Problem{"the PIN of " + person.id, "there is not memory enough to keep it",
                              "close other programs, then try again"};
    }
    Transaction transaction(database);
    {
        Statement statement(database,
                            "INSERT OR REPLACE INTO pin (person, hash, wrong, tried_boot_ms, set_ms, "
                            "set_offset, witness) VALUES (?1, ?2, 0, 0, ?3, ?4, ?5)");
        statement.bind(1, person.id).bind(2, hash).bind(3, when.wall.utc_ms);
        statement.bind(4, std::int64_t{when.wall.offset_minutes}).bind(5, *confirmed_by).finish();
    }
    transaction.commit();
    return {};
}

} // namespace crossarm::store
