#include "lesson/describe.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/angle.h"
#include "measure/area_statistics.h"
#include "measure/lengths.h"
#include "scene/show_settings.h"

namespace linefall {

namespace {

constexpr std::size_t most_things = 60;

/// "the top", "the upper right" ...: where a level direction lies in the picture, told in eighths of a turn.
std::string directionInPicture(Formation& formation, double azimuth_rad) {
    const PicturePlace middle{0.5 * formation.samples(), 0.5 * formation.lines()};
    const auto here = groundAt(formation, middle);
    const auto right = groundAt(formation, {middle.sample + 2.0, middle.line});
    const auto down = groundAt(formation, {middle.sample, middle.line + 2.0});
    if (!here || !right || !down) return "no side that can be told, since the middle of the picture looks into the sky";
    const double east = std::sin(azimuth_rad), north = std::cos(azimuth_rad);
    const auto along = [&](const Vec3& to) { return ((to.x - here->x) * east + (to.y - here->y) * north) / std::hypot(to.x - here->x, to.y - here->y); };
    static const std::array<const char*, 8> words{"the right", "the lower right", "the bottom", "the lower left", "the left", "the upper left", "the top", "the upper right"};
    const double turn = std::atan2(along(*down), along(*right));
    return words[static_cast<std::size_t>((std::lround(turn / (constants::pi / 4.0)) + 8) % 8)];
}

/// Metres down to a tenth, so that a pixel of 600 mm is read as 0.6 m.
std::string pixelText(double size_m) { return size_m >= 0.1 && size_m < 1.0 ? fmt::format("{:.3g} m", size_m) : shortText(size_m, Kind::length); }

std::string greyWord(double share) {
    if (share < 0.08) return "very dark";
    if (share < 0.2) return "dark";
    if (share < 0.45) return "middle grey";
    if (share < 0.75) return "light";
    return "very light";
}

/// Whether the picture is shown turned by half a turn: as it is said, else as the scene says.
bool isTurned(Truths& truths, const std::string& scene, std::optional<bool> said) { return said ? *said : showKeys().read(truths.scene(scene).settings).turned; }

/// The thirds as the page shows them: turned, the last lines are at the top and the last samples on the left.
std::string greys(Formation& formation, bool turned) {
    static const std::array<const char*, 3> rows{"top", "middle", "bottom"}, columns{"left", "centre", "right"};
    const Image& image = formation.image();
    std::string out;
    for (std::size_t r = 0; r < 3; ++r) {
        for (std::size_t c = 0; c < 3; ++c) {
            const int across = static_cast<int>(turned ? 2 - c : c), down = static_cast<int>(turned ? 2 - r : r);
            const int s0 = image.samples() * across / 3, s1 = std::max(s0, image.samples() * (across + 1) / 3 - 1);
            const int l0 = image.lines() * down / 3, l1 = std::max(l0, image.lines() * (down + 1) / 3 - 1);
            const AreaStatistics all = areaStatistics(formation, rectangleOf(centreOf(s0, l0), centreOf(s1, l1)), Scale::counts);
            out += fmt::format("  {} {}: ", rows[r], columns[c]);
            if (all.pixels == 0) {
                out += "sky\n";
                continue;
            }
            const BandStatistics& band = all.bands.front();
            out += fmt::format("{}, mean {:.0f}, spread {:.0f}, from {:.0f} to {:.0f}\n", greyWord(band.mean / image.most_count), band.mean, band.standard_deviation, band.least, band.most);
        }
    }
    return out;
}

}  // namespace

std::vector<SeenThing> seenThings(Truths& truths, const std::string& scene, int instrument) {
    std::vector<SeenThing> all;
    const auto add = [&](const LessonPoint& point, const std::string& name, const std::string& part) {
        if (all.size() >= most_things) return;
        const auto at = truths.seen(point, scene, instrument);
        if (at) all.push_back({name, part, static_cast<int>(at->sample), static_cast<int>(at->line)});
    };
    const Ground& ground = *truths.scene(scene).place->ground;
    std::vector<Object> objects(ground.movers().begin(), ground.movers().end());
    objects.insert(objects.end(), ground.objects().begin(), ground.objects().end());
    for (const Object& object : objects) {
        if (object.name.empty()) continue;
        LessonPoint point;
        point.object = object.name;
        point.part = LessonPoint::Part::foot;
        add(point, object.name, "foot");
        point.part = LessonPoint::Part::top;
        add(point, object.name, "top");
        point.part = LessonPoint::Part::shadow_foot;
        add(point, object.name, "shadow begins");
        point.part = LessonPoint::Part::shadow_tip;
        add(point, object.name, "shadow tip");
    }
    for (const LessonPoint& point : truths.lesson().points) {
        if (!point.object.empty()) continue;
        std::string words = point.words;
        if (words.empty()) {
            for (const char c : point.name) words += c == '_' ? ' ' : c;
        }
        add(point, words, "");
    }
    return all;
}

bool shownPlain(const Lesson& lesson, const Step& step, const std::string& scene, int instrument) {
    const LessonScene* here = lesson.findScene(scene);
    return std::any_of(step.figures.begin(), step.figures.end(), [&](const LessonFigure& figure) {
        return figure.instrument == instrument && lesson.findScene(figure.scene.empty() ? step.scene : figure.scene) == here &&
               std::any_of(figure.set.begin(), figure.set.end(), [](const auto& set) { return set.first == "figure.plain" && set.second == "true"; });
    });
}

std::optional<bool> shownTurned(const LessonFigure& figure) {
    for (const auto& [key, value] : figure.set) {
        if (key == "show.turned") return value == "true";
    }
    return std::nullopt;
}

std::string pictureInBrief(Truths& truths, const std::string& scene, int instrument, bool plain, std::optional<bool> turned) {
    Formation& formation = truths.formation(scene, instrument);
    const InstrumentSetup& setup = truths.scene(scene).instruments.at(static_cast<std::size_t>(instrument));
    const Sunlight sun = formation.sun(0);
    const NadirSpacing spacing = nadirSpacing(formation);
    const double half_turn = isTurned(truths, scene, turned) ? constants::pi : 0.0;
    const auto direction = [&](double azimuth_rad) { return directionInPicture(formation, azimuth_rad + half_turn); };
    std::string out = fmt::format("Picture of {} ({}): {} samples across, {} lines down", static_cast<char>('A' + instrument), setup.title, formation.samples(), formation.lines());
    if (!plain) out += fmt::format("; a pixel is {} across and {} along at nadir", pixelText(spacing.across_m), pixelText(spacing.along_m));
    out += half_turn > 0.0 ? ".\nIt is shown turned by half a turn.\n" : ".\n";
    if (!plain) out += "North is at " + direction(0.0) + ". ";
    if (!plain && sun.up()) {
        out += fmt::format("The sun stands {} high; its light comes from {}, so shadows point to {}.\n", shortText(sun.elevation_rad, Kind::angle), direction(sun.azimuth_rad), direction(sun.azimuth_rad + constants::pi));
    } else if (!plain) {
        out += "The sun is down.\n";
    }
    return out;
}

std::string pictureInWords(Truths& truths, const std::string& scene, int instrument, bool plain, std::optional<bool> turned) {
    std::string out = pictureInBrief(truths, scene, instrument, plain, turned);
    const bool half_turn = isTurned(truths, scene, turned);
    out += half_turn ? "Places are written sample,line: 0,0 is the corner at the bottom right, samples count from right to left and lines from the bottom up.\n"
                     : "Places are written sample,line: 0,0 is the corner at the top left.\n";
    out += "Its greys, in thirds, as counts of " + truths.formation(scene, instrument).image().bands.front().name + ":\n" + greys(truths.formation(scene, instrument), half_turn);
    const std::vector<SeenThing> things = seenThings(truths, scene, instrument);
    if (!things.empty()) out += "What can be made out, to the pixel:\n";
    for (const SeenThing& thing : things)
        out += fmt::format("  {}{}: {},{}\n", thing.name, thing.part.empty() ? "" : ", " + thing.part, thing.sample, thing.line);
    return out;
}

}  // namespace linefall
