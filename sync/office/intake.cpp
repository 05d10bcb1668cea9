#include "sync/office/intake.hpp"

#include "sync/bundle/atomic_file.hpp"
#include "sync/bundle/sealed_json.hpp"
#include "sync/office/held_back.hpp"
#include "sync/office/incoming_folder.hpp"
#include "sync/office/office_keys.hpp"
#include "sync/seal/frame.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <utility>

namespace crossarm::office {

namespace {

using model::Done;
using model::Problem;
using model::Result;

constexpr const char* kFormat = "crossarm.bundle/1";

/// Which step refused these bytes. Asked of refused files only, so it may read them again.
std::string step_of(std::string_view bytes, const std::string& file, const Problem& why,
                    const seal::KeyRing& ring) {
    if (!seal::find_body(bytes, file, seal::Kind::Bundle)) {
        return "seal";
    }
    if (!seal::open(bytes, file, seal::Kind::Bundle, ring)) {
        return "key";
    }
    if (why.where.find("/body/entries") != std::string::npos) {
        return "entries";
    }
    return bundle::open_sealed(bytes, file, seal::Kind::Bundle, kFormat, ring) ? "shape" : "body";
}

Line named(const std::string& file) {
    Line line;
    line.file = file;
    return line;
}

/// One intake under way.
class Desk {
public:
    Desk(OfficeStore& store, seal::KeyRing ring, model::Timestamp now, const Manner& manner)
        : store_(store), ring_(std::move(ring)), held_(store.path()), now_(now), manner_(manner) {}

    /// A file of a folder.
    Done take_file(const std::string& folder, const std::string& name);
    /// A file that was held back; it is known by the name under which it came.
    Done take_held(const HeldFile& file);

    [[nodiscard]] const HeldBack& held() const { return held_; }
    void tell(std::size_t done, std::size_t all) const {
        if (manner_.told && !lines_.empty()) {
            manner_.told(lines_.back(), done, all);
        }
    }
    Result<Intake> finish() {
        auto sequence = check_sequence(store_);
        if (!sequence) {
            return sequence.problem();
        }
        return Intake{std::move(lines_), std::move(sequence).value()};
    }

private:
    Done take_bytes(const std::string& bytes, const std::string& name);
    Done take_lines(const std::string& folder, const std::string& name);
    Done refuse(Line line, const std::string* bytes, std::string step, const Problem& why);
    /// Whether nothing was held back from line `first` on.
    [[nodiscard]] bool all_in(std::size_t first) const {
        return std::all_of(lines_.begin() + static_cast<std::ptrdiff_t>(first), lines_.end(),
                           [](const Line& line) { return line.kind != Line::Kind::HeldBack; });
    }

