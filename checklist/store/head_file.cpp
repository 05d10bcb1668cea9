#include "checklist/store/head_file.hpp"

#include "checklist/model/digest.hpp"

#include <array>
#include <cerrno>
#include <charconv>
#include <cstring>
#include <utility>

#include <fcntl.h>
#include <unistd.h>

namespace crossarm::store {

namespace {

constexpr std::string_view kFormat = "crossarm.head/1 ";
constexpr std::size_t kIdSize = 36;
constexpr std::size_t kSeqSize = 12;
constexpr std::size_t kHashSize = 64;
constexpr std::size_t kMost = 512;

std::string padded(std::int64_t seq) {
    const std::string digits = std::to_string(seq);
    return std::string(kSeqSize - std::min(kSeqSize, digits.size()), '0') + digits;
}

std::string or_zeros(const std::string& hash) {
    return hash.empty() ? std::string(kHashSize, '0') : hash;
}

/// Takes the text apart from the front; `good` stays true as long as everything fits.
struct Reader {
    std::string_view rest;
    bool good = true;

    std::string_view take(std::size_t size) {
        good = good && rest.size() >= size;
        const std::string_view part = rest.substr(0, size);
        rest.remove_prefix(part.size());
        return part;
    }
    void expect(std::string_view text) { good = take(text.size()) == text && good; }
    std::int64_t number() {
        const std::string_view digits = take(kSeqSize);
        std::int64_t value = 0;
        const auto end = std::from_chars(digits.data(), digits.data() + digits.size(), value);
        good = good && end.ec == std::errc() && end.ptr == digits.data() + digits.size() && value >= 0;
        return value;
    }
};

} // namespace

std::string to_text(const Head& head) {
    const std::string lines = std::string(kFormat) + head.device + "\nentry " + model::to_text(head.visit) +
                              ' ' + padded(head.seq) + ' ' + or_zeros(head.hash) + "\nbundle " +
                              padded(head.bundle_seq) + ' ' + or_zeros(head.bundle_digest) + '\n';
    return lines + "sum " + model::sha256_hex(lines) + '\n';
}

std::optional<Head> read_head(std::string_view text) {
    Reader reader{text};
    Head head;
    reader.expect(kFormat);
    head.device = reader.take(kIdSize);
    reader.expect("\nentry ");
    const auto visit = model::parse_id(reader.take(kIdSize), "head file");
    reader.expect(" ");
    head.seq = reader.number();
    reader.expect(" ");
    head.hash = reader.take(kHashSize);
    reader.expect("\nbundle ");
    head.bundle_seq = reader.number();
    reader.expect(" ");
    head.bundle_digest = reader.take(kHashSize);
    reader.expect("\n");
    const std::string_view lines = text.substr(0, text.size() - reader.rest.size());
    reader.expect("sum ");
    const std::string_view sum = reader.take(kHashSize);
    reader.expect("\n");
    if (!reader.good || !reader.rest.empty() || !visit || sum != model::sha256_hex(lines)) {
        return std::nullopt;
    }
    head.visit = *visit;
    if (head.seq == 0) {
        head.hash.clear();
    }
    if (head.bundle_seq == 0) {
        head.bundle_digest.clear();
    }
    return head;
}

std::optional<Head> load_head(const std::string& path) {
    const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK);
    if (file < 0) {
        return std::nullopt;
    }
    std::array<char, kMost> buffer{};
    const ssize_t size = ::pread(file, buffer.data(), buffer.size(), 0);
    ::close(file);
    return size <= 0 ? std::nullopt : read_head({buffer.data(), static_cast<std::size_t>(size)});
}

model::Result<HeadFile> HeadFile::open(const std::string& path) {
    const int file = ::open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0644);
    if (file < 0) {
        return model::Problem{path, std::string("the head file cannot be written: ") + std::strerror(errno),
                              "check the rights on file and folder"};
    }
    return HeadFile(file);
}

HeadFile::HeadFile(HeadFile&& other) noexcept : file_(std::exchange(other.file_, -1)) {}

HeadFile& HeadFile::operator=(HeadFile&& other) noexcept {
    std::swap(file_, other.file_);
    return *this;
}

HeadFile::~HeadFile() {
    if (file_ >= 0) {
        ::close(file_);
    }
}

void HeadFile::write(const Head& head) const {
    const std::string text = to_text(head);
    [[maybe_unused]] const ssize_t written = ::pwrite(file_, text.data(), text.size(), 0);
}

} // namespace crossarm::store
