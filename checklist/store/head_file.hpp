// The head file: a small second witness of what was confirmed last, beside the store.
//
// A damaged log can lose its tail without any other sign. So after each commit that confirms an entry or a
// bundle, `<store>.head` is rewritten in place: the last entry of all visits together (any lost tail holds
// it) and the last bundle. It is not synced: after a power cut it may lag behind the store, never lead. A
// store that does not have what its head file knows has lost something.
//
// Text of one fixed size below a disk sector: a line naming format and tablet, "entry <visit> <seq> <hash>",
// "bundle <seq> <digest>", "sum <SHA-256 of the lines before>". All zero where there is nothing yet. A file
// whose sum does not match was torn by a power cut and knows nothing.
#pragma once

#include "checklist/model/ids.hpp"
#include "checklist/model/result.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace crossarm::store {

struct Head {
    std::string device;
    model::Id visit;
    std::int64_t seq = 0; ///< 0: no entry yet
    std::string hash;
    std::int64_t bundle_seq = 0; ///< 0: no bundle yet
    std::string bundle_digest;
    bool operator==(const Head&) const = default;
};

[[nodiscard]] std::string to_text(const Head& head);
/// Nothing when the text is torn or no head file.
[[nodiscard]] std::optional<Head> read_head(std::string_view text);

/// Reads the file at `path`; nothing when there is none, or it knows nothing.
[[nodiscard]] std::optional<Head> load_head(const std::string& path);

/// The file, kept open for rewriting.
class HeadFile {
public:
    /// Opens or makes it. Problem when that is not possible.
    [[nodiscard]] static model::Result<HeadFile> open(const std::string& path);
    HeadFile(HeadFile&& other) noexcept;
    HeadFile& operator=(HeadFile&& other) noexcept;
    ~HeadFile();
    /// Rewrites the file without sync. A failure leaves it behind or torn, which is allowed.
    void write(const Head& head) const;

private:
    explicit HeadFile(int file) : file_(file) {}
    int file_ = -1;
};

} // namespace crossarm::store
