#pragma once
// Paper and ink of figures, and colours for categories that most eyes tell apart.

#include <array>
#include <vector>

#include "base/spectrum.h"
#include "figure/drawing.h"

namespace linefall {

/// The window's two palettes (app/theme.cpp), for a page.
struct PagePalette {
    Ink paper, ink, quiet, hairline, control;
    std::array<Ink, 2> craft;  ///< A and B; more instruments take turns
    Ink sun, blank, plate, wrong;
    Ink over;  ///< casing of lines over imagery
};

[[nodiscard]] constexpr PagePalette pagePalette(bool night) {
    if (night) {
        return {Ink::hex(0x1C2126), Ink::hex(0xECE7DC), Ink::hex(0xADA697), Ink::hex(0x343B42), Ink::hex(0x7E8790),
                {Ink::hex(0xF08A4B), Ink::hex(0x6BB7E8)}, Ink::hex(0xF0B429), Ink::hex(0x22282E), Ink::hex(0x14171A), Ink::hex(0xFF9AA8), Ink::hex(0x101316)};
    }
    return {Ink::hex(0xFFFDF8), Ink::hex(0x1F2328), Ink::hex(0x565B62), Ink::hex(0xD9D2C5), Ink::hex(0x7D766A),
            {Ink::hex(0xA8400A), Ink::hex(0x0A5C8F)}, Ink::hex(0xE0A100), Ink::hex(0xE9E2D4), Ink::hex(0xFFFDF8), Ink::hex(0xA1002C), Ink::hex(0xFFFDF8)};
}

inline constexpr Ink over_dark = Ink::hex(0x141619);   ///< casings and lines over imagery
inline constexpr Ink over_light = Ink::hex(0xFFFDF8);
inline constexpr Ink over_sun = Ink::hex(0xFFCE3A);

/// Dash patterns of the instruments: A unbroken, B dashed.
[[nodiscard]] inline std::vector<double> craftDash(int instrument) { return instrument % 2 == 0 ? std::vector<double>{} : std::vector<double>{7.0, 4.0}; }

/// The look of a curve for each band, shortest wavelength first: colours of Okabe and Ito (2008, "Color universal design"),
/// each with a dash pattern of its own so that colour is not the only cue. A single band: ink.
[[nodiscard]] std::vector<Stroke> bandStrokes(const std::vector<Band>& bands, bool night);

}  // namespace linefall
