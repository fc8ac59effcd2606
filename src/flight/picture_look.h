#pragma once
// How an image is shown: which bands, and which counts are black and white. The window, the files and the figures agree.

#include <vector>

#include "flight/image.h"
#include "scene/show_settings.h"

namespace linefall {

struct PictureLook {
    BandChoice bands;
    std::vector<StretchLimits> limits;  ///< one for each of red, green, blue
    bool screen_curve = true;

    friend bool operator==(const PictureLook&, const PictureLook&);
};

/// The lines that decide a percent stretch: at most 16 spread over the whole flight. A picture that still falls has its
/// final look from its first line on.
[[nodiscard]] std::vector<int> stretchLines(int lines);

[[nodiscard]] Stretch stretchOf(const ShowSettings& show);

/// Bands and limits for an image whose `stretchLines` are formed. Unknown bands: the first band, as chooseBands says.
[[nodiscard]] PictureLook lookOf(const Image& image, const std::string& bands, const Stretch& stretch);

}  // namespace linefall
