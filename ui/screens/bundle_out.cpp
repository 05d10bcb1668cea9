#include "ui/screens/bundle_out.hpp"

#include "sync/bundle/atomic_file.hpp"
#include "sync/bundle/bundle.hpp"
#include "sync/bundle/hand_over.hpp"

#include <filesystem>
#include <string>
#include <system_error>

namespace crossarm::ui {

namespace {

bundle::Bundle bundle_of(const store::Store& store, const View& view, std::vector<std::string> texts) {
    bundle::Bundle out;
    out.device = store.device();
    out.life = store.identity().life;
    out.visit = view.at_hand->visit;
    out.protocol = view.protocol().id;
    out.protocol_digest = view.protocol().digest;
    out.engine = CROSSARM_VERSION;
    out.day_pack = view.day_pack;
    out.structure = *view.at_hand->structure;
    out.entries = std::move(texts);
    out.verdicts = view.at_hand->assessed;
    return out;
}

} // namespace

model::Done write_out(store::Store& store, const View& view, model::Timestamp now) {
    auto texts = store.texts(view.at_hand->visit);
    if (!texts) {
        return texts.problem();
    }
    bundle::Bundle bundle = bundle_of(store, view, std::move(*texts));
    const seal::KeyPair key = seal::KeyPair::from_seed(store.identity().seed);
    const auto row = store.keep_bundle(
        bundle.visit, now,
        [&](std::int64_t seq, const std::string& prev) -> model::Result<store::Store::MadeBundle> {
            bundle.seq = seq;
            bundle.prev = prev;
            const bundle::Sealed sealed = bundle::write_bundle(bundle, key);
            return store::Store::MadeBundle{sealed.digest, sealed.bytes};
        });
    if (!row) {
        return row.problem();
    }
    if (row->bytes.empty()) {
        return model::Problem{"bundle " + std::to_string(row->seq),
                              "the office has confirmed it and its bytes were dropped to make room",
                              "nothing needs to be handed over"};
    }
    std::error_code ignored; // write_atomically tells what is wrong with the folder
    std::filesystem::create_directories(view.bundles_folder, ignored);
    const std::string path =
        view.bundles_folder + "/" + bundle::file_name({store.device(), row->life, row->seq, row->digest, {}});
    if (const auto written = bundle::write_atomically(path, row->bytes); !written) {
        return written.problem();
    }
    return store.mark_bundle(row->digest, row->state, path);
}

} // namespace crossarm::ui
