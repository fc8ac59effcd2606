#include "figure/figures.h"

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "figure/flight_figure.h"
#include "figure/histogram_figure.h"
#include "figure/paint.h"
#include "figure/path_figure.h"
#include "figure/picture_figure.h"
#include "figure/plain_figure.h"
#include "figure/profile_figure.h"
#include "figure/svg.h"
#include "flight/picture_look.h"
#include "scene/png_file.h"

namespace linefall {

namespace {

/// A page of 800 pixels is meant to be 16 cm wide.
constexpr int pixels_a_metre = 5000;

/// What things cost, in seconds of one processor as measured once: only their ratios matter, for the share that is done.
double formingCost(const Formation& formation, int lines) { return 0.05 + 0.5e-6 * formation.samples() * lines; }
double flightCost(const FigureRequest& request) {
    double cost = 0.1;
    for (const int scale : request.scales) cost += 0.7 * scale * scale;
    return cost;
}

/// The share of all the work that is done, told as it grows.
class Work {
public:
    Work(const FigureRequest& request, const Formations& formations, const FigureProgress& progress) : progress_(progress) {
        for (const FigureKind kind : request.kinds) {
            if (kind == FigureKind::flight) all_ += flightCost(request);
            else if (kind == FigureKind::path || kind == FigureKind::profile) all_ += 0.1;
            else for (const auto& formation : formations) all_ += request.only && formation != formations.at(*request.only) ? 0.0 : formingCost(*formation, formation->lines());
        }
    }
    void begin(const std::string& doing, double cost) {
        doing_ = doing;
        cost_ = cost;
        tell(0.0);
    }
    void end() { done_ += cost_; }
    [[nodiscard]] std::function<void(double)> shares() const {
        if (!progress_) return {};
        return [this](double share) { tell(share); };
    }
    /// For so many lines.
    [[nodiscard]] std::function<void(int)> lines(int count) const {
        if (!progress_) return {};
        return [this, count](int done) { tell(static_cast<double>(done) / std::max(1, count)); };
    }

private:
    void tell(double share) const {
        if (progress_) progress_(doing_, std::min(1.0, (done_ + cost_ * std::clamp(share, 0.0, 1.0)) / std::max(1e-9, all_)));
    }
    const FigureProgress& progress_;
    std::string doing_;
    double all_ = 0.0, done_ = 0.0, cost_ = 0.0;
};

}  // namespace

std::vector<Figure> makeFigures(const Scene& scene, Formations& formations, const FigureRequest& request, const Type& type, int threads,
                                const Cancel* cancel, const FigureProgress& progress) {
    std::vector<Figure> figures;
    Work work(request, formations, progress);
    const auto cancelled = [&] { return cancel != nullptr && *cancel; };
    const auto formed = [&](Formation& formation, int first, int last) { return formation.form(first, last, threads, cancel, work.lines(last - first)); };
    const auto letter = [](int index) { return std::string(1, static_cast<char>('A' + index)); };
    for (const FigureKind kind : request.kinds) {
        if (cancelled()) return {};
        switch (kind) {
            case FigureKind::picture:
            case FigureKind::histogram:
                for (int i = 0; i < static_cast<int>(formations.size()); ++i) {
                    if (request.only && static_cast<int>(*request.only) != i) continue;
                    Formation& formation = *formations[static_cast<std::size_t>(i)];
                    work.begin((kind == FigureKind::picture ? "picture of " : "histogram of ") + letter(i), formingCost(formation, fallenLines(scene, formation)));
                    if (!formed(formation, 0, fallenLines(scene, formation))) return {};
                    for (const int line : stretchLines(formation.lines())) {
                        if (!formation.form(line, line + 1, threads, cancel)) return {};
                    }
                    if (kind == FigureKind::histogram) {
                        figures.push_back(histogramFigure(scene, formations, i, request, type));
                    } else if (request.plain) {
                        if (!formed(formation, 0, formation.lines())) return {};
                        figures.push_back(plainFigure(scene, formations, i, type, request.night));
                    } else if (!request.difference) {
                        figures.push_back(pictureFigure(scene, formations, i, request, type));
                    } else {  // the same instrument once more, with the cause turned
                        const int lines = fallenLines(scene, formation);
                        Formation other(switched(scene, *request.difference, !isOn(scene, *request.difference)), static_cast<std::size_t>(i));
                        if (!other.form(0, lines, threads, cancel)) return {};
                        const BandChoice shown = lookOf(formation.image(), scene.showSettings().bands, Stretch{}).bands;
                        const DifferencePart part = differencePart(scene, *request.difference, formation.image(), other.image(), shown, lines);
                        figures.push_back(pictureFigure(scene, formations, i, request, type, &part));
                    }
                    work.end();
                }
                break;
            case FigureKind::flight:
                work.begin("the flight", flightCost(request));
                figures.push_back(flightFigure(scene, formations, request, type, threads, cancel, work.shares()));
                work.end();
                break;
            case FigureKind::path:
                work.begin("light path", 0.1);
                figures.push_back(pathFigure(scene, formations, request, type));
                work.end();
                break;
            case FigureKind::profile: {
                const ShownPixel from = request.from.value(), to = request.to.value();
                const int first = std::min(from.line, to.line), last = std::max(from.line, to.line) + 1;
                Formation& formation = *formations.at(static_cast<std::size_t>(from.instrument));
                work.begin("profile", formingCost(formation, last - first));
                if (!formed(formation, first, last)) return {};
                figures.push_back(profileFigure(scene, formations, request, type));
                work.end();
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
