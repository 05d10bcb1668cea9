#include "sync/office/odd_bundles.hpp"

#include "checklist/store/blobs.hpp"

namespace crossarm::office {

using store::Statement;

std::vector<BundleRow> rows_of(Statement& statement) {
    std::vector<BundleRow> out;
    while (statement.step()) {
        out.push_back({statement.text(0), statement.text(1), statement.number(2), statement.number(3),
                       statement.text(4), store::id_of(statement.text(5))});
    }
    return out;
}

void note_odd(store::Database& database, const BundleRow& bundle) {
    Statement awaited(database, "DELETE FROM orphan WHERE prev = ?1");
    awaited.bind(1, bundle.digest).finish();
    Statement orphan(database,
                     "INSERT INTO orphan (digest, prev) SELECT ?1, ?2 WHERE ?2 <> '' AND NOT EXISTS "
                     "(SELECT 1 FROM bundle WHERE digest = ?2)");
    orphan.bind(1, bundle.digest).bind(2, bundle.prev).finish();
    Statement forked(database,
                     "INSERT OR IGNORE INTO forked (device, life, seq) SELECT ?1, ?2, ?3 WHERE EXISTS "
                     "(SELECT 1 FROM bundle WHERE device = ?1 AND life = ?2 AND seq = ?3 AND "
                     "digest <> ?4)");
    forked.bind(1, bundle.device).bind(2, bundle.life).bind(3, bundle.seq).bind(4, bundle.digest).finish();
}

std::vector<BundleRow> odd_ones(store::Database& database) {
    // CROSS JOIN makes SQLite begin with the short table.
    Statement rows(database,
                   "SELECT b.digest, b.device, b.life, b.seq, b.prev, b.visit FROM orphan AS o "
                   "CROSS JOIN bundle AS b ON b.digest = o.digest "
                   "UNION SELECT b.digest, b.device, b.life, b.seq, b.prev, b.visit FROM forked AS f "
                   "CROSS JOIN bundle AS b ON b.device = f.device AND b.life = f.life AND b.seq = f.seq "
                   "ORDER BY 2, 3, 4, 1");
    return rows_of(rows);
}

} // namespace crossarm::office
