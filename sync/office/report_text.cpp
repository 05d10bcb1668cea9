#include "sync/office/report_text.hpp"

#include "sync/bundle/utf8.hpp"

#include <utility>

namespace crossarm::office {

namespace {

using model::Phrase;
using model::Words;
using Places = std::vector<std::pair<std::string, Phrase::Value>>;

class Report {
public:
    Report(const VisitRecord& record, const model::Protocol& protocol, const Words& words,
           const visit::permit::Rules& rules)
        : record_(record), protocol_(protocol), words_(words), state_(visit::fold(record.entries, rules)) {}

    std::string text() {
        head();
        findings();
        verdicts();
        decisions();
        permit();
        conflicts();
        line(0, "office.disclaimer", {});
        return std::move(out_);
    }

private:
    void line(int indent, const char* key, Places places) {
        out_.append(static_cast<std::size_t>(indent) * 2U, ' ');
        // What people wrote may hold anything; one line stays one line.
        out_ += bundle::printable(words_.say(Phrase{key, std::move(places)}));
        out_ += '\n';
    }

    void heading(const char* key) {
        out_ += '\n';
        line(0, key, {});
    }

    [[nodiscard]] std::string title(const std::string& id) const {
        const model::Checkpoint* checkpoint = protocol_.checkpoint(id);
        if (checkpoint == nullptr) {
            return id;
        }
        const model::Part* part = protocol_.part(checkpoint->part);
        return part == nullptr ? checkpoint->title : part->title + ", " + checkpoint->title;
    }

    [[nodiscard]] std::string say(const std::string& checkpoint, const model::Value& value) const {
        struct Say {
            const Words& words;
            const model::Checkpoint* checkpoint;

            std::string operator()(model::Grade grade) const { return words.say(grade); }
            std::string operator()(const model::Choice& choice) const {
                std::string out;
                for (const std::string& id : choice.picked) {
                    out += (out.empty() ? "" : ", ") + option_title(id);
                }
                return out;
            }
            std::string operator()(const model::Quantity& quantity) const { return for_people(quantity, 3); }
            std::string operator()(const model::Readings& readings) const {
                std::string out;
                for (const model::Quantity& quantity : readings.values) {
                    out += (out.empty() ? "" : ", ") + for_people(quantity, 3);
                }
                return out;
            }
            std::string operator()(const model::Remark& remark) const { return remark.text; }
            std::string operator()(const model::OutOfReach& out) const {
                return words.say(Phrase{"office.out_of_reach", {{"reason", out.reason}}});
            }
            std::string operator()(const model::NotFitted&) const { return words.say("office.not_fitted"); }

            [[nodiscard]] std::string option_title(const std::string& id) const {
                const auto* choices =
                    checkpoint == nullptr ? nullptr : std::get_if<model::ChoiceInput>(&checkpoint->input);
                if (choices != nullptr) {
                    for (const model::Option& option : choices->options) {
                        if (option.id == id) {
                            return option.title;
                        }
                    }
                }
                return id;
            }
        };
        return std::visit(Say{words_, protocol_.checkpoint(checkpoint)}, value);
    }

    void head() {
        line(0, "office.visit", {{"visit", model::to_text(record_.visit)}});
        const model::Structure& at = record_.structure;
        line(0, "office.structure", {{"structure", at.id}, {"name", at.name}, {"feeder", at.feeder}});
        line(0, "office.opened",
             {{"at", model::for_people(state_.opened_at)},
              {"by", state_.opened_by},
              {"pack", std::to_string(state_.day_pack)}});
        if (!state_.broken_off.empty()) {
            line(0, "office.broken_off", {{"reason", state_.broken_off}});
        }
        if (!state_.signature) {
            line(0, "office.not_signed", {});
        } else {
            const auto& signature = *state_.signature;
            line(0, signature.words.empty() ? "office.signed" : "office.signed_words",
                 {{"at", model::for_people(signature.at)}, {"by", signature.by}, {"words", signature.words}});
        }
        std::string people;
        for (const std::string& doer : state_.doers) {
            people += (people.empty() ? "" : ", ") + doer;
        }
        line(0, "office.entries", {{"entries", std::to_string(state_.entries)}, {"people", people}});
        for (const BundleRow& row : record_.bundles) {
            line(0, "office.bundle",
                 {{"seq", std::to_string(row.seq)},
                  {"device", row.device},
                  {"digest", row.digest.substr(0, 8)}});
        }
        if (state_.left_out > 0) {
            line(0, "office.left_out", {{"count", std::to_string(state_.left_out)}});
        }
        if (record_.protocol_digest != protocol_.digest) {
            line(0, "office.other_protocol", {});
        }
    }

    void finding(const std::string& id, const model::Finding& found) {
        line(1, found.insisted.empty() ? "office.finding" : "office.finding_insisted",
             {{"title", title(id)}, {"value", say(id, found.value)}, {"insisted", found.insisted}});
        if (!found.note.empty()) {
            line(2, "office.note", {{"note", found.note}});
        }
    }

    void findings() {
        heading("office.findings");
        std::size_t asked = 0;
        std::size_t unseen = 0;
        for (const model::Checkpoint& checkpoint : protocol_.checkpoints) {
            const auto answer = state_.answers.find(checkpoint.id);
            if (answer != state_.answers.end()) {
                finding(checkpoint.id, answer->second.finding);
            }
            if (visit::is_asked(checkpoint, record_.structure, state_)) {
                asked += 1;
                unseen += answer == state_.answers.end() ? 1U : 0U;
            }
        }
        for (const auto& [id, answer] : state_.answers) {
            if (protocol_.checkpoint(id) == nullptr) {
                finding(id, answer.finding);
            }
        }
        line(1, "office.unseen", {{"count", std::to_string(unseen)}, {"asked", std::to_string(asked)}});
    }

