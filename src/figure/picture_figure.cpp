#include "figure/picture_figure.h"

#include <algorithm>
#include <cmath>

#include "base/angle.h"
#include "figure/captions.h"
#include "figure/page.h"
#include "instruments/looks.h"

namespace linefall {

std::vector<GroundTick> groundTicks(const Formation& formation, int line, double step_m) {
    const Motion& motion = formation.motion();
    const Vec3 along = glm::normalize(motion.velocity_m_s());
    const Vec3 starboard{along.y, -along.x, 0.0};
    std::vector<std::optional<double>> distance(static_cast<std::size_t>(formation.samples()));
    for (std::size_t s = 0; s < distance.size(); ++s) {
        const Ray ray = lookRay(formation.instrument(), motion, Offset{}, formation.manner(), line, static_cast<int>(s));
        if (ray.direction.z > -1e-6) continue;
        const Vec3 across = ray.at(-ray.origin_m.z / ray.direction.z) - motion.positionAt(0.0);  // only what lies across counts
        distance[s] = glm::dot(Vec3(across.x, across.y, 0.0), starboard);
    }
    std::vector<GroundTick> ticks;
    for (std::size_t s = 0; s + 1 < distance.size(); ++s) {
        if (!distance[s] || !distance[s + 1] || *distance[s] <= *distance[s + 1]) continue;
        const double high = *distance[s], low = *distance[s + 1];
        for (double k = std::floor(high / step_m); k * step_m > low || (s + 2 == distance.size() && k * step_m >= low); k -= 1.0) {
            ticks.push_back({static_cast<double>(s) + 0.5 + (high - k * step_m) / (high - low), k * step_m});
        }
    }
    return ticks;
}

PictureCell pictureCell(int samples, int lines) {
    constexpr int most_wide = 900, most_tall = 1400, enough_wide = 640, enough_tall = 900;
    PictureCell cell;
    cell.enlarged = std::max(1, std::min(enough_wide / std::max(1, samples), enough_tall / std::max(1, lines)));
    if (cell.enlarged == 1) cell.reduced = std::max({1, (samples + most_wide - 1) / most_wide, (lines + most_tall - 1) / most_tall});
    return cell;
}

Pixels displayPixels(const Image& image, const PictureLook& look, int lines, bool turned) {
    const int channels = look.bands.grey() ? 1 : 3;
    Pixels pixels{image.samples(), lines, channels, {}};
    for (int i = 0; i < lines; ++i) {
        const std::vector<std::uint8_t> row = displayRow(image, look.bands, look.limits, look.screen_curve, turned ? lines - 1 - i : i);
        if (!turned) pixels.values.insert(pixels.values.end(), row.begin(), row.end());
        for (auto s = static_cast<std::ptrdiff_t>(row.size()); turned && s > 0; s -= channels) {
            pixels.values.insert(pixels.values.end(), row.begin() + s - channels, row.begin() + s);
        }
    }
    return pixels;
}

Vec2 onPicture(double azimuth_rad, double track_rad, bool turned) {
    const double d = azimuth_rad - track_rad;
    return turned ? Vec2{std::sin(d), -std::cos(d)} : Vec2{-std::sin(d), std::cos(d)};
}

namespace {

/// Where the image lies on the page; turned, its first line is at the foot and starboard on the right.
struct Placed {
    double x, y, width, height, cell;
    bool turned = false;
    [[nodiscard]] Vec2 at(double sample, double line) const {
        return turned ? Vec2{x + width - cell * sample, y + height - cell * line} : Vec2{x + cell * sample, y + cell * line};
    }
};

void directions(Page& page, const Formation& formation, const Sunlight& sun, bool turned, double x, double y) {
    const double track = formation.motion().track_rad();
    const PagePalette& c = page.colours;
    constexpr double reach = 24.0, step = 108.0;
    const auto dial = [&](int i) { return Vec2{x, y + reach + 18.0 + step * i}; };
    const auto words = [&](int i, const std::string& first, const std::string& second) {
        page.text(x, dial(i).y + reach + 20.0, first, Anchor::middle, small_size, Weight::strong);
        page.quiet(x, dial(i).y + reach + 35.0, second, Anchor::middle);
    };
    const Vec2 north = onPicture(0.0, track, turned);
    page.arrow(dial(0) - reach * north, dial(0) + reach * north, c.ink);
    page.text(x, dial(0).y + reach + 20.0, "north", Anchor::middle, small_size, Weight::strong);
    const Vec2 flight = onPicture(track, track, turned);
    page.arrow(dial(1) - reach * flight, dial(1) + reach * flight, c.ink);
    words(1, "flight", degreesText(wrappedToTurn(track)) + ", " + compassWord(track));
    if (!sun.up()) {
        words(2, "sun", "below the horizon");
        return;
    }
    const Vec2 from = onPicture(sun.azimuth_rad, track, turned);
    page.arrow(dial(2) + (reach - 7.0) * from, dial(2) - reach * from, c.ink);
    page.drawing.marks.emplace_back(Disc{dial(2) + reach * from, 7.0, Stroke{c.ink, 1.5}, c.sun});
    words(2, "sunlight", "from " + degreesText(wrappedToTurn(sun.azimuth_rad)) + ", " + degreesText(sun.elevation_rad) + " up");
}

/// Rows are times.
void rowTimes(Page& page, const Formation& formation, const Placed& p, int shown, double newest_s) {
    const Instrument& instrument = formation.instrument();
    const int last = formation.lines() - 1;
    const Stroke axis = page.hair();
    const double x = p.x - 6.0;
    if (instrument.derived().line_period_s <= 0.0) {
        page.drawing.words({{p.x - 14.0, p.y + 0.5 * p.height}, "all lines at once, " + shortText(instrument.lineTime_s(0), Kind::time, 3) + " after the flight began",
                            small_size, page.colours.quiet, Weight::regular, Anchor::middle, true});
        return;
    }
    const double first_s = instrument.lineTime_s(0), last_s = instrument.lineTime_s(last);
    const double step = niceStep(std::max(1e-6, last_s - first_s), std::max(2, static_cast<int>(p.height / 80.0)));
    page.drawing.line({x, p.y}, {x, p.y + p.height}, axis);
    int line = 0;
    double widest = 0.0;
    for (double t = std::ceil(first_s / step - 1e-9) * step; t <= last_s; t += step) {
        while (line < last && instrument.lineTime_s(line + 1) <= t) ++line;
        const double next = line < last ? instrument.lineTime_s(line + 1) : last_s + instrument.derived().line_period_s;
        const double here = instrument.lineTime_s(line);
        const double y = p.at(0.0, line + 0.5 + (next > here ? (t - here) / (next - here) : 0.0)).y;
        page.drawing.line({x, y}, {x - 5.0, y}, axis);
        const std::string words = axisNumber(t, step) + " s";
        widest = std::max(widest, page.type.width(words, small_size));
        page.text(x - 8.0, y + 4.0, words, Anchor::end);
    }
    page.drawing.words({{x - widest - 18.0, p.y + 0.5 * p.height}, "rows are times, after the flight began", small_size, page.colours.quiet, Weight::regular, Anchor::middle, true});
    if (shown > last || shown < 1) return;
    const double y = p.at(0.0, shown).y;
    page.drawing.line({p.x, y}, {p.x + p.width, y}, {over_light, 1.5, {}, over_dark});
    page.drawing.area({{p.x + p.width + 1.0, y}, {p.x + p.width + 9.0, y - 6.0}, {p.x + p.width + 9.0, y + 6.0}}, page.colours.ink);
    // Its name stands in what is still blank, or on the picture where that is too narrow: beside it stand the directions.
    const double open = p.height - shown * p.cell;
    const bool under = (open >= 26.0) != p.turned;
    page.plate({p.x + p.width - 10.0, under ? y + 19.0 : y - 9.0}, "newest line, " + shortText(newest_s, Kind::time, 4), page.colours.ink, Anchor::end, Weight::strong);
}

/// The tick row along the foot of the picture, and the scale where it is known: at nadir.
double groundScale(Page& page, const Formation& formation, const Placed& p) {
    const int last = formation.lines() - 1;
    const std::optional<FieldPoint> nadir = formation.instrument().field(0.0, false);
    const std::optional<FieldPoint> edge = formation.instrument().field(1.0, false);
    double y = p.y + p.height + 6.0;
    if (nadir) {
        const double reach = edge ? edge->ground_distance_m : 0.5 * formation.samples() * nadir->cell.spacing_across_m;
        const double step = niceStep(2.0 * reach, std::max(2, static_cast<int>(p.width / 60.0)));
        const std::vector<GroundTick> ticks = groundTicks(formation, last, step);
        page.drawing.line({p.x, y}, {p.x + p.width, y}, page.hair());
        std::vector<std::pair<double, double>> taken;
        for (const GroundTick& tick : ticks) {
            const double x = p.at(tick.column, 0.0).x;
            page.drawing.line({x, y}, {x, y + 6.0}, {page.colours.ink, 1.2});
            const std::string words = axisNumber(std::abs(tick.distance_m), step);
            const double half = 0.5 * page.type.width(words, small_size);
            if (std::any_of(taken.begin(), taken.end(), [&](const auto& t) { return x - half < t.second + 6.0 && x + half > t.first - 6.0; })) continue;
            page.text(x, y + 20.0, words, Anchor::middle);
            taken.emplace_back(x - half, x + half);
        }
        y += 40.0;
        page.quiet(p.x, y, p.turned ? "port" : "starboard");
        page.quiet(p.x + p.width, y, p.turned ? "starboard" : "port", Anchor::end);
        page.quiet(p.x + 0.5 * p.width, y, page.type.fitted("ground distance from the track, m, on level ground at datum", small_size, Weight::regular, p.width - 160.0), Anchor::middle);
        y += 22.0;
        const double metre = p.cell / nadir->cell.spacing_across_m;
        const double bar = niceStep(0.2 * p.width / metre, 1);
        const double w = bar * metre;
        page.drawing.line({p.x, y}, {p.x + w, y}, {page.colours.ink, 2.0});
        for (const double end : {p.x, p.x + w}) page.drawing.line({end, y - 4.0}, {end, y + 4.0}, {page.colours.ink, 1.5});
        page.text(p.x + w + 10.0, y + 4.0, shortText(bar, Kind::length, 3) + " at nadir", Anchor::start, small_size, Weight::strong);
        const double along = formation.instrument().derived().line_period_s > 0.0
                                 ? formation.motion().speed_m_s() * formation.instrument().derived().line_period_s : nadir->cell.along_m;
        y += 20.0;
        page.quiet(p.x, y, "scale at nadir: one sample = " + shortText(nadir->cell.spacing_across_m, Kind::length, 3) + " across, one line = " +
                               shortText(along, Kind::length, 3) + " along");
    }
    return y;
}

void pixelMark(Page& page, const Placed& p, const ShownPixel& pixel, const std::string& words) {
    const Vec2 c = p.at(pixel.sample + 0.5, pixel.line + 0.5);
    for (const Vec2 way : {Vec2{1, 0}, Vec2{-1, 0}, Vec2{0, 1}, Vec2{0, -1}}) page.drawing.line(c + 5.0 * way, c + 14.0 * way, {over_light, 2.0, {}, over_dark});
    const double half = std::max(2.5, 0.5 * p.cell);
    page.drawing.frame(c.x - half, c.y - half, 2.0 * half, 2.0 * half, {over_sun, 1.5, {}, over_dark, 1.0});
    const bool right = c.x > p.x + 0.7 * p.width;
    page.plate({c.x + (right ? -20.0 : 20.0), c.y - 8.0}, words, page.colours.ink, right ? Anchor::end : Anchor::start);
}

}  // namespace

Figure pictureFigure(const Scene& scene, Formations& formations, int instrument, const FigureRequest& request, const Type& type, const DifferencePart* part) {
    Formation& formation = *formations.at(static_cast<std::size_t>(instrument));
    const Image& image = formation.image();
    const int lines = formation.lines(), shown = fallenLines(scene, formation);
    const ShowSettings show = scene.showSettings();
    const Stretch stretch = stretchOf(show);
    const PictureLook look = lookOf(image, show.bands, stretch);
    const BandChoice& choice = look.bands;
    const PictureCell cell = pictureCell(formation.samples(), lines);
    const Sunlight sun = formation.weather(0).sun;
    const double track = formation.motion().track_rad();

    constexpr double left = 84.0, right = 158.0;
    Placed p{left, 0.0, std::ceil(formation.samples() * cell.size()), std::ceil(lines * cell.size()), cell.size(), show.turned};
    const double width = std::max(720.0, left + p.width + right);
    const std::string name = instrumentName(scene, instrument), place = scene.place->title.empty() ? scene.place->name : scene.place->title;
    Page page(type, request.night, width, (part != nullptr ? differenceTitle(*part) + ": " : "") + name + (part != nullptr ? ", " : ": ") + place,
              {bandWords(image.bands, choice) + " · " + flightWords(scene, formation), part != nullptr ? "Difference: " + differenceText(part->limit) : "Stretch: " + stretch.text()});
    page.y = std::ceil(page.y);
    p.y = page.y;
    // The samples that are there; what has not fallen stays blank.
    page.drawing.box(p.x, p.y, p.width, p.height, page.colours.blank);
    if (shown > 0) {
        const Vec2 corner = p.turned ? p.at(formation.samples(), shown) : p.at(0.0, 0.0);
        page.drawing.marks.emplace_back(RasterPicture{corner.x, corner.y, formation.samples() * p.cell, shown * p.cell,
                                                      {std::make_shared<const Pixels>(part != nullptr ? differencePixels(*part, choice, shown, p.turned, request.night) : displayPixels(image, look, shown, p.turned))}});
    }
    const double open = p.height - shown * p.cell;
    if (open > 40.0) {
        const double middle = p.turned ? p.y + 0.5 * open : p.y + p.height - 0.5 * open;
        page.quiet(p.x + 0.5 * p.width, middle + 4.0, shown > 0 ? "not flown yet" : "no line has fallen yet", Anchor::middle, text_size);
    }
    rowTimes(page, formation, p, shown, formation.instrument().lineDone_s(std::max(0, shown - 1)));
    const double column = p.x + p.width + 0.5 * right;
    directions(page, formation, sun, p.turned, std::min(column, width - 0.5 * right), p.y);
    if (request.from && request.to && request.from->instrument == instrument) {
        page.drawing.line(p.at(request.from->sample + 0.5, request.from->line + 0.5), p.at(request.to->sample + 0.5, request.to->line + 0.5),
                          {over_light, 1.6, {6.0, 4.0}, over_dark, 1.2});
        // Its name, at the end that lies further to the right.
        const Vec2 from = p.at(request.from->sample + 0.5, request.from->line + 0.5), to = p.at(request.to->sample + 0.5, request.to->line + 0.5);
        const Vec2 right_end = from.x > to.x ? from : to;
        page.plate({std::clamp(right_end.x - 8.0, p.x + 60.0, p.x + p.width - 8.0), std::clamp(right_end.y - 10.0, p.y + 18.0, p.y + p.height - 8.0)}, "profile", page.colours.ink, Anchor::end);
    }
    if (request.pixel && request.pixel->instrument == instrument && request.pixel->line < shown) {
        pixelMark(page, p, *request.pixel, "line " + std::to_string(request.pixel->line) + ", sample " + std::to_string(request.pixel->sample));
    }
    double below = groundScale(page, formation, p);
    if (part != nullptr) below = differenceKey(page, *part, p.x, below + 18.0, request.night);
    page.y = std::max(below, p.y + 360.0);
    const bool from_below = part == nullptr && sun.up() && onPicture(sun.azimuth_rad, track, p.turned).y > 0.2;
    if (from_below) {
        page.y += 18.0;
        page.quiet(p.x, page.y, "The light comes from below in this picture: relief may look inverted.");
    }
    page.foot();

    const std::string ground = groundWords(scene, formation, std::max(1, shown));
    page.drawing.description = std::string(part != nullptr ? "A picture of differences, " : choice.grey() ? "A grey picture of " : "A colour picture of ") + std::to_string(formation.samples()) + " samples by " +
                               std::to_string(shown) + " lines" + (shown < lines ? ", of " + std::to_string(lines) + " that the flight will give," : "") +
                               " as " + name + " formed it over " + place + ". Its first line in time is at the " + (p.turned ? "foot and starboard is on the right" : "top and starboard is on the left") + ". It shows " +
                               ground + ". Arrows beside it give north, the flight and the sun; ticks give the time of the rows and the distance on the ground." + (part != nullptr ? " " + differenceSentence(*part) : "");
    std::string caption = name + " over " + place + ", from " + flightWords(scene, formation) + "; " + sunWords(sun) + ". " + (part != nullptr ? differenceSentence(*part) + " Bands: " + bandWords(image.bands, choice) : "Shown: " + bandWords(image.bands, choice) + "; " + stretch.text()) + ".";
    if (const std::optional<FieldPoint> nadir = formation.instrument().field(0.0, false)) {
        caption += " At nadir a sample covers " + shortText(nadir->cell.across_m, Kind::length, 3) + " across and " + shortText(nadir->cell.along_m, Kind::length, 3) +
                   " along the track; the ticks show how ground distance grows towards the edges.";
    }
    if (shown < lines) caption += " The picture is still falling: " + std::to_string(shown) + " of " + std::to_string(lines) + " lines.";
    if (request.from && request.to && request.from->instrument == instrument) caption += " The dashed line is that of the profile.";
    if (cell.reduced > 1) caption += " Here a pixel at 1x is the mean of " + std::to_string(cell.reduced) + " by " + std::to_string(cell.reduced) + " samples.";
    if (from_below) caption += " The light comes from below in this picture: relief may look inverted.";
    return {(part != nullptr ? "difference-" + std::string(rowOf(part->cause).word) + "-" : "picture-") + fileStems(scene).at(static_cast<std::size_t>(instrument)), FigureKind::picture, std::move(page.drawing), caption + " " + closingWords(scene), ""};
}

}  // namespace linefall
