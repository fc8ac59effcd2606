#pragma once
// What stands on the screen: the pixels of a window by its name, as the X server has them; and contrast as it is defined
// for reading (W3C, Web Content Accessibility Guidelines 2.2, "relative luminance" and "contrast ratio").

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace linefall {

using Rgb = std::array<std::uint8_t, 3>;

struct Shot {
    int width = 0, height = 0;
    std::vector<Rgb> pixels;  ///< row by row from the top
    [[nodiscard]] const Rgb& at(int x, int y) const { return pixels[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)]; }
};

/// Nothing when there is no such window, or the tests were built without X11.
[[nodiscard]] std::optional<Shot> grabWindow(const std::string& name);
/// Takes the window from the screen and gives it back, as a window manager does when it minimises.
bool unmapWindow(const std::string& name);
bool mapWindow(const std::string& name);
bool resizeWindow(const std::string& name, int width, int height);

[[nodiscard]] double luminance(const Rgb& colour);
/// 1 to 21.
[[nodiscard]] double contrast(const Rgb& a, const Rgb& b);

}  // namespace linefall
