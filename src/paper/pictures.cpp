#include "paper/pictures.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "figure/paint.h"
#include "figure/svg.h"
#include "lesson/describe.h"
#include "lesson/variant.h"
#include "paper/sheet.h"
#include "scene/givens.h"
#include "scene/png_file.h"

namespace linefall {

namespace fs = std::filesystem;

namespace {

constexpr double page_mm = 180.0, tall_mm = 190.0, seen_tall_mm = 105.0;
constexpr double readable_mm = 0.25, visible_mm = 0.16, good_pixel_mm = 0.45, seen_pixel_mm = 0.3;  ///< of a pixel on paper: below these a detail helps to measure, to see; enough to measure; to look at

}  // namespace

std::string pngUri(const Drawing& drawing, int scale, const Type& type) {
    const Pixels pixels = painted(drawing, scale, type);
    return "data:image/png;base64," + base64(pngBytes(pixels.columns, pixels.rows, pixels.channels, pixels.values));
}

std::string svgUri(const Drawing& drawing) { return "data:image/svg+xml;base64," + base64(svgText(drawing)); }

std::string Illustrator::element(const std::string& uri, const std::string& alt, const std::string& caption, const std::string& look, double tallest_mm) {
    return (look.empty() ? "<figure>" : "<figure class=\"" + look + "\">") + "\n<img src=\"" + uri + "\"" + (tallest_mm > 0.0 ? fmt::format(" style=\"max-height: {:.0f}mm\"", tallest_mm) : "") + " alt=\"" + escapedHtml(alt) + "\"/>\n<figcaption><b>Figure " + std::to_string(++count_) + ".</b> " + escapedHtml(caption) + "</figcaption>\n</figure>\n";
}

namespace {

/// A figure's scene with its own settings, flown, and what is to be drawn of it.
struct FigureFlight {
    std::string name;  ///< of the scene in the lesson
    std::unique_ptr<Truths> flown;
    Formations formations;
    FigureRequest request;

