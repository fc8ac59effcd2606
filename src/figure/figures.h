#pragma once
// Figures of a scene: what is asked for, the drawings with their captions and data, and the files. The command line and the
// window both come here; nothing in this module forms an image or lights the ground, it asks the core.

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/threads.h"
#include "figure/drawing.h"
#include "figure/type.h"
#include "flight/cause_table.h"
#include "flight/formation.h"
#include "measure/calibration.h"
#include "scene/figure_settings.h"
#include "scene/show_settings.h"
#include "scene/whole_files.h"
#include "view/camera.h"

namespace linefall {

/// What is asked for. Every index lies in its image. Bands, stretch, how the picture is turned and how much of it has fallen
/// are the scene's own (show.*).
struct FigureRequest {
    std::vector<FigureKind> kinds;
    std::optional<ShownPixel> pixel;     ///< its light path; nothing: no pixel is marked
    std::optional<ShownPixel> from, to;  ///< both, in one picture: the profile's ends
    Scale quantity = Scale::counts;      ///< of the profile
    std::vector<int> scales{1, 2, 3};
    std::optional<Cause> difference;     ///< the picture shows what it does; nothing: the picture itself
    bool night = false;
    bool plain = false;                  ///< the picture alone: how it was made is not told
    std::optional<std::size_t> only;     ///< pictures and histograms of this instrument alone; nothing: of each
    std::optional<double> azimuth_rad, elevation_rad;  ///< of the flight figure's eye
    std::optional<Camera> eye;                         ///< the whole eye; nothing: one that sees all
};

using Formations = std::vector<std::unique_ptr<Formation>>;

/// The request that a scene's own settings (figure.*, show.*) make, for all instruments or for one alone, whose bands need not
/// be those of the others. Throws InputError with all that does not fit the scene.
[[nodiscard]] FigureRequest figureRequest(const Scene& scene, const Formations& formations, std::optional<std::size_t> only = {});
/// The scene with settings that make exactly this request, for one kind of figure: its state makes the same figure again.
[[nodiscard]] Scene withRequest(const Scene& scene, const FigureRequest& request, FigureKind kind);

/// Lines that have fallen where the scene's clock stands.
[[nodiscard]] int fallenLines(const Scene& scene, const Formation& formation);

struct Figure {
    std::string name;  ///< of its files, without ending
    FigureKind kind = FigureKind::picture;
    Drawing drawing;   ///< its description is the alt text
    std::string caption;
    std::string csv;   ///< the data; empty: none
};

/// What is being done, and the share of all the work that is done, 0..1. Called from any thread.
using FigureProgress = std::function<void(const std::string& doing, double share)>;

/// Makes the figures; lines that are needed are formed first. Empty when cancelled.
[[nodiscard]] std::vector<Figure> makeFigures(const Scene& scene, Formations& formations, const FigureRequest& request, const Type& type,
                                              int threads = 0, const Cancel* cancel = nullptr,
                                              const FigureProgress& progress = {});

/// Adds the files of one figure: NAME.png, NAME@2x.png, NAME@3x.png, NAME.svg, NAME.csv, NAME.txt (caption and alt text) and
/// NAME.toml (the state that makes it again). Returns their paths.
std::vector<std::string> addFigure(WholeFiles& files, const std::string& folder, const Scene& scene, const FigureRequest& request,
                                   const Figure& figure, const Type& type);

}  // namespace linefall
