#include "scene/figure_settings.h"

#include <algorithm>
#include <array>
#include <cstdlib>

#include "base/angle.h"
#include "scene/show_settings.h"

namespace linefall {

namespace {

constexpr std::array<const char*, 5> kind_names{"picture", "flight", "path", "profile", "histogram"};

std::vector<std::string> partsOf(const std::string& text, char between) {
    std::vector<std::string> parts(1);
    for (const char c : text) {
        if (c == between) parts.emplace_back();
        else parts.back() += c;
    }
    for (std::string& part : parts) {
        const std::size_t first = part.find_first_not_of(' ');
        part = first == std::string::npos ? "" : part.substr(first, part.find_last_not_of(' ') - first + 1);
    }
    return parts;
}

/// A whole number of at most six digits.
std::optional<int> readIndex(const std::string& text) {
    if (text.empty() || text.size() > 6 || text.find_first_not_of("0123456789") != std::string::npos) return std::nullopt;
    return std::atoi(text.c_str());
}

}  // namespace

const Keys<FigureSettings>& figureKeys() {
    static const Keys<FigureSettings> keys = [] {
        Keys<FigureSettings> k("figure.");
        k.text("what", &FigureSettings::what, "", "figures to make, separated by commas: picture, flight, path, profile, histogram; none named: all");
        k.text("from", &FigureSettings::from, "", "pixel where the profile begins, A:LINE,SAMPLE; not named: the first sample of the pixel's line");
        k.text("to", &FigureSettings::to, "", "pixel where the profile ends, A:LINE,SAMPLE; not named: the last sample of the pixel's line");
        k.choice("quantity", &FigureSettings::quantity, FigureQuantity::counts, {"counts", "radiance", "reflectance"}, "what the profile shows");
        k.text("scales", &FigureSettings::scales, "1, 2, 3", "sizes of the PNG files: 1, 2 and 3 times");
        k.text("difference", &FigureSettings::difference, "", "a cause (cast-shadow, air, relief, ...): the picture shows what it does to the counts; not named: as show.as says");
        k.choice("theme", &FigureSettings::theme, FigureTheme::day, {"day", "night"}, "dark on light, or light on dark");
        k.flag("plain", &FigureSettings::plain, false, "the picture alone with its samples and lines: neither flight nor sun are told");
        k.derived("azimuth", Kind::angle, &FigureSettings::azimuth_rad, -2.0 * constants::pi, 2.0 * constants::pi,
                  "direction in which the eye of the flight figure looks, clockwise from north; auto: across the flight");
        k.derived("elevation", Kind::angle, &FigureSettings::elevation_rad, radiansFromDegrees(1.0), radiansFromDegrees(90.0),
                  "of that eye above what it looks at; auto: 22 deg");
        k.derived("distance", Kind::length, &FigureSettings::distance_m, 10.0, 1e7, "of that eye from what it looks at; auto: so that all is seen");
        k.derived("east", Kind::length, &FigureSettings::east_m, -1e7, 1e7, "east coordinate of what that eye looks at; auto: so that all is seen");
        k.derived("north", Kind::length, &FigureSettings::north_m, -1e7, 1e7, "north coordinate of what that eye looks at; auto: so that all is seen");
        k.derived("up", Kind::length, &FigureSettings::up_m, -1e7, 1e7, "height of what that eye looks at; auto: so that all is seen");
        return k;
    }();
    return keys;
}

std::string kindName(FigureKind kind) { return kind_names.at(static_cast<std::size_t>(kind)); }

std::optional<std::vector<FigureKind>> readKinds(const std::string& text) {
    std::vector<FigureKind> kinds;
    if (text.find_first_not_of(' ') == std::string::npos) {
        for (std::size_t i = 0; i < kind_names.size(); ++i) kinds.push_back(static_cast<FigureKind>(i));
        return kinds;
    }
    for (const std::string& part : partsOf(text, ',')) {
        const auto known = std::find(kind_names.begin(), kind_names.end(), part);
        if (known == kind_names.end()) return std::nullopt;
        const auto kind = static_cast<FigureKind>(known - kind_names.begin());
        if (std::find(kinds.begin(), kinds.end(), kind) == kinds.end()) kinds.push_back(kind);
    }
    return kinds;
}

std::optional<std::vector<int>> readScales(const std::string& text) {
    std::vector<int> scales;
    for (const std::string& part : partsOf(text, ',')) {
        const std::optional<int> scale = readIndex(part);
        if (!scale || *scale < 1 || *scale > 3) return std::nullopt;
        if (std::find(scales.begin(), scales.end(), *scale) == scales.end()) scales.push_back(*scale);
    }
    std::sort(scales.begin(), scales.end());
    return scales;
}

std::string kindsExpected() {
    std::string names;
    for (const char* name : kind_names) names += std::string(names.empty() ? "" : ", ") + name;
    return "one or more of " + names + ", separated by commas";
}

void checkFigureTexts(const Settings& settings, Problems& problems) {
    const auto check = [&](const char* key, const auto& sound, const std::string& expected) {
        const Setting* given = settings.find(key);
        if (given == nullptr) return;
        const std::string text = std::get<std::string>(given->value);
        if (!sound(text)) problems.push_back({given->place, key, "'" + text + "'", expected, ""});
    };
    const auto sample = [](const std::string& text) { return text.empty() || readShownPixel(text).has_value(); };
    check("figure.what", [](const std::string& t) { return readKinds(t).has_value(); }, kindsExpected());
    check("figure.from", sample, sample_expected);
    check("figure.to", sample, sample_expected);
    check("figure.scales", [](const std::string& t) { return readScales(t).has_value(); }, scales_expected);
}

}  // namespace linefall
