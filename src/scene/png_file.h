#pragma once
// The door for PNG files, both ways. Hostile files end in an InputError; written files appear whole or not at all
// (scene/whole_files.h).

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "base/problem.h"
#include "base/raster.h"
#include "scene/whole_files.h"

namespace linefall {

/// A grey picture as stored, without any gamma: 8-bit values 0..255 or 16-bit values 0..65535.
struct GreyPicture {
    Raster<std::uint16_t> values;  ///< row 0 is the top of the picture
    int bits = 8;                  ///< 8 or 16
};

/// Reads an 8- or 16-bit grey PNG of at least `least` and at most `most` pixels a side. Throws InputError.
[[nodiscard]] GreyPicture readGreyPng(const std::string& path, int least, int most);

/// A text chunk of a PNG.
struct PngText {
    std::string key, text;
};

/// Writes 8-bit pixels, `channels` 1 (grey) or 3 (colour), row by row from the top. `pixels_a_metre`: how large it is
/// meant to be printed; 0: not said.
void writePng8(WholeFiles& files, const std::string& path, int columns, int rows, int channels,
               std::span<const std::uint8_t> pixels, const std::vector<PngText>& texts = {}, int pixels_a_metre = 0);
/// The same file as bytes, for a picture inside another file. Throws std::bad_alloc.
[[nodiscard]] std::string pngBytes(int columns, int rows, int channels, std::span<const std::uint8_t> pixels);
/// Writes 16-bit grey.
void writePng16(WholeFiles& files, const std::string& path, const Raster<std::uint16_t>& values,
                const std::vector<PngText>& texts = {});

}  // namespace linefall
