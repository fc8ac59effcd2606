#pragma once
// Paper and ink: the two palettes, and the few sizes of type.

#include <imgui.h>

#include <string>

namespace linefall {

/// Colours by what they are for. Text on paper or panel reaches 7:1, quiet text 4.5:1, A and B 4.5:1 as lines and letters.
struct Palette {
    ImU32 paper, panel, ink, quiet, hairline, control;
    ImU32 craft[2];      ///< A and B
    ImU32 on_craft;      ///< letters on a field of A or B
    ImU32 sun;           ///< always cased in `casing`
    ImU32 wrong;         ///< what is wrong with a typed value
    ImU32 blank;         ///< of a picture not yet fallen
    bool night = false;
};

[[nodiscard]] const Palette& palette(bool night);
[[nodiscard]] ImU32 faded(ImU32 colour, float opacity);

/// Type, in pixels at the present text scale.
struct Fonts {
    ImFont *small = nullptr, *body = nullptr, *strong = nullptr, *title = nullptr, *figures = nullptr, *large = nullptr;
    std::string missing;  ///< what to install; empty when all were found
};
/// Builds the atlas anew; call between frames, then recreate the device objects.
[[nodiscard]] Fonts loadFonts(float scale);

/// The parts of Dear ImGui's own look that still show (text fields, scroll bars) in the palette.
void applyStyle(const Palette& p, float scale);

}  // namespace linefall
