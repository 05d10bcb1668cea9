// Guards of signatures: drawn, and over exactly the sheet as it stands.
#include "checklist/model/digest.hpp"
#include "checklist/visit/check_value.hpp"
#include "checklist/visit/permit_facts.hpp"
#include "checklist/visit/permit_guards.hpp"

#include <array>

namespace crossarm::visit::permit {

namespace {

const acts::Signing* signing_of(const Wished& w) {
    if (const auto* a = as<acts::Issued>(w)) {
        return &a->signing;
    }
    if (const auto* a = as<acts::Accepted>(w)) {
        return &a->signing;
    }
    if (const auto* a = as<acts::HandedBack>(w)) {
        return &a->signing;
    }
    const auto* a = as<acts::Cancelled>(w);
    return a != nullptr ? &a->signing : nullptr;
}

MayRefuse signed_drawn(const Wished& w) {
    const acts::Signing* signing = signing_of(w);
    return signing != nullptr && is_blank(signing->strokes) ? refuse("permit.no.not_drawn", "") : MayRefuse();
}
MayRefuse signed_sheet(const Wished& w) {
    const acts::Signing* signing = signing_of(w);
    return signing != nullptr && signing->over != model::sha256_hex(sheet_text(w.state, w.structure))
               ? refuse("permit.no.other_sheet", "")
               : MayRefuse();
}
MayRefuse signed_as_issued(const Wished& w) {
    const auto* accepted = as<acts::Accepted>(w);
    const auto* resumed = as<acts::Resumed>(w);
    const Party* party = accepted != nullptr  ? party_of(w.state, accepted->party)
                         : resumed != nullptr ? party_of(w.state, resumed->party)
                                              : nullptr;
    return party != nullptr && party->issue.over != model::sha256_hex(sheet_text(w.state, w.structure))
               ? refuse("permit.no.sheet_changed", "hand_back", {{"party", party->id}})
               : MayRefuse();
}

constexpr std::array kSigning = {
    Guard{"signed_drawn", signed_drawn},
    Guard{"signed_sheet", signed_sheet},
    Guard{"signed_as_issued", signed_as_issued},
};

} // namespace

std::span<const Guard> signing_guards() {
    return kSigning;
}

} // namespace crossarm::visit::permit
