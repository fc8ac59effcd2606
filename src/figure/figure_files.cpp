#include "figure/figure_files.h"

#include "scene/out_folder.h"

namespace linefall {

WrittenFigures writeFigures(const Scene& scene, const std::string& folder, int threads, const Cancel* cancel, const FigureProgress& progress) {
    const OutFolder made(folder);
    Formations formations;
    for (std::size_t i = 0; i < scene.instruments.size(); ++i) formations.push_back(std::make_unique<Formation>(scene, i));
    const FigureRequest request = figureRequest(scene, formations);
    const Type type;
    WrittenFigures written;
    written.missing_fonts = type.missing();

    // Painting and packing take the last part of the time.
    constexpr double making = 0.85;
    const auto cancelled = [&] { return cancel != nullptr && *cancel; };
    const FigureProgress part = [&](const std::string& doing, double share) { progress(doing, making * share); };
    const std::vector<Figure> figures = makeFigures(scene, formations, request, type, threads, cancel, progress ? part : FigureProgress{});
    WholeFiles files;
    for (std::size_t i = 0; i < figures.size(); ++i) {
        const Figure& figure = figures[i];
        if (progress) progress("writing " + figure.name, making + (1.0 - making) * static_cast<double>(i) / static_cast<double>(figures.size()));
        std::vector<std::string> paths = addFigure(files, folder, scene, request, figure, type);
        if (cancelled()) return {{}, written.missing_fonts};
        written.figures.push_back({figure.name, figure.kind, std::move(paths), figure.caption, figure.drawing.description});
    }
    files.commit();
    return written;
}

}  // namespace linefall
