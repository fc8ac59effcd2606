#pragma once
// The pixels of any PNG.

#include <png.h>

#include <cstdint>
#include <stdexcept>
#include <string>
#include <vector>

namespace linefall::test {

/// 8-bit red, green, blue, row by row, as another reader than the program's own sees them.
struct Colours {
    int columns = 0, rows = 0;
    std::vector<std::uint8_t> values;
    [[nodiscard]] const std::uint8_t* at(int column, int row) const {
        return values.data() + 3 * (static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(column));
    }
};

inline Colours coloursOf(const std::string& path) {
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    if (png_image_begin_read_from_file(&image, path.c_str()) == 0) throw std::runtime_error(path + ": " + image.message);
    image.format = PNG_FORMAT_RGB;
    Colours colours{static_cast<int>(image.width), static_cast<int>(image.height), std::vector<std::uint8_t>(PNG_IMAGE_SIZE(image))};
    if (png_image_finish_read(&image, nullptr, colours.values.data(), 0, nullptr) == 0) throw std::runtime_error(path + ": " + image.message);
    return colours;
}

}  // namespace linefall::test