    void verdicts() {
        if (record_.verdicts.empty()) {
            return;
        }
        heading("office.verdicts");
        for (const visit::Assessed& assessed : record_.verdicts) {
            if (const auto* none = std::get_if<model::NoVerdict>(&assessed.outcome)) {
                line(1, "office.no_verdict", {{"title", title(assessed.checkpoint)}});
                sentence(none->why);
            } else {
                verdict(assessed.checkpoint, std::get<model::Verdict>(assessed.outcome));
            }
        }
    }

    void sentence(const Phrase& phrase) { out_ += "    " + bundle::printable(words_.say(phrase)) + '\n'; }

    void verdict(const std::string& checkpoint, const model::Verdict& verdict) {
        line(1, verdict.when ? "office.verdict_when" : "office.verdict",
             {{"title", title(checkpoint)},
              {"grade", words_.say(verdict.grade)},
              {"when", verdict.when ? words_.say(*verdict.when) : std::string()}});
        sentence(verdict.because);
        if (!verdict.action.key.empty()) {
            line(2, "office.action", {{"action", words_.say(verdict.action)}});
        }
        for (const model::Working& working : verdict.workings) {
            line(2, working.how.empty() ? "office.working" : "office.working_how",
                 {{"name", words_.say(working.name)}, {"value", working.value}, {"how", working.how}});
        }
        line(2, "office.source",
             {{"title", verdict.source.title},
              {"clause", verdict.source.clause},
              {"sure", verdict.source.sure}});
        for (const Phrase& caution : verdict.cautions) {
            line(2, "office.caution", {{"caution", words_.say(caution)}});
        }
    }

    void decisions() {
        if (state_.decisions.empty()) {
            return;
        }
        heading("office.decisions");
        for (const visit::Decision& decision : state_.decisions) {
            line(1, "office.decision",
                 {{"title", title(decision.checkpoint)},
                  {"decision", words_.say("office.decision." + decision.decision)},
                  {"by", decision.by},
                  {"reason", decision.reason}});
        }
    }

    void permit() {
        const visit::permit::State& permit = state_.permit;
        if (!permit.prepared) {
            return;
        }
        heading("office.permit");
        line(1, "office.permit.prepared",
             {{"number", permit.number},
              {"at", model::for_people(permit.prepared_at)},
              {"by", permit.prepared_by},
              {"points", std::to_string(permit.points.size())}});
        for (const visit::permit::Proved& one : permit.proved) {
            line(1, "office.permit.proved",
                 {{"side", words_.say(std::string("office.permit.side.") + model::permit::word_of(one.side))},
                  {"detector", one.proof.detector},
                  {"at", model::for_people(one.proof.at)},
                  {"by", one.proof.by}});
        }
        for (const visit::permit::Earth& earth : permit.earths) {
            const bool on = earth.earth_end || earth.line_end;
            line(1, on ? "office.permit.earth_on" : "office.permit.earth_off",
                 {{"earth", earth.id},
                  {"side",
                   words_.say(std::string("office.permit.side.") + model::permit::word_of(earth.side))},
                  {"place", earth.place},
                  {"by", earth.fixed_by},
                  {"at", model::for_people(earth.at)}});
        }
        for (const visit::permit::Party& party : permit.parties) {
            line(1, "office.permit.party",
                 {{"party", party.id},
                  {"holder", party.holder},
                  {"issuer", party.issuer},
                  {"second", party.second},
                  {"at", model::for_people(party.issued_at)},
                  {"until", model::for_people(party.until)}});
            const bool back = party.holding == visit::permit::Holding::HandedBack ||
                              party.holding == visit::permit::Holding::TakenBack;
            line(2, back ? "office.permit.back" : "office.permit.held",
                 {{"at", model::for_people(party.back_at)}});
        }
        for (const visit::permit::Exception& one : permit.exceptions) {
            line(1, "office.permit.exception",
                 {{"matter", words_.say("office.permit.matter." + one.matter)},
                  {"about", one.about},
                  {"reason", one.reason},
                  {"by", one.by},
                  {"at", model::for_people(one.at)}});
        }
        if (permit.irregular > 0) {
            line(1, "office.permit.irregular", {{"count", std::to_string(permit.irregular)}});
        }
        line(1, permit.cancelled ? "office.permit.cancelled" : "office.permit.not_cancelled",
             {{"at", model::for_people(permit.cancelled_at)},
              {"by", permit.cancelled_by},
              {"second", permit.cancelled_second}});
    }

    void conflicts() {
        if (!state_.conflicts.empty()) {
            heading("office.conflicts");
            for (const visit::Conflict& conflict : state_.conflicts) {
                for (const visit::Answer& answer : conflict.answers) {
                    line(1, "office.conflict",
                         {{"title", title(conflict.checkpoint)},
                          {"value", say(conflict.checkpoint, answer.finding.value)},
                          {"device", answer.device},
                          {"by", answer.by}});
                }
            }
        }
        out_ += '\n';
    }

    const VisitRecord& record_;
    const model::Protocol& protocol_;
    const Words& words_;
    visit::State state_;
    std::string out_;
};

} // namespace

std::string report_text(const VisitRecord& record, const model::Protocol& protocol, const Words& words,
                        const visit::permit::Rules& rules) {
    return Report(record, protocol, words, rules).text();
}

} // namespace crossarm::office
