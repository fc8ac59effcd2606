#include "scene/show_settings.h"

#include <algorithm>
#include <string>

namespace linefall {

const std::vector<std::string>& causeWords() {
    static const std::vector<std::string> words{"perspective", "relief", "attitude", "sweep-motion", "air", "skylight", "cast-shadow", "slope-shading", "blur", "noise", "quantisation", "pattern"};
    return words;
}

const Keys<ShowSettings>& showKeys() {
    using S = ShowSettings;
    static const Keys<S> keys = [] {
        Keys<S> k("show.");
        k.text("bands", &S::bands, "true colour", "bands shown: true colour, false colour, a band's name, or three names for red, green, blue")
            .choice("stretch", &S::stretch, StretchKind::percent, {"percent", "value", "none"}, "how counts become brightness")
            .number("low_percent", Kind::number, &S::low_percent, 0.5, 0.0, 49.0, "percent stretch: share of the samples left black, in %")
            .number("high_percent", Kind::number, &S::high_percent, 98.0, 51.0, 100.0, "percent stretch: share of the samples not yet white, in %")
            .number("low_count", Kind::number, &S::low_count, 0.0, 0.0, 65534.0, "value stretch: this count is shown black")
            .number("high_count", Kind::number, &S::high_count, 4095.0, 1.0, 65535.0, "value stretch: this count is shown white")
            .flag("turned", &S::turned, false, "the pictures are turned by 180 degrees")
            .choice("as", &S::as, ShownAs::picture, {"picture", "difference", "map"}, "the pictures as they fell, the difference that the cause makes, or the counts laid out as a map")
            .word("cause", &S::cause, "cast-shadow", causeWords(), "the cause that is looked at, one at a time")
            .flag("displacement", &S::displacement, false, "arrows and outlines of what the cause does to places")
            .choice("resampling", &S::resampling, MapResampling::nearest, {"nearest", "bilinear"}, "how the cells of a map take their counts from the pixels")
            .choice("map_height", &S::map_height, MapHeight::datum, {"datum", "ground"}, "a map as if all lay at datum, or with the true heights")
            .text("pixel", &S::pixel, "", "the picked pixel as A:line,sample")
            .derived("time", Kind::time, &S::time_s, 0.0, 1e9, "where the clock stands; auto: at the end of the flight");
        return k;
    }();
    return keys;
}

namespace {

/// A whole number from 0 on, of at most 7 digits; -1 when it is none.
int wholeNumber(const std::string& digits) {
    const bool whole = !digits.empty() && digits.size() <= 7 && std::all_of(digits.begin(), digits.end(), [](char c) { return c >= '0' && c <= '9'; });
    return whole ? std::stoi(digits) : -1;
}

}  // namespace

std::optional<ShownPixel> readShownPixel(const std::string& text) {
    if (text.size() < 5 || text[0] < 'A' || text[0] > 'Z' || text[1] != ':') return std::nullopt;
    const std::size_t comma = text.find(',');
    if (comma == std::string::npos) return std::nullopt;
    const ShownPixel pixel{text[0] - 'A', wholeNumber(text.substr(2, comma - 2)), wholeNumber(text.substr(comma + 1))};
    if (pixel.line < 0 || pixel.sample < 0) return std::nullopt;
    return pixel;
}

std::string writtenPixel(const ShownPixel& pixel) {
    return std::string(1, static_cast<char>('A' + pixel.instrument)) + ":" + std::to_string(pixel.line) + "," + std::to_string(pixel.sample);
}

}  // namespace linefall