    OfficeStore& store_;
    seal::KeyRing ring_; ///< the tablets that are known at this moment
    HeldBack held_;
    model::Timestamp now_;
    const Manner& manner_;
    std::vector<Line> lines_;
};

Done Desk::refuse(Line line, const std::string* bytes, std::string step, const Problem& why) {
    line.kind = Line::Kind::HeldBack;
    line.why = why;
    line.step = std::move(step);
    if (bytes != nullptr) {
        auto copy = held_.keep(*bytes, {line.file, line.step, why, now_, now_});
        if (!copy) {
            return copy.problem();
        }
        line.copy = std::move(copy).value();
    }
    lines_.push_back(std::move(line));
    return {};
}

Done Desk::take_bytes(const std::string& bytes, const std::string& name) {
    Line line = named(name);
    const auto read = bundle::read_bundle(bytes, name, ring_);
    if (!read) {
        return refuse(std::move(line), &bytes, step_of(bytes, name, read.problem(), ring_), read.problem());
    }
    line.digest = read->digest;
    line.visit = model::to_text(read->bundle.visit);
    line.structure = read->bundle.structure.id;
    line.device = read->bundle.device;
    line.seq = read->bundle.seq;
    line.clocks = check_clocks(read->entries, now_);
    const auto taking = store_.take(*read, bytes, now_);
    if (!taking) {
        return taking.problem();
    }
    if (taking->kind == Taking::Kind::Refused) {
        return refuse(std::move(line), &bytes, "store", taking->why);
    }
    line.kind = taking->kind == Taking::Kind::Taken ? Line::Kind::Taken : Line::Kind::AlreadyHere;
    lines_.push_back(std::move(line));
    return held_.release(bytes);
}

Done Desk::take_lines(const std::string& folder, const std::string& name) {
    const std::string path = folder + "/" + name;
    std::ifstream file(path, std::ios::binary);
    if (!file || !std::filesystem::is_regular_file(path)) {
        return refuse(named(name), nullptr, "file",
                      {name, "cannot be opened", "check the file and its permissions"});
    }
    std::string bytes;
    for (std::size_t number = 1; file.peek() != std::ifstream::traits_type::eof(); ++number) {
        const std::string at = name + ":" + std::to_string(number);
        bytes.clear();
        for (int c = file.get(); c != std::ifstream::traits_type::eof() && c != '\n'; c = file.get()) {
            bytes += static_cast<char>(c);
            if (bytes.size() > bundle::kMostFileBytes) {
                return refuse(named(at), nullptr, "file",
                              {at, "is larger than " + std::to_string(bundle::kMostFileBytes) + " bytes",
                               "bring the bundles again, one a line"});
            }
        }
        if (auto taken = take_bytes(bytes, at); !taken) {
            return taken;
        }
    }
    return {};
}

Done Desk::take_file(const std::string& folder, const std::string& name) {
    const std::size_t first = lines_.size();
    if (holds_several(name)) {
        if (auto taken = take_lines(folder, name); !taken) {
            return taken;
        }
    } else {
        const auto bytes = bundle::read_whole(folder + "/" + name, bundle::kMostFileBytes);
        if (!bytes) {
            return refuse(named(name), nullptr, "file", bytes.problem());
        }
        if (auto taken = take_bytes(*bytes, name); !taken) {
            return taken;
        }
    }
    if (manner_.move_taken && all_in(first)) {
        move_to_taken(folder, name);
    }
    return {};
}

Done Desk::take_held(const HeldFile& file) {
    const std::string name =
        file.reason ? file.reason->file : std::filesystem::path(file.copy).filename().string();
    const auto bytes = bundle::read_whole(file.copy, bundle::kMostFileBytes);
    if (!bytes) {
        return refuse(named(name), nullptr, "file", bytes.problem());
    }
    return take_bytes(*bytes, name);
}

} // namespace

std::size_t Intake::count(Line::Kind kind) const {
    return static_cast<std::size_t>(std::ranges::count(lines, kind, &Line::kind));
}

Result<Intake> take_in_files(OfficeStore& store, const std::string& folder,
                             const std::vector<std::string>& names, model::Timestamp now,
                             const Manner& manner) {
    auto ring = keys_for_intake(store, now);
    if (!ring) {
        return ring.problem();
    }
    Desk desk(store, std::move(*ring), now, manner);
    for (std::size_t i = 0; i < names.size(); ++i) {
        if (auto taken = desk.take_file(folder, names[i]); !taken) {
            return taken.problem();
        }
        desk.tell(i + 1, names.size());
    }
    return desk.finish();
}

Result<Intake> take_in(OfficeStore& store, const std::string& folder, model::Timestamp now,
                       const Manner& manner) {
    const auto names = names_in(folder);
    if (!names) {
        return names.problem();
    }
    return take_in_files(store, folder, *names, now, manner);
}

Result<Intake> take_in_again(OfficeStore& store, model::Timestamp now, const Manner& manner) {
    auto ring = keys_for_intake(store, now);
    if (!ring) {
        return ring.problem();
    }
    Desk desk(store, std::move(*ring), now, manner);
    const auto held = desk.held().list();
    if (!held) {
        return held.problem();
    }
    for (std::size_t i = 0; i < held->size(); ++i) {
        if (auto taken = desk.take_held((*held)[i]); !taken) {
            return taken.problem();
        }
        desk.tell(i + 1, held->size());
    }
    return desk.finish();
}

} // namespace crossarm::office
