#include "paper/pictures.h"

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

std::string pngUri(const Drawing& drawing, int scale, const Type& type) {
    const Pixels pixels = painted(drawing, scale, type);
    return "data:image/png;base64," + base64(pngBytes(pixels.columns, pixels.rows, pixels.channels, pixels.values));
}

std::string svgUri(const Drawing& drawing) { return "data:image/svg+xml;base64," + base64(svgText(drawing)); }

std::string Illustrator::element(const std::string& uri, const std::string& alt, const std::string& caption, bool ruled) {
    return std::string(ruled ? "<figure class=\"ruled\">" : "<figure>") + "\n<img src=\"" + uri + "\" alt=\"" + escapedHtml(alt) + "\"/>\n<figcaption><b>Figure " + std::to_string(++count_) + ".</b> " + escapedHtml(caption) + "</figcaption>\n</figure>\n";
}

std::string Illustrator::figure(const LessonFigure& figure, const Step& step) {
    const Lesson& lesson = truths_.lesson();
    const LessonScene* plan = lesson.findScene(figure.scene.empty() ? step.scene : figure.scene);
    if (plan == nullptr) throw InputError(Problem{figure.place, "scene", "'" + figure.scene + "'", "the name of a scene of this lesson", ""});
    const std::string caption = truths_.text(figure.caption, plan->name);
    const NeededPicture picture{plan->name, figure.instrument};
    if (figure.kind == "picture" && figure.set.empty()) {
        const std::vector<NeededPicture> needed = picturesOf(lesson, step);
        if (std::find(needed.begin(), needed.end(), picture) != needed.end()) return ruled(picture, besideOf(lesson, step), caption);
    }
    std::vector<std::pair<std::string, std::string>> set = figure.set;
    for (auto& [key, value] : set) value = withGivens(value, givensOf(lesson, truths_.variant()));
    set.emplace_back("figure.what", figure.kind);
    const std::unique_ptr<Truths> flown = truths_.planned(plan->name, set);
    Scene scene = flown->scene(plan->name);
    const bool alone = (figure.kind == "picture" || figure.kind == "histogram") && figure.instrument == 0;
    if (alone) scene.instruments.resize(1);  // its bands need not be those of the instruments beside it
    Formations formations;
    for (std::size_t i = 0; i < scene.instruments.size(); ++i) formations.push_back(std::make_unique<Formation>(scene, i));
    const std::vector<Figure> made = makeFigures(scene, formations, figureRequest(scene, formations), type_, threads_);
    const Figure& one = made.at(std::min(made.size() - 1, static_cast<std::size_t>(figure.instrument)));
    const bool raster = one.kind == FigureKind::picture || one.kind == FigureKind::flight;
    return element(raster ? pngUri(one.drawing, 2, type_) : svgUri(one.drawing), one.drawing.description, caption.empty() ? one.caption : caption);
}

std::string Illustrator::ruled(const NeededPicture& picture, const RuledWith& with, const std::string& caption) {
    for (const Stands& stands : ruled_) {
        if (stands.picture == picture) return "<p class=\"small\">Measure in figure " + std::to_string(stands.number) + ".</p>\n";
    }
    const Scene& scene = truths_.scene(picture.scene);
    const Formation& formation = truths_.formation(picture.scene, picture.instrument);
    const Figure made = ruledPicture(scene, formation, picture.instrument, type_, with);
    const bool plain = !with.north || !with.sun || !with.scale;  // something has to be found out
    const std::string alt = made.drawing.description + " " + pictureInWords(truths_, picture.scene, picture.instrument, plain);
    ruled_.push_back({picture, count_ + 1});
    return element(pngUri(made.drawing, ruled_paint_scale, type_), alt, (caption.empty() ? "" : caption + " ") + made.caption, true);
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
