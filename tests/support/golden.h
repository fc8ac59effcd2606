#pragma once
// Small golden images: a part of a picture, averaged down to at most 112 pixels a side, beside the one that was looked at and accepted.
// Averaging leaves hardly anything of how a letter or a line was smoothed, so that another version of OpenGL in software or
// of the font library passes; what is drawn, where, and how bright stays. tests/golden/window/README.md.

#include <functional>
#include <optional>
#include <string>

#include "support/screen.h"

namespace linefall {

/// A part of a picture, pixels from its top left.
struct Crop {
    int x = 0, y = 0, w = 0, h = 0;
    /// A part of it, in shares of its width and height.
    [[nodiscard]] Crop part(double left, double top, double right, double bottom) const;
};

/// The whole of a picture.
[[nodiscard]] Crop wholeOf(const Shot& shot);

/// A part of a picture as `columns` by `rows` means, each over its own box; parts of pixels count in part.
[[nodiscard]] Shot shrunk(const Shot& shot, const Crop& box, int columns, int rows);
/// The longer side becomes 112, or half of what it was.
[[nodiscard]] Shot shrunk(const Shot& shot, const Crop& box);

/// How far two pictures of the same size are apart, in counts of 0..255: absolute differences of the colours, as the mean over
/// all and as the mean over the worst 8 by 8 pixels (at every fourth place).
struct Apart {
    double mean = 255.0, worst = 255.0;
    /// So little that both show the same.
    [[nodiscard]] bool same() const { return mean <= most_mean && worst <= most_worst; }
    static constexpr double most_mean = 2.0, most_worst = 8.0;
};
/// Pictures of different sizes are as far apart as can be.
[[nodiscard]] Apart apart(const Shot& a, const Shot& b);

/// Reads any PNG as colours; nothing when there is none.
[[nodiscard]] std::optional<Shot> readShot(const std::string& path);
void writeShot(const std::string& path, const Shot& shot);

/// Goldens are made anew, not compared: LINEFALL_APPROVE is set.
[[nodiscard]] bool approving();
/// Where they lie in the source tree, with the name's file.
[[nodiscard]] std::string goldenPath(const std::string& name);

/// What is wrong with what `take` sees, beside the golden of this name; empty when nothing is, or when it was made anew.
/// `take` is asked again until it shows the golden, `patience_s` at most, since a page stands when it is ready and not sooner.
/// Otherwise NAME.got.png, NAME.expected.png and NAME.difference.png are left in the folder `left`.
[[nodiscard]] std::string unlikeGolden(const std::string& name, const std::function<std::optional<Shot>()>& take, const std::string& left, double patience_s = 60.0);

}  // namespace linefall
