#pragma once
// What tests of figures share: pixels of any PNG, and whether a text is XML.

#include <png.h>

#include <cstdint>
#include <cstdlib>
#include <fstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "support/scenes.h"

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

/// What xmllint says of a file; empty: it is well-formed.
inline std::string xmlFaults(const std::string& path) {
    const std::string said = path + ".xmllint";
    const int code = std::system(("xmllint --nonet --huge --noout '" + path + "' > '" + said + "' 2>&1").c_str());
    std::ifstream in(said);
    std::string words{std::istreambuf_iterator<char>(in), {}};
    in.close();
    std::remove(said.c_str());
    if (code != 0 && words.empty()) return "xmllint did not run: ./check installs it (libxml2-utils)";
    return words;
}

inline std::size_t occurrences(const std::string& text, const std::string& part) {
    std::size_t n = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + part.size())) ++n;
    return n;
}

}  // namespace linefall::test
