#include "flight/picture_look.h"

#include <algorithm>

namespace linefall {

bool operator==(const PictureLook& a, const PictureLook& b) {
    if (a.screen_curve != b.screen_curve || a.bands.red != b.bands.red || a.bands.green != b.bands.green || a.bands.blue != b.bands.blue) return false;
    return std::equal(a.limits.begin(), a.limits.end(), b.limits.begin(), b.limits.end(),
                      [](const StretchLimits& x, const StretchLimits& y) { return x.low == y.low && x.high == y.high; });
}

std::vector<int> stretchLines(int lines) {
    std::vector<int> out;
    const int count = std::min(16, lines);
    for (int i = 0; i < count; ++i) out.push_back(static_cast<int>((i + 0.5) * lines / count));
    return out;
}

Stretch stretchOf(const ShowSettings& show) {
    Stretch stretch;
    stretch.kind = show.stretch == StretchKind::none ? Stretch::Kind::none : show.stretch == StretchKind::value ? Stretch::Kind::value : Stretch::Kind::percent;
    stretch.low_percent = show.low_percent;
    stretch.high_percent = show.high_percent;
    stretch.low_count = show.low_count;
    stretch.high_count = show.high_count;
    return stretch;
}

PictureLook lookOf(const Image& image, const std::string& bands, const Stretch& stretch) {
    PictureLook look{chooseBands(image.bands, bands), {}, stretch.screen_curve};
    if (look.bands.name.empty()) look.bands.name = "band " + (image.bands.empty() ? std::string() : image.bands.front().name);
    const std::vector<int> lines = stretchLines(image.lines());
    for (const int band : {look.bands.red, look.bands.green, look.bands.blue}) look.limits.push_back(limitsOf(image, band, stretch, lines));
    return look;
}

}  // namespace linefall
