#include "tests/support/png.hpp"

#include <png.h>

#include <stdexcept>

namespace crossarm::tests {

void write_png(const std::filesystem::path& file, int width, int height,
               const std::vector<std::uint8_t>& rgba) {
    png_image image = {};
    image.version = PNG_IMAGE_VERSION;
    image.width = static_cast<png_uint_32>(width);
    image.height = static_cast<png_uint_32>(height);
    image.format = PNG_FORMAT_RGBA;
    if (png_image_write_to_file(&image, file.c_str(), 0, rgba.data(), 0, nullptr) == 0) {
        throw std::runtime_error(file.string() + ": " + image.message);
    }
}

} // namespace crossarm::tests
