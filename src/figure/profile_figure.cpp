#include "figure/profile_figure.h"

#include <algorithm>
#include <cmath>

#include "figure/captions.h"
#include "figure/page.h"
#include "flight/light_stops.h"
#include "measure/profile.h"

namespace linefall {

namespace {

constexpr double page_width = 840.0, values_height = 260.0, heights_height = 160.0;

/// A height to a millimetre: what rounding leaves of level ground is no height.
std::string heightText(double height_m) {
    const double rounded_m = std::round(1e3 * height_m) / 1e3;
    return shortText(rounded_m == 0.0 ? 0.0 : rounded_m, Kind::length, 4);
}

/// A curve of values that may be missing: it breaks there.
template <class ValueOf>
void curve(Page& page, const Plot& plot, const Profile& profile, const Stroke& stroke, const ValueOf& valueOf) {
    std::vector<Vec2> run;
    const auto flush = [&] {
        if (run.size() > 1) page.drawing.lines(run, stroke);
        else if (run.size() == 1) page.drawing.marks.emplace_back(Disc{run[0], 1.5, std::nullopt, stroke.ink});
        run.clear();
    };
    for (const ProfileSample& sample : profile.samples) {
        const double value = valueOf(sample);
        if (std::isfinite(value)) run.push_back(plot.at(sample.along_pixels, value));
        else flush();
    }
    flush();
}

/// A profile is restless: thinner than other curves.
std::vector<Stroke> curveStrokes(const std::vector<Band>& bands, bool night) {
    std::vector<Stroke> strokes = bandStrokes(bands, night);
    for (Stroke& stroke : strokes) stroke.width = 1.3;
    return strokes;
}

/// Names at the right ends of the curves, moved apart where they would meet.
void endLabels(Page& page, const Plot& plot, const Profile& profile, const std::vector<Stroke>& strokes) {
    struct Label {
        double y;
        std::size_t band;
    };
    std::vector<Label> labels;
    for (std::size_t b = 0; b < profile.bands.size(); ++b) {
        for (auto it = profile.samples.rbegin(); it != profile.samples.rend(); ++it) {
            if (it->values.size() <= b || !std::isfinite(it->values[b])) continue;
            labels.push_back({plot.atY(it->values[b]), b});
            break;
        }
    }
    std::sort(labels.begin(), labels.end(), [](const Label& a, const Label& b) { return a.y < b.y; });
    const double lowest = plot.y + plot.height;
    for (std::size_t i = 1; i < labels.size(); ++i) labels[i].y = std::max(labels[i].y, labels[i - 1].y + 17.0);
    double floor = lowest;
    for (auto it = labels.rbegin(); it != labels.rend(); ++it) {
        it->y = std::min(it->y, floor);
        floor = it->y - 17.0;
    }
    for (const Label& label : labels) {
        const double x = plot.x + plot.width + 10.0;
        page.drawing.line({x, label.y}, {x + 26.0, label.y}, strokes[label.band]);
        page.text(x + 31.0, label.y + 4.0, profile.bands[label.band]);
    }
}

}  // namespace

Figure profileFigure(const Scene& scene, Formations& formations, const FigureRequest& request, const Type& type) {
    const ShownPixel from = request.from.value(), to = request.to.value();
    Formation& formation = *formations.at(static_cast<std::size_t>(from.instrument));
    const Profile profile = profileAlong(formation, centreOf(from.sample, from.line), centreOf(to.sample, to.line), request.quantity);
    const std::vector<Stroke> strokes = curveStrokes(formation.instrument().bands(), request.night);
    const std::string name = instrumentName(scene, from.instrument), place = scene.place->title.empty() ? scene.place->name : scene.place->title;
    const std::string quantity = scaleNames().at(static_cast<std::size_t>(request.quantity));
    const std::string ends = "from line " + std::to_string(from.line) + ", sample " + std::to_string(from.sample) + " to line " + std::to_string(to.line) + ", sample " + std::to_string(to.sample);
    const std::string caution = cautionOf(request.quantity);

    double least = 0.0, most = 0.0, lowest = 0.0, highest = 0.0, reach = 0.0;
    bool any = false, ground = false;
    for (const ProfileSample& sample : profile.samples) {
        for (const double value : sample.values) {
            if (!std::isfinite(value)) continue;
            least = any ? std::min(least, value) : value;
            most = any ? std::max(most, value) : value;
            any = true;
        }
        if (!sample.ground_m) continue;
        lowest = ground ? std::min(lowest, sample.ground_m->z) : sample.ground_m->z;
        highest = ground ? std::max(highest, sample.ground_m->z) : sample.ground_m->z;
        ground = true;
        if (std::isfinite(sample.distance_m)) reach = std::max(reach, sample.distance_m);
    }
    const double end = std::max(1e-6, profile.samples.back().along_pixels);
    std::vector<std::string> head{ends + "; " + flightWords(scene, formation)};
    if (!caution.empty()) head.push_back(caution);
    Page page(type, request.night, page_width, "A profile through the picture: " + name + ", " + place, head);
    const double left = page_margin + 76.0, width = page_width - left - page_margin - 104.0;
    const double room = std::max(1e-9, most - std::min(0.0, least));
    Plot values{left, page.y + 8.0, width, values_height, 0.0, end, std::min(0.0, least), std::min(0.0, least) + 1.05 * room};
    const std::string unit = printedUnit(unitOf(request.quantity));
    drawAxes(page, values, "", quantity == "counts" ? "counts (DN)" : quantity + (unit.empty() ? "" : ", " + unit));
    for (std::size_t b = 0; b < profile.bands.size(); ++b) {
        curve(page, values, profile, strokes[b], [b](const ProfileSample& s) { return s.values.size() > b ? s.values[b] : std::nan(""); });
    }
    endLabels(page, values, profile, strokes);
    page.y = values.y + values_height + 34.0;

    const double rise = std::max(1.0, highest - lowest);
    Plot heights{left, page.y, width, heights_height, 0.0, end, lowest - 0.06 * rise, highest + 0.06 * rise};
    drawAxes(page, heights, "pixels along the line", "height met, m above datum");
    if (ground) {
        curve(page, heights, profile, {page.colours.ink, 1.6}, [](const ProfileSample& s) { return s.ground_m ? s.ground_m->z : std::nan(""); });
        // Ground distance does not grow evenly along the line: its own tick row.
        const double row = heights.y + heights_height + 54.0, step = niceStep(reach, static_cast<int>(width / 80.0));
        page.drawing.line({left, row}, {left + width, row}, page.hair());
        double next = 0.0, free_from = -1e9;
        for (std::size_t i = 0; i < profile.samples.size() && reach > 0.0; ++i) {
            const ProfileSample& s = profile.samples[i];
            if (!std::isfinite(s.distance_m)) continue;
            while (next <= s.distance_m + 1e-9) {
                double along = s.along_pixels;
                if (i > 0 && std::isfinite(profile.samples[i - 1].distance_m)) {
                    const ProfileSample& before = profile.samples[i - 1];
                    const double gain = s.distance_m - before.distance_m;
                    if (gain > 1e-9 && next > before.distance_m) along = before.along_pixels + (next - before.distance_m) / gain * (s.along_pixels - before.along_pixels);
                }
                const double x = heights.atX(along);
                page.drawing.line({x, row}, {x, row + 5.0}, page.hair());
                const std::string words = axisNumber(next, step);
                const double half = 0.5 * type.width(words, small_size);
                if (x - half > free_from) {
                    page.text(x, row + 19.0, words, Anchor::middle);
                    free_from = x + half + 6.0;
                }
                next += step;
            }
        }
        page.quiet(left + 0.5 * width, row + 37.0, "distance on the map from the line's start, m", Anchor::middle);
        page.y = row + 44.0;
    } else {
        page.quiet(left + 0.5 * width, heights.y + 0.5 * heights_height, "the line meets no ground", Anchor::middle);
        page.y = heights.y + heights_height + 44.0;
    }
    page.foot();

    std::string ranges;
    for (std::size_t b = 0; b < profile.bands.size(); ++b) {
        double low = 0.0, high = 0.0;
        bool found = false;
        for (const ProfileSample& s : profile.samples) {
            if (s.values.size() <= b || !std::isfinite(s.values[b])) continue;
            low = found ? std::min(low, s.values[b]) : s.values[b];
            high = found ? std::max(high, s.values[b]) : s.values[b];
            found = true;
        }
        if (found) ranges += (ranges.empty() ? "" : "; ") + profile.bands[b] + " from " + figuresText(low, 3) + " to " + figuresText(high, 3);
    }
    page.drawing.description = "Above, " + quantity + " of each band along a line of " + std::to_string(profile.samples.size()) + " steps through the picture of " + name + ", " + ends + ": " + ranges + (unit.empty() ? "" : " " + unit) +
                               ". Below, the height of the ground that each pixel met" + (ground ? ", " + heightText(lowest) + " to " + heightText(highest) + " above datum, over a distance of " + shortText(reach, Kind::length, 3) + " on the map." : ".");
    const std::string caption = "Profile of " + quantity + " through the picture of " + name + " over " + place + ", " + ends + ", with the height of the ground that each pixel met. Taken from " +
                                flightWords(scene, formation) + "; " + sunWords(formation.weather(from.line).sun) + "." + (caution.empty() ? "" : " " + caution + (caution.back() == '.' ? "" : ".")) +
                                " The second tick row gives the distance on the map, which does not grow evenly with the pixels. " + closingWords(scene);
    return {"profile-" + fileStems(scene).at(static_cast<std::size_t>(from.instrument)), FigureKind::profile, std::move(page.drawing), caption, csvText(profile)};
}

}  // namespace linefall
