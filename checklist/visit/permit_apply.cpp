// What each act makes of the state.
#include "checklist/visit/permit_facts.hpp"

#include <algorithm>
#include <type_traits>

namespace crossarm::visit::permit {

namespace {

namespace acts = model::permit;

class Applying {
public:
    Applying(State& state, const std::string& by, model::Timestamp at) : s_(state), by_(by), at_(at) {}

    void operator()(const acts::Prepared& a) {
        s_.prepared = true;
        s_.number = a.number;
        s_.work = a.work;
        s_.limits = a.limits;
        s_.prepared_by = by_;
        s_.prepared_at = at_;
    }
    void operator()(const acts::PointAdded& a) {
        if (point(a.point) == nullptr) {
            s_.points.push_back({a.point, a.device, a.place, a.side, "", "", "", "", false, false});
            void_proofs();
        }
    }
    void operator()(const acts::PointOpened& a) {
        if (Point* p = point(a.point)) {
            p->open = true;
            p->position = a.position;
        }
    }
    void operator()(const acts::PointLocked& a) {
        if (Point* p = point(a.point)) {
            p->locked = true;
            p->lock = a.lock;
            p->label = a.label;
            p->key_held_by = a.key_held_by;
        }
    }
    void operator()(const acts::PointUnlocked& a) {
        if (Point* p = point(a.point)) {
            p->locked = false;
            p->open = false;
            void_proofs();
        }
    }
    void operator()(const acts::SuppliesAsked& a) { s_.supplies = a; }
    void operator()(const acts::DetectorProved& a) {
        Proof& p = proof(a.side);
        if (!a.after) {
            p = {};
            p.detector = a.detector;
            p.before = a.indicated;
        } else if (p.before && p.detector == a.detector && a.indicated && all_tested(p, a.side)) {
            p.after = true;
        } else {
            p = {};
        }
        p.by = by_;
        p.at = at_;
        if (p.after) {
            s_.proved.push_back({a.side, p});
        }
    }
    void operator()(const acts::ConductorTested& a) {
        Proof& p = proof(a.side);
        if (a.result != "none") {
            p = {};
        } else if (p.before) {
            p.without_indication.insert(a.conductor);
        }
        p.by = by_;
        p.at = at_;
    }
    void operator()(const acts::EarthEndOn& a) {
        Earth now{a.earth, a.kind, a.side, a.party, a.place, a.fixed_by, a.size_mm2, true, false, at_};
        if (Earth* e = earth(a.earth)) {
            now.line_end = e->line_end;
            *e = now;
        } else {
            s_.earths.push_back(now);
        }
    }
    void operator()(const acts::LineEndOn& a) {
        if (Earth* e = earth(a.earth)) {
            e->line_end = true;
            e->at = at_;
        }
    }
    void operator()(const acts::LineEndOff& a) {
        if (Earth* e = earth(a.earth)) {
            e->line_end = false;
            e->at = at_;
            if (!line_end_on(s_, e->side)) {
                proof(e->side) = {};
            }
        }
    }
    void operator()(const acts::EarthEndOff& a) {
        if (Earth* e = earth(a.earth)) {
            e->earth_end = false;
            e->at = at_;
        }
    }
    void operator()(const acts::LivePartNoted& a) { s_.live_parts.push_back(a); }
    void operator()(const acts::ZoneMarked& a) { s_.zone = a.how; }
    void operator()(const acts::Briefed& a) { s_.briefed.insert(a.person); }
    void operator()(const acts::Issued& a) {
        Party* known = party(a.party);
        Party& p = known != nullptr ? *known : s_.parties.emplace_back();
        const bool before = p.ever_accepted;
        const int out = p.tools_out;
        const int in = p.tools_in;
        p = {};
        p.id = a.party;
        p.holder = a.holder;
        p.issuer = by_;
        p.second = a.second;
        p.issued_at = at_;
        p.until = a.until;
        p.issue = a.signing;
        p.ever_accepted = before;
        p.tools_out = out;
        p.tools_in = in;
    }
    void operator()(const acts::Accepted& a) {
        if (Party* p = party(a.party)) {
            p->holding = Holding::Accepted;
            p->accepted_at = at_;
            p->acceptance = a.signing;
            p->ever_accepted = true;
        }
    }
    void operator()(const acts::Suspended& a) {
        for (Party& p : s_.parties) {
            if ((a.party.empty() || p.id == a.party) && holds(p)) {
                p.holding = Holding::Suspended;
                p.reason = a.reason;
            }
        }
    }
    void operator()(const acts::Resumed& a) {
        if (Party* p = party(a.party)) {
            issue_again(*p);
        }
    }
    void operator()(const acts::Transferred& a) {
        if (Party* p = party(a.party)) {
            p->holder = a.holder;
            issue_again(*p);
        }
    }
    void operator()(const acts::Extended& a) {
        if (Party* p = party(a.party)) {
            p->until = a.until;
        }
    }
    void operator()(const acts::TakenBack& a) { end(a.party, Holding::TakenBack); }
    void operator()(const acts::SignedOn& a) {
        if (party(a.party) != nullptr) {
            s_.on[a.person] = a.party;
        }
    }
    void operator()(const acts::SignedOff& a) { s_.on.erase(a.person); }
    void operator()(const acts::ToolsOut& a) {
        if (Party* p = party(a.party)) {
            p->tools_out += a.count;
        }
    }
    void operator()(const acts::ToolsIn& a) {
        if (Party* p = party(a.party)) {
            p->tools_in += a.count;
        }
    }
    void operator()(const acts::LeadDecided& a) {
        s_.exceptions.push_back({a.matter, a.about, a.reason, by_, at_});
        if (Party* p = party(a.about); p != nullptr && a.matter == "tools_not_found") {
            p->tools_in = p->tools_out; // what goes out later is counted anew
        }
    }
    void operator()(const acts::HandedBack& a) {
        if (Party* p = party(a.party)) {
            p->hand_back = a.signing;
            end(a.party, Holding::HandedBack);
        }
    }
    void operator()(const acts::Cancelled& a) {
        s_.cancelled = true;
        s_.cancelled_at = at_;
        s_.cancelled_by = by_;
        s_.cancelled_second = a.second;
        s_.cancelling = a.signing;
    }

private:
    template<typename Items>
    static typename Items::value_type* find(Items& items, const std::string& id) {
        const auto found = std::ranges::find_if(items, [&](const auto& one) { return one.id == id; });
        return found == items.end() ? nullptr : &*found;
    }
    Point* point(const std::string& id) { return find(s_.points, id); }
    Earth* earth(const std::string& id) { return find(s_.earths, id); }
    Party* party(const std::string& id) { return find(s_.parties, id); }
    Proof& proof(Side side) { return side == Side::Hv ? s_.hv : s_.lv; }

    static bool all_tested(const Proof& p, Side side) {
        return std::ranges::all_of(conductors(side), [&](std::string_view conductor) {
            return p.without_indication.contains(conductor);
        });
    }
    void void_proofs() {
        for (const Side side : {Side::Hv, Side::Lv}) {
            if (!line_end_on(s_, side)) {
                proof(side) = {};
            }
        }
    }
    static void issue_again(Party& p) {
        p.holding = Holding::Issued;
        p.acceptance = {};
        p.reason.clear();
    }
    void end(const std::string& id, Holding how) {
        if (Party* p = party(id)) {
            p->holding = how;
            p->back_at = at_;
        }
    }

    State& s_;
    const std::string& by_;
    model::Timestamp at_;
};

} // namespace

State apply(State state, const Act& act, const std::string& by, model::Timestamp at) {
    std::visit(Applying(state, by, at), act);
    if (at.utc_ms > state.latest_at.utc_ms) {
        state.latest_at = at;
    }
    return state;
}

} // namespace crossarm::visit::permit
