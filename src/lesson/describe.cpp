#include "lesson/describe.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/angle.h"
#include "measure/area_statistics.h"
#include "measure/lengths.h"

namespace linefall {

namespace {

constexpr std::size_t most_things = 60;

/// "up", "up and right" ...: where a level direction lies in the picture, told in eighths of a turn.
std::string directionInPicture(Formation& formation, double azimuth_rad) {
    const PicturePlace middle{0.5 * formation.samples(), 0.5 * formation.lines()};
    const auto here = groundAt(formation, middle);
    const auto right = groundAt(formation, {middle.sample + 2.0, middle.line});
    const auto down = groundAt(formation, {middle.sample, middle.line + 2.0});
    if (!here || !right || !down) return "not known: the middle of the picture looks into the sky";
    const double east = std::sin(azimuth_rad), north = std::cos(azimuth_rad);
    const auto along = [&](const Vec3& to) { return ((to.x - here->x) * east + (to.y - here->y) * north) / std::hypot(to.x - here->x, to.y - here->y); };
    static const std::array<const char*, 8> words{"right", "down and right", "down", "down and left", "left", "up and left", "up", "up and right"};
    const double turn = std::atan2(along(*down), along(*right));
    return words[static_cast<std::size_t>((std::lround(turn / (constants::pi / 4.0)) + 8) % 8)];
}

std::string greyWord(double share) {
    if (share < 0.08) return "very dark";
    if (share < 0.2) return "dark";
    if (share < 0.45) return "middle grey";
    if (share < 0.75) return "light";
    return "very light";
}

std::string greys(Formation& formation) {
    static const std::array<const char*, 3> rows{"top", "middle", "bottom"}, columns{"left", "centre", "right"};
    const Image& image = formation.image();
    std::string out;
    for (std::size_t r = 0; r < 3; ++r) {
        for (std::size_t c = 0; c < 3; ++c) {
            const int s0 = image.samples() * static_cast<int>(c) / 3, s1 = std::max(s0, image.samples() * static_cast<int>(c + 1) / 3 - 1);
            const int l0 = image.lines() * static_cast<int>(r) / 3, l1 = std::max(l0, image.lines() * static_cast<int>(r + 1) / 3 - 1);
            const AreaStatistics all = areaStatistics(formation, rectangleOf(centreOf(s0, l0), centreOf(s1, l1)), Scale::counts);
            out += fmt::format("  {} {}: ", rows[r], columns[c]);
            if (all.pixels == 0) {
                out += "sky\n";
                continue;
            }
            const BandStatistics& band = all.bands.front();
            out += fmt::format("{}, mean {:.0f}, spread {:.0f}, from {:.0f} to {:.0f} counts ({})\n", greyWord(band.mean / image.most_count), band.mean,
                               band.standard_deviation, band.least, band.most, image.bands.front().name);
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
        if (point.object.empty()) add(point, point.name, "");
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

std::string pictureInWords(Truths& truths, const std::string& scene, int instrument, bool plain) {
    Formation& formation = truths.formation(scene, instrument);
    const InstrumentSetup& setup = truths.scene(scene).instruments.at(static_cast<std::size_t>(instrument));
    const Sunlight sun = formation.sun(0);
    const NadirSpacing spacing = nadirSpacing(formation);
    std::string out = fmt::format("The picture of the {} ({}): {} samples across, {} lines down", setup.title, static_cast<char>('A' + instrument), formation.samples(), formation.lines());
    if (!plain) out += fmt::format("; a pixel is {} across and {} along at nadir", shortText(spacing.across_m, Kind::length), shortText(spacing.along_m, Kind::length));
    out += ".\nPlaces are written sample,line: 0,0 is the corner at the top left.\n";
    if (!plain) out += "North is " + directionInPicture(formation, 0.0) + ". ";
    if (!plain && sun.up()) {
        out += fmt::format("The sun stands {} high; its light comes from {}, so shadows point {}.\n", shortText(sun.elevation_rad, Kind::angle), directionInPicture(formation, sun.azimuth_rad),
                           directionInPicture(formation, sun.azimuth_rad + constants::pi));
    } else if (!plain) {
        out += "The sun is down.\n";
    }
    out += "Its greys, in thirds:\n" + greys(formation);
    const std::vector<SeenThing> things = seenThings(truths, scene, instrument);
    if (!things.empty()) out += "What can be made out, to the pixel:\n";
    for (const SeenThing& thing : things)
        out += fmt::format("  {}{}: {},{}\n", thing.name, thing.part.empty() ? "" : ", " + thing.part, thing.sample, thing.line);
    return out;
}

}  // namespace linefall
