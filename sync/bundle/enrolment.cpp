#include "sync/bundle/enrolment.hpp"

#include "checklist/model/json_reader.hpp"
#include "sync/bundle/structure_fields.hpp"
#include "sync/bundle/utf8.hpp"

#include <nlohmann/json.hpp>

namespace crossarm::bundle {

namespace {

constexpr const char* kFormat = "crossarm.enrolment/1";
constexpr const char* kAgain = "write the enrolment again on the tablet";

} // namespace

Sealed write_enrolment(const Enrolment& enrolment, const seal::KeyPair& key) {
    const nlohmann::json body = {{"format", kFormat},
                                 {"device", enrolment.device},
                                 {"life", enrolment.life},
                                 {"madeAt", model::to_text(enrolment.made_at)}};
    return seal_introduced_json(body, seal::Kind::Enrolment, key);
}

model::Result<ReadEnrolment> read_enrolment(std::string_view bytes, std::string_view file) {
    const auto sealed = open_introduced_json(bytes, file, seal::Kind::Enrolment, kFormat);
    if (!sealed) {
        return sealed.problem();
    }
    const model::JsonReader reader(sealed->body, std::string(file) + ": /body");
    reader.only({"format", "device", "life", "madeAt"});
    ReadEnrolment read;
    read.enrolment.device = reader.text("device");
    if (!is_plain_id(read.enrolment.device)) {
        reader.wrong("device", in_quotes(read.enrolment.device) + " is not a tablet's id", kAgain);
    }
    read.enrolment.life = reader.integer("life");
    if (read.enrolment.life < 1) {
        reader.wrong("life", "lives are counted from 1", kAgain);
    }
    read.enrolment.made_at = reader.time("madeAt");
    read.key = sealed->by.key;
    return reader.done(std::move(read));
}

} // namespace crossarm::bundle
