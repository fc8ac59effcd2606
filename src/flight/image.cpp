#include "flight/image.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "base/quantity.h"

namespace linefall {

std::string Stretch::text() const {
    const std::string curve = screen_curve ? ", shown through the screen's curve (sRGB)" : ", codes follow the counts";
    switch (kind) {
        case Kind::none: return "black is count 0, white the largest count" + curve;
        case Kind::percent:
            return "linear from the darkest " + shortText(low_percent / 100.0, linefall::Kind::ratio) + " to the brightest " +
                   shortText(1.0 - high_percent / 100.0, linefall::Kind::ratio) + " of each band" + curve;
        case Kind::value: return "linear from count " + figuresText(low_count, 5) + " to " + figuresText(high_count, 5) + curve;
    }
    return "";
}

std::uint8_t screenCode(double light) {
    const double x = std::clamp(light, 0.0, 1.0);
    const double code = x <= 0.0031308 ? 12.92 * x : 1.055 * std::pow(x, 1.0 / 2.4) - 0.055;
    return static_cast<std::uint8_t>(255.0 * code + 0.5);
}

namespace {

/// Index of the band whose middle is nearest to a wavelength and no farther than `reach`; -1 when none is.
int nearestBand(const std::vector<Band>& bands, double wavelength_um, double reach_um) {
    int best = -1;
    double best_distance = reach_um;
    for (std::size_t i = 0; i < bands.size(); ++i) {
        const double distance = std::abs(bands[i].middle_um() - wavelength_um);
        if (distance <= best_distance) {
            best_distance = distance;
            best = static_cast<int>(i);
        }
    }
    return best;
}

/// "nir, red, green" as three indices; nothing when it is not three known names.
std::optional<std::array<int, 3>> threeBands(const std::vector<Band>& bands, const std::string& choice) {
    std::array<int, 3> out{};
    std::size_t at = 0;
    for (std::size_t i = 0; i < 3; ++i) {
        const std::size_t end = i < 2 ? choice.find(',', at) : choice.size();
        if (end == std::string::npos) return std::nullopt;
        std::string name = choice.substr(at, end - at);
        name.erase(0, name.find_first_not_of(' '));
        name.erase(name.find_last_not_of(' ') + 1);
        const auto found = std::find_if(bands.begin(), bands.end(), [&](const Band& band) { return band.name == name; });
        if (found == bands.end()) return std::nullopt;
        out[i] = static_cast<int>(found - bands.begin());
        at = end + 1;
    }
    return out;
}

}  // namespace

BandChoice chooseBands(const std::vector<Band>& bands, const std::string& choice) {
    for (std::size_t i = 0; i < bands.size(); ++i) {
        if (bands[i].name == choice) return {static_cast<int>(i), static_cast<int>(i), static_cast<int>(i), "band " + choice};
    }
    if (const std::optional<std::array<int, 3>> three = threeBands(bands, choice)) return {(*three)[0], (*three)[1], (*three)[2], choice};
    const int infrared = nearestBand(bands, 0.85, 0.15);
    // An eye's own three: what its L, M and S cones say.
    const auto cone = [&](const char* receptor) {
        const auto found = std::find_if(bands.begin(), bands.end(), [&](const Band& band) { return band.receptor == receptor; });
        return found == bands.end() ? -1 : static_cast<int>(found - bands.begin());
    };
    const bool eye = cone("L") >= 0 && cone("M") >= 0 && cone("S") >= 0;
    const int red = eye ? cone("L") : nearestBand(bands, 0.65, 0.06);
    const int green = eye ? cone("M") : nearestBand(bands, 0.55, 0.06);
    const int blue = eye ? cone("S") : nearestBand(bands, 0.47, 0.06);
    if (choice == "true colour" && red >= 0 && green >= 0 && blue >= 0) return {red, green, blue, choice};
    if (choice == "false colour" && infrared >= 0 && red >= 0 && green >= 0) return {infrared, red, green, choice};
    if (choice == "true colour" || choice == "false colour") return {0, 0, 0, "band " + (bands.empty() ? "" : bands[0].name)};
    return {0, 0, 0, ""};
}

StretchLimits limitsOf(const Image& image, int band, const Stretch& stretch, int first_line, int last_line) {
    std::vector<int> lines;
    for (int line = std::max(0, first_line); line < std::min(last_line, image.lines()); ++line) lines.push_back(line);
    return limitsOf(image, band, stretch, lines);
}

StretchLimits limitsOf(const Image& image, int band, const Stretch& stretch, std::span<const int> lines) {
    const double most = static_cast<double>(image.most_count);
    if (stretch.kind == Stretch::Kind::none) return {0.0, most};
    if (stretch.kind == Stretch::Kind::value) return {stretch.low_count, std::max(stretch.high_count, stretch.low_count + 1.0)};
    std::vector<std::uint32_t> histogram(static_cast<std::size_t>(image.most_count) + 1, 0);
    std::uint64_t total = 0;
    const Raster<std::uint16_t>& counts = image.counts[static_cast<std::size_t>(band)];
    for (const int line : lines) {
        for (int s = 0; s < counts.columns(); ++s) {
            if (image.sky.at(s, line) != 0) continue;
            ++histogram[counts.at(s, line)];
            ++total;
        }
    }
    if (total == 0) return {0.0, most};
    const auto quantile = [&](double percent) {
        const double wanted = percent / 100.0 * static_cast<double>(total);
        double below = 0.0;
        for (std::size_t count = 0; count < histogram.size(); ++count) {
            below += histogram[count];
            if (below >= wanted) return static_cast<double>(count);
        }
        return most;
    };
    const double low = quantile(stretch.low_percent);
    return {low, std::max(quantile(stretch.high_percent), low + 1.0)};
}

namespace {

std::uint8_t codeOf(double light, bool screen_curve) {
    // The curve at 4096 shares of full light: finer than the 256 codes need.
    static const std::array<std::uint8_t, 4097> curve = [] {
        std::array<std::uint8_t, 4097> table{};
        for (std::size_t i = 0; i < table.size(); ++i) table[i] = screenCode(static_cast<double>(i) / 4096.0);
        return table;
    }();
    return screen_curve ? curve[static_cast<std::size_t>(4096.0 * light + 0.5)] : static_cast<std::uint8_t>(255.0 * light + 0.5);
}

}  // namespace

std::uint8_t displayCode(double count, const StretchLimits& limits, bool screen_curve) {
    return codeOf(std::clamp((count - limits.low) * (1.0 / (limits.high - limits.low)), 0.0, 1.0), screen_curve);
}

std::vector<std::uint8_t> displayRow(const Image& image, const BandChoice& choice, const std::vector<StretchLimits>& limits, bool screen_curve, int line) {
    const std::array<int, 3> bands{choice.red, choice.green, choice.blue};
    const int channels = choice.grey() ? 1 : 3;
    std::vector<std::uint8_t> out(static_cast<std::size_t>(image.samples() * channels));
    constexpr std::array<std::uint8_t, 3> sky_colour{92, 104, 128};
    for (int c = 0; c < channels; ++c) {
        const auto k = static_cast<std::size_t>(c);
        const std::span<const std::uint16_t> row = image.counts[static_cast<std::size_t>(bands[k])].row(line);
        const double scale = 1.0 / (limits[k].high - limits[k].low);
        for (std::size_t s = 0; s < row.size(); ++s) {
            const double light = std::clamp((static_cast<double>(row[s]) - limits[k].low) * scale, 0.0, 1.0);
            const std::uint8_t code = codeOf(light, screen_curve);
            out[s * static_cast<std::size_t>(channels) + k] = image.sky.at(static_cast<int>(s), line) != 0 ? sky_colour[k] : code;
        }
    }
    return out;
}

}  // namespace linefall
