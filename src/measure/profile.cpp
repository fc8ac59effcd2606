#include "measure/profile.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace linefall {

namespace {

constexpr double none = std::numeric_limits<double>::quiet_NaN();

void addGroundUnder(const Ground& ground, std::vector<ProfileSample>& samples) {
    const auto known = [](const ProfileSample& s) { return s.ground_m.has_value(); };
    const auto first = std::find_if(samples.begin(), samples.end(), known);
    const auto last = std::find_if(samples.rbegin(), samples.rend(), known);
    for (ProfileSample& s : samples) s.section_m = s.terrain_m = s.surface_m = none;
    if (first == samples.end()) return;
    const Vec3 start = *first->ground_m;
    const Vec3 end = *last->ground_m;
    const double length = std::hypot(end.x - start.x, end.y - start.y);
    const double pixels = last->along_pixels - first->along_pixels;
    for (ProfileSample& s : samples) {
        if (s.ground_m) s.distance_m = std::hypot(s.ground_m->x - start.x, s.ground_m->y - start.y);
        const double share = pixels > 0.0 ? (s.along_pixels - first->along_pixels) / pixels : 0.0;
        if (share < 0.0 || share > 1.0) continue;  // sky at the line's ends
        const Vec3 at = start + share * (end - start);
        s.section_m = share * length;
        s.terrain_m = ground.terrain().contains(at.x, at.y) ? ground.terrain().heightAt(at.x, at.y) : 0.0;
        s.surface_m = ground.surfaceAt(at.x, at.y);
    }
}

/// A header's cell: quoted when a comma or a quote stands in it.
std::string cell(const std::string& text) {
    if (text.find_first_of(",\"\n") == std::string::npos) return text;
    std::string out = "\"";
    for (const char c : text) out += c == '"' ? std::string("\"\"") : std::string(1, c);
    return out + "\"";
}

std::string number(double value, int decimals) { return std::isfinite(value) ? fmt::format("{:.{}f}", value, decimals) : ""; }

}  // namespace

Profile profileAlong(const Formation& formation, const PicturePlace& from, const PicturePlace& to, Scale scale, double step_pixels) {
    const Image& image = formation.image();
    Profile profile;
    profile.scale = scale;
    profile.unit = unitOf(scale);
    for (const Band& band : image.bands) profile.bands.push_back(band.name);
    const double length = std::hypot(to.sample - from.sample, to.line - from.line);
    const int steps = static_cast<int>(std::clamp(std::ceil(length / std::max(step_pixels, 0.1) * (1.0 - 1e-12)), 0.0, 1e6));
    std::optional<LineScale> line_scale;
    int scaled_line = -1;
    for (int i = 0; i <= steps; ++i) {
        const double share = steps > 0 ? static_cast<double>(i) / steps : 0.0;
        const PixelIndex pixel = pixelAt(formation, {from.sample + share * (to.sample - from.sample), from.line + share * (to.line - from.line)});
        ProfileSample s;
        s.sample = pixel.sample;
        s.line = pixel.line;
        s.along_pixels = share * length;
        s.formed = formation.ready(pixel.line);
        s.ground_m = groundAt(formation, centreOf(pixel.sample, pixel.line));
        s.distance_m = none;
        s.values.assign(image.bands.size(), none);
        if (s.formed && image.sky.at(pixel.sample, pixel.line) == 0) {
            if (scaled_line != pixel.line) {
                line_scale.emplace(formation, scale, pixel.line);
                scaled_line = pixel.line;
            }
            for (std::size_t b = 0; b < image.bands.size() && line_scale->defined(); ++b) {
                s.values[b] = line_scale->valueOf(static_cast<int>(b), pixel.sample, image.counts[b].at(pixel.sample, pixel.line));
            }
        }
        profile.samples.push_back(std::move(s));
    }
    addGroundUnder(*formation.place().ground, profile.samples);
    return profile;
}

std::string csvText(const Profile& profile) {
    std::string out = "sample,line,along_pixels,distance_m,east_m,north_m,elevation_m,section_m,terrain_m,surface_m";
    const std::string unit = profile.scale == Scale::reflectance ? "reflectance" : profile.unit;
    for (const std::string& band : profile.bands) out += "," + cell(band + " (" + unit + ")");
    out += "\n";
    const int decimals = profile.scale == Scale::counts ? 0 : profile.scale == Scale::radiance ? 4 : 5;
    for (const ProfileSample& s : profile.samples) {
        const Vec3 at = s.ground_m.value_or(Vec3(none));
        out += fmt::format("{},{},{},{},{},{},{},{},{},{}", s.sample, s.line, number(s.along_pixels, 3), number(s.distance_m, 2), number(at.x, 2),
                           number(at.y, 2), number(at.z, 2), number(s.section_m, 2), number(s.terrain_m, 2), number(s.surface_m, 2));
        for (const double value : s.values) out += "," + number(value, decimals);
        out += "\n";
    }
    return out;
}

}  // namespace linefall