    FigureFlight(Truths& truths, const LessonFigure& figure, const Step& step) {
        const LessonScene* plan = truths.lesson().findScene(figure.scene.empty() ? step.scene : figure.scene);
        if (plan == nullptr) throw InputError(Problem{figure.place, "scene", "'" + figure.scene + "'", "the name of a scene of this lesson", ""});
        name = plan->name;
        std::vector<std::pair<std::string, std::string>> set = figure.set;
        for (auto& [key, value] : set) value = withGivens(value, givensOf(truths.lesson(), truths.variant()));
        set.emplace_back("figure.what", figure.kind);
        flown = truths.planned(name, set);
        for (std::size_t i = 0; i < scene().instruments.size(); ++i) formations.push_back(std::make_unique<Formation>(scene(), i));
        request = figureRequest(scene(), formations, static_cast<std::size_t>(figure.instrument));
    }
    [[nodiscard]] const Scene& scene() const { return flown->scene(name); }
};

}  // namespace

Figure madeFigure(Truths& truths, const LessonFigure& figure, const Step& step, const Type& type, int threads) {
    FigureFlight flight(truths, figure, step);
    flight.request.plain = flight.request.plain || !besideOf(truths.lesson(), step).scale;
    return makeFigures(flight.scene(), flight.formations, flight.request, type, threads).at(0);
}

std::string Illustrator::figure(const LessonFigure& figure, const Step& step) {
    const Lesson& lesson = truths_.lesson();
    FigureFlight flight(truths_, figure, step);
    const Scene& scene = flight.scene();
    Formations& formations = flight.formations;
    FigureRequest& request = flight.request;
    const std::string caption = truths_.text(figure.caption, flight.name);
    const NeededPicture picture{flight.name, figure.instrument};
    const RuledWith with = besideOf(lesson, step);
    const std::vector<NeededPicture> needed = picturesOf(lesson, step);
    const bool measured = std::find(needed.begin(), needed.end(), picture) != needed.end();
    if (showsPicture(figure)) {
        ruled_.insert(ruled_.begin(), {picture, count_ + 1});  // the latest is the nearest
        return drawn(picture, scene, with, caption);
    }
    const bool plain_picture = figure.kind == "picture" && request.plain && !request.difference;
    request.plain = request.plain || !with.scale;
    const Figure one = makeFigures(scene, formations, request, type_, threads_).at(0);
    if (plain_picture) {  // the words of the plain figure, which tell nothing, and rulers on all sides
        const Figure ruled = ruledPicture(scene, *formations.at(static_cast<std::size_t>(figure.instrument)), figure.instrument, type_, {false, false, false});
        return element(pngUri(ruled.drawing, ruled_paint_scale, type_), one.drawing.description, caption, measured && step.kind != StepKind::observe ? "ruled" : "plain");
    }
    const bool raster = one.kind == FigureKind::picture || one.kind == FigureKind::flight;
    return element(raster ? pngUri(one.drawing, 2, type_) : svgUri(one.drawing), one.drawing.description, caption.empty() ? one.caption : caption);
}

std::string Illustrator::drawn(const NeededPicture& picture, const Scene& shown, const RuledWith& with, const std::string& caption) {
    const Figure made = ruledPicture(shown, truths_.formation(picture.scene, picture.instrument), picture.instrument, type_, with);
    const bool plain = !with.north || !with.sun || !with.scale;  // something has to be found out
    const bool measured = isMeasuredIn(truths_.lesson(), picture);
    const double tall = std::min(measured ? tall_mm : seen_tall_mm, heightOnPaper_mm(truths_.formation(picture.scene, picture.instrument), measured ? good_pixel_mm : seen_pixel_mm));
    const std::string alt = made.drawing.description + " " + pictureInWords(truths_, picture.scene, picture.instrument, plain);
    return element(pngUri(made.drawing, ruled_paint_scale, type_), alt, (caption.empty() ? "" : caption + " ") + made.caption, "ruled", tall);
}

std::string Illustrator::ruled(const NeededPicture& picture, const RuledWith& with) {
    for (const Stands& stands : ruled_) {
        if (stands.picture == picture) return "<p class=\"small\">The picture for this step is figure " + std::to_string(stands.number) + ".</p>\n";
    }
    ruled_.push_back({picture, count_ + 1});
    return drawn(picture, truths_.scene(picture.scene), with, "");
}

namespace {

constexpr int room_pixels = 24, round_to = 10, together_pixels = 90;
constexpr std::size_t most_details = 4;

/// Windows round places: near ones share one; edges at whole tens, so that the middle of a window tells nothing.
std::vector<PictureWindow> windowsRound(const std::vector<PicturePlace>& places, const Formation& formation) {
    std::vector<PictureWindow> windows;
    const auto reach = [](const PictureWindow& w) { return std::pair{w.sample + w.samples, w.line + w.lines}; };
    for (const PicturePlace& place : places) {
        const int s = static_cast<int>(place.sample), l = static_cast<int>(place.line);
        const auto near = std::find_if(windows.begin(), windows.end(), [&](const PictureWindow& w) {
            return s > w.sample - together_pixels && s < reach(w).first + together_pixels && l > w.line - together_pixels && l < reach(w).second + together_pixels;
        });
        if (near == windows.end()) {
            windows.push_back({s, l, 1, 1});
            continue;
        }
        const auto [last_sample, last_line] = reach(*near);
        *near = {std::min(near->sample, s), std::min(near->line, l), 0, 0};
        near->samples = std::max(last_sample, s + 1) - near->sample;
        near->lines = std::max(last_line, l + 1) - near->line;
    }
    for (PictureWindow& w : windows) {
        const auto [last_sample, last_line] = reach(w);
        const auto down = [](int value) { return std::max(0, (value - room_pixels) / round_to * round_to); };
        const auto up = [](int value, int most) { return std::min(most, (value + room_pixels + round_to - 1) / round_to * round_to); };
        w.sample = down(w.sample);
        w.line = down(w.line);
        w.samples = up(last_sample, formation.samples()) - w.sample;
        w.lines = up(last_line, formation.lines()) - w.line;
    }
    return windows;
}

}  // namespace

std::string Illustrator::details(const NeededPicture& picture, const Step& step) {
    Formation& formation = truths_.formation(picture.scene, picture.instrument);
    const bool measured = std::any_of(step.parts.begin(), step.parts.end(), [](const Part& part) { return part.kind == Part::Kind::number; });
    if (pixelOnPaper_mm(formation, page_mm, tall_mm) >= (measured ? readable_mm : visible_mm)) return "";
    std::vector<PicturePlace> places;
    for (const NeededMeasure& needed : measuresOf(truths_.lesson(), step)) {
        if (needed.scene != picture.scene || needed.measure->instrument != picture.instrument || readsAreas(*needed.measure) || needed.measure->of == "trace") continue;
        for (const std::string& point : needed.measure->points) places.push_back(truths_.place(point, picture.scene, picture.instrument));
    }
    std::vector<PictureWindow> windows = windowsRound(places, formation);
    if (windows.empty() || windows.size() > most_details) return "";
    std::string out;
    bool stand_before = false;
    for (const PictureWindow& window : windows) {
        if (2 * window.samples > formation.samples() && 2 * window.lines > formation.lines()) continue;  // nearly the whole
        const std::pair<std::string, PictureWindow> one{whereabouts(picture), window};
        if (std::find(printed_details_.begin(), printed_details_.end(), one) != printed_details_.end()) {
            stand_before = true;
            continue;
        }
        printed_details_.push_back(one);
        const Figure made = ruledDetail(truths_.scene(picture.scene), formation, picture.instrument, type_, window);
        out += "<figure>\n<img src=\"" + pngUri(made.drawing, ruled_paint_scale, type_) + "\" alt=\"" + escapedHtml(made.drawing.description) + "\"/>\n<figcaption>In " + whereabouts(picture) + ": " + made.caption +
               ".</figcaption>\n</figure>\n";
    }
    const std::string before = stand_before ? "<p class=\"small\">Details of " + whereabouts(picture) + " stand below it.</p>\n" : "";
    return before + (out.empty() ? "" : "<div class=\"details\">\n" + out + "</div>\n");
}

std::string Illustrator::whereabouts(const NeededPicture& picture) const {
    for (const Stands& stands : ruled_) {
        if (stands.picture == picture) return "figure " + std::to_string(stands.number);
    }
    return "picture " + std::string(1, static_cast<char>('A' + picture.instrument));
}

std::string Illustrator::own(const std::string& target, const std::string& alt) const {
    constexpr std::uintmax_t most_bytes = 4u << 20;
    const auto refuse = [&](const std::string& read) { throw InputError(Problem{{truths_.lesson().file, 0, 0}, "", "'" + target.substr(0, 80) + "': " + read, "a PNG file of at most 4 MiB in the lesson's own folder", ""}); };
    std::error_code error;
    const fs::path folder = fs::canonical(truths_.lesson().folder, error), path = fs::canonical(fs::path(truths_.lesson().folder) / target, error);
    if (error) refuse("no such file");
    const fs::path relative = path.lexically_relative(folder);
    if (relative.empty() || *relative.begin() == "..") refuse("outside of it");
    if (!fs::is_regular_file(path, error) || fs::file_size(path, error) > most_bytes) refuse("no file of that size");
    std::ifstream in(path, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(in), {}};
    if (bytes.compare(0, 8, "\x89PNG\r\n\x1a\n") != 0) refuse("no PNG");
    return "<img src=\"data:image/png;base64," + base64(bytes) + "\" alt=\"" + escapedHtml(alt) + "\"/>";
}

}  // namespace linefall
