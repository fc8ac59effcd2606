#include "figure/figures.h"

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "figure/flight_figure.h"
#include "figure/histogram_figure.h"
#include "figure/paint.h"
#include "figure/path_figure.h"
#include "figure/picture_figure.h"
#include "figure/profile_figure.h"
#include "figure/svg.h"
#include "flight/picture_look.h"
#include "scene/png_file.h"

namespace linefall {

namespace {

/// A page of 800 pixels is meant to be 16 cm wide.
constexpr int pixels_a_metre = 5000;

}  // namespace

std::vector<Figure> makeFigures(const Scene& scene, Formations& formations, const FigureRequest& request, const Type& type, int threads,
                                const Cancel* cancel, const std::function<void(const std::string&)>& progress) {
    std::vector<Figure> figures;
    const auto say = [&](const std::string& what) {
        if (progress) progress(what);
    };
    const auto cancelled = [&] { return cancel != nullptr && *cancel; };
    const auto formed = [&](Formation& formation, int first, int last) { return formation.form(first, last, threads, cancel); };
    const auto letter = [](int index) { return std::string(1, static_cast<char>('A' + index)); };
    for (const FigureKind kind : request.kinds) {
        if (cancelled()) return {};
        switch (kind) {
            case FigureKind::picture:
            case FigureKind::histogram:
                for (int i = 0; i < static_cast<int>(formations.size()); ++i) {
                    Formation& formation = *formations[static_cast<std::size_t>(i)];
                    say("forming the picture of instrument " + letter(i));
                    if (!formed(formation, 0, fallenLines(scene, formation))) return {};
                    for (const int line : stretchLines(formation.lines())) {
                        if (!formed(formation, line, line + 1)) return {};
                    }
                    figures.push_back(kind == FigureKind::picture ? pictureFigure(scene, formations, i, request, type) : histogramFigure(scene, formations, i, request, type));
                }
                break;
            case FigureKind::flight:
                say("looking at the flight");
                figures.push_back(flightFigure(scene, formations, request, type, threads, cancel));
                break;
            case FigureKind::path:
                say("following the light");
                figures.push_back(pathFigure(scene, formations, request, type));
                break;
            case FigureKind::profile: {
                say("forming the lines of the profile");
                const ShownPixel from = request.from.value(), to = request.to.value();
                if (!formed(*formations.at(static_cast<std::size_t>(from.instrument)), std::min(from.line, to.line), std::max(from.line, to.line) + 1)) return {};
                figures.push_back(profileFigure(scene, formations, request, type));
                break;
            }
        }
    }
    return cancelled() ? std::vector<Figure>{} : std::move(figures);
}

std::vector<std::string> addFigure(WholeFiles& files, const std::string& folder, const Scene& scene, const FigureRequest& request,
                                   const Figure& figure, const Type& type) {
    std::vector<std::string> paths;
    const auto place = [&](const std::string& ending) {
        paths.push_back((std::filesystem::path(folder) / (figure.name + ending)).string());
        return paths.back();
    };
    const Drawing& drawing = figure.drawing;
    const std::vector<PngText> texts{{"Title", drawing.title}, {"Description", drawing.description}, {"Comment", figure.caption}, {"Software", "Linefall " LINEFALL_VERSION}};
    for (const int scale : request.scales) {
        const Pixels pixels = painted(drawing, scale, type);
        writePng8(files, place(scale == 1 ? ".png" : "@" + std::to_string(scale) + "x.png"), pixels.columns, pixels.rows, pixels.channels, pixels.values, texts,
                  pixels_a_metre * scale);
    }
    files.addText(place(".svg"), svgText(drawing));
    if (!figure.csv.empty()) files.addText(place(".csv"), figure.csv);
    files.addText(place(".txt"), "Caption\n" + figure.caption + "\n\nAlt text\n" + drawing.description + "\n");
    files.addText(place(".toml"), stateText(withRequest(scene, request, figure.kind), folder));
    return paths;
}

}  // namespace linefall
