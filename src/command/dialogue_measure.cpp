// Measuring by command: what a hand would do with the mouse.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "command/dialogue.h"
#include "lesson/describe.h"
#include "measure/angles.h"
#include "measure/area_statistics.h"
#include "measure/heights.h"
#include "measure/lengths.h"
#include "measure/plane_fit.h"
#include "measure/profile.h"

namespace linefall {

namespace {

/// A pixel "120,45", or why there is none.
struct Pixel {
    int sample = 0, line = 0;
    std::string problem;
};

Pixel pixelOf(const std::string& word, const Formation& formation) {
    Pixel pixel;
    int used = 0;
    if (std::sscanf(word.c_str(), "%d,%d%n", &pixel.sample, &pixel.line, &used) != 2 || used != static_cast<int>(word.size()))
        pixel.problem = "'" + word.substr(0, 40) + "' is no pixel: sample,line, such as 120,45";
    else if (pixel.sample < 0 || pixel.line < 0 || pixel.sample >= formation.samples() || pixel.line >= formation.lines())
        pixel.problem = word + " is outside the picture: samples 0 to " + std::to_string(formation.samples() - 1) + ", lines 0 to " + std::to_string(formation.lines() - 1);
    return pixel;
}

std::string reading(const Reading& r) { return "  " + r.name + ": " + textOf(r) + "\n"; }

/// `plain`: the picture alone, where the ground under it has to be found out.
std::string pixelText(Formation& formation, const Pixel& at, bool plain) {
    const Why why = formation.why(at.line, at.sample);
    std::string out;
    for (std::size_t b = 0; b < why.counts.size(); ++b) out += fmt::format("  {}: {} counts\n", formation.image().bands[b].name, why.counts[b]);
    if (why.hit.meets == Meets::sky) return out + "  it looks into the sky\n";
    if (!plain) out += fmt::format("  ground: {:.1f} m east, {:.1f} m north, {:.1f} m high\n", why.hit.point_m.x, why.hit.point_m.y, why.hit.point_m.z);
    out += fmt::format("  taken {} after the flight began\n", shortText(why.time_s, Kind::time, 4));
    return out;
}

std::string lengthText(Formation& formation, const Pixel& a, const Pixel& b, bool plain) {
    const PicturePlace from = centreOf(a.sample, a.line), to = centreOf(b.sample, b.line);
    std::string out = fmt::format("  in the picture: {} samples and {} lines\n", std::abs(b.sample - a.sample), std::abs(b.line - a.line));
    for (const Reading& r : {groundDistance(formation, from, to), displacement(formation, from, to), heightDifference(formation, from, to), bearing(formation, from, to), timeBetween(formation, from, to)}) {
        const bool tells_height = r.kind == Kind::length && r.name.find("height") != std::string::npos;
        if (r.ok() && !(plain && tells_height)) out += reading(r);
    }
    return out;
}

/// A mean with one figure more than its standard error leaves a sense to, at most three behind the point.
std::string meanText(double mean, double error) {
    const int decimals = error > 0.0 ? std::clamp(1 - static_cast<int>(std::floor(std::log10(error))), 0, 3) : 2;
    return fmt::format("{:.{}f}", mean, decimals);
}

std::string areaText(Formation& formation, const Pixel& at, int size) {
    const int half = (size - 1) / 2;
    if (size < 1 || at.sample - half < 0 || at.line - half < 0 || at.sample + half >= formation.samples() || at.line + half >= formation.lines())
        return "  an area of " + std::to_string(size) + " pixels does not fit there\n";
    const Region region = rectangleOf(centreOf(at.sample - half, at.line - half), centreOf(at.sample + half, at.line + half));
    const AreaStatistics all = areaStatistics(formation, region, Scale::counts);
    const AreaStatistics share = areaStatistics(formation, region, Scale::reflectance);
    std::string out = fmt::format("  {} by {} pixels\n", 2 * half + 1, 2 * half + 1);
    for (std::size_t b = 0; b < all.bands.size(); ++b) {
        const PlaneFit plane = planeFit(formation, region, static_cast<int>(b), Scale::counts);
        out += fmt::format("  {}: mean {}, spread {} counts (about an even slope {}), from {:.0f} to {:.0f}", all.bands[b].band, meanText(all.bands[b].mean, all.bands[b].standard_error),
                           figuresText(all.bands[b].standard_deviation, 3), figuresText(plane.residual, 3), all.bands[b].least, all.bands[b].most);
        if (share.pixels > 0) {
            out += fmt::format("; reflectance {} %, spread {} %", meanText(100.0 * share.bands[b].mean, 100.0 * share.bands[b].standard_error), figuresText(100.0 * share.bands[b].standard_deviation, 3));
        }
        out += "\n";
    }
    return out;
}

std::string profileText(Formation& formation, const Pixel& a, const Pixel& b) {
    const Profile profile = profileAlong(formation, centreOf(a.sample, a.line), centreOf(b.sample, b.line), Scale::counts);
    const std::size_t step = std::max<std::size_t>(1, profile.samples.size() / 40);
    std::string out = "  sample,line: counts of " + (profile.bands.empty() ? std::string("no band") : profile.bands.front()) + (step > 1 ? fmt::format(", one pixel in {}", step) : "") + "\n";
    for (std::size_t i = 0; i < profile.samples.size(); i += step) {
        const ProfileSample& sample = profile.samples[i];
        if (!sample.values.empty() && std::isfinite(sample.values.front())) out += fmt::format("  {},{}: {:.0f}\n", sample.sample, sample.line, sample.values.front());
    }
    return out;
}

}  // namespace

int Dialogue::instrumentOf(Words& words) const {
    const std::size_t count = runner_.truths().scene(sceneNow()).instruments.size();
    if (words.size() > 1 && words.back().size() == 1 && words.back()[0] >= 'A' && words.back()[0] < static_cast<char>('A' + static_cast<int>(count))) {
        const int instrument = words.back()[0] - 'A';
        words.pop_back();
        return instrument;
    }
    return 0;
}

void Dialogue::measure(const std::string& what, const Words& asked) {
    Words words = asked;
    const int instrument = instrumentOf(words);
    Formation& formation = runner_.truths().formation(sceneNow(), instrument);
    const bool plain = shownPlain(runner_.lesson(), runner_.step(), sceneNow(), instrument);
    const std::size_t needed = what == "pixel" ? 2 : 3;
    if (words.size() != needed) {
        print_(what == "pixel"  ? "pixel S,L [A]: such as pixel 120,45\n"
               : what == "area" ? "area S,L SIZE [A]: such as area 120,45 9\n"
                                : what + " S,L S,L [A]: such as " + what + " 120,45 130,60\n");
        return;
    }
    const Pixel first = pixelOf(words[1], formation);
    if (!first.problem.empty()) return print_(first.problem + "\n");
    std::string result;
    if (what == "pixel") {
        result = pixelText(formation, first, plain);
    } else if (what == "area") {
        result = areaText(formation, first, std::atoi(words[2].c_str()));
    } else {
        const Pixel second = pixelOf(words[2], formation);
        if (!second.problem.empty()) return print_(second.problem + "\n");
        result = what == "length" ? lengthText(formation, first, second, plain) : profileText(formation, first, second);
    }
    print_(result);
    std::string line;
    for (const std::string& word : asked) line += (line.empty() ? "" : " ") + word;
    if (evidence_.size() + line.size() < 4000) evidence_ += (evidence_.empty() ? "" : "\n") + line;
}

}  // namespace linefall
