#pragma once
// Inside the figure module: the faces behind Type, and words as glyphs of Cairo.

#include <cairo.h>

#include <array>
#include <string>
#include <vector>

#include "figure/type.h"

namespace linefall {

struct Type::Faces {
    std::array<cairo_font_face_t*, 3> cairo{};  ///< by Weight
    std::array<void*, 3> freetype{};            ///< FT_Face, or null where the system's own face stands in
    std::string missing;

    Faces();
    ~Faces();
    Faces(const Faces&) = delete;
    Faces& operator=(const Faces&) = delete;
};

/// Glyphs of one face, placed from (0, 0) along the baseline to the right, for a size of 1 x `size`.
struct GlyphRun {
    cairo_font_face_t* face = nullptr;
    std::vector<cairo_glyph_t> glyphs;
};

struct GlyphLine {
    std::vector<GlyphRun> runs;
    double width = 0.0;
};

[[nodiscard]] GlyphLine glyphsOf(const Type::Faces& faces, const std::string& text, double size, Weight weight);

/// The letters of a text, each with its bytes; what is not UTF-8 becomes the replacement character.
struct Letter {
    char32_t code = 0;
    std::string bytes;
};
[[nodiscard]] std::vector<Letter> lettersOf(const std::string& text);

}  // namespace linefall
