// Writes a picture as a PNG file.
#pragma once

#include <cstdint>
#include <filesystem>
#include <vector>

namespace crossarm::tests {

/// `rgba`: rows from the top, four bytes a pixel. Throws std::runtime_error when the file cannot be written.
void write_png(const std::filesystem::path& file, int width, int height,
               const std::vector<std::uint8_t>& rgba);

} // namespace crossarm::tests
