#include "checklist/store/packs.hpp"

#include "checklist/store/journal.hpp"

namespace crossarm::store {

std::optional<PackRow> newest_pack(Database& database) {
    Statement statement(database, "SELECT number, digest, bytes, loaded_ms, loaded_offset FROM day_pack "
                                  "ORDER BY number DESC LIMIT 1");
    if (!statement.step()) {
        return std::nullopt;
    }
    return PackRow{statement.number(0),
                   statement.text(1),
                   statement.text(2),
                   {statement.number(3), static_cast<std::int16_t>(statement.number(4))}};
}

model::Done keep_pack(Database& database, const PackRow& pack) {
    const std::string where = "day pack " + std::to_string(pack.number);
    if (pack.number < 1 || pack.digest.size() != 64) {
        return model::Problem{where, "it has no number from 1 on or no SHA-256 digest",
                              "ask the office for a new day pack"};
    }
    if (!is_usable(pack.loaded_at)) {
        return bad_clock();
    }
    Transaction transaction(database);
    const auto newest = newest_pack(database);
    if (newest && newest->number > pack.number) {
        return model::Problem{where,
                              "this tablet already has the newer day pack " + std::to_string(newest->number),
                              "load the newest day pack"};
    }
    if (newest && newest->number == pack.number) {
        if (newest->digest == pack.digest && newest->bytes == pack.bytes) {
            return {};
        }
        return model::Problem{where, "this tablet already has a day pack of that number with other content",
                              "ask the office which one counts and for a day pack with a new number"};
    }
    {
        Statement statement(database,
                            "INSERT INTO day_pack (number, digest, bytes, loaded_ms, loaded_offset) "
                            "VALUES (?1, ?2, ?3, ?4, ?5)");
        statement.bind(1, pack.number).bind(2, pack.digest).bind_blob(3, pack.bytes);
        statement.bind(4, pack.loaded_at.utc_ms).bind(5, std::int64_t{pack.loaded_at.offset_minutes});
        statement.finish();
    }
    transaction.commit();
    return {};
}

} // namespace crossarm::store
