#include "app/figure_maker.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <mutex>

#include "app/desk.h"
#include "app/keeper.h"
#include "app/machine.h"
#include "app/tools.h"
#include "base/angle.h"
#include "figure/figure_files.h"
#include "figure/flight_figure.h"
#include "scene/memory.h"

namespace linefall {

namespace fs = std::filesystem;

struct FigureMaker::Job {
    std::string folder;
    std::chrono::steady_clock::time_point begun = std::chrono::steady_clock::now();
    std::mutex mutex;  // for `doing` and `share`
    std::string doing = "the pictures";
    double share = 0.0;
    WrittenFigures written;
};

FigureMaker::FigureMaker() = default;
FigureMaker::~FigureMaker() = default;

void FigureMaker::start(Scene scene, const std::string& folder, double held_bytes) {
    if (working()) return;
    forget();
    job_ = std::make_shared<Job>();
    job_->folder = folder;
    // One processor is left to the window.
    const int threads = std::max(1, processors() - 1);
    maker_.start([job = job_, scene = std::move(scene), threads, held_bytes](const Cancel& cancel) {
        const bool difference = !figureKeys().read(scene.settings).difference.empty() || scene.showSettings().as == ShownAs::difference;
        checkMachine(scene, difference, held_bytes);
        job->written = writeFigures(scene, job->folder, threads, &cancel, [&job](const std::string& doing, double share) {
            const std::scoped_lock lock(job->mutex);
            job->doing = doing;
            job->share = std::max(job->share, share);
        });
    });
}

void FigureMaker::forget() {
    said_.clear();
    problems_.clear();
    files_.clear();
}

void FigureMaker::turn() {
    if (!job_ || !maker_.ended()) return;
    try {
        maker_.finish();
        const WrittenFigures& written = job_->written;
        std::string names;
        for (const WrittenFigure& figure : written.figures) {
            names += (names.empty() ? "" : ", ") + figure.name;
            files_.insert(files_.end(), figure.files.begin(), figure.files.end());
        }
        std::error_code error;
        const std::string folder = fs::absolute(job_->folder, error).lexically_normal().string();
        said_ = written.figures.empty() ? "Cancelled: nothing was written."
                                        : std::to_string(written.figures.size()) + (written.figures.size() == 1 ? " figure in " : " figures in ") + folder + ": " + names +
                                              ". Each as PNG and SVG, with data (.csv) where there is some, caption and alt text (.txt), and the state that makes it again (.toml).";
        if (!written.missing_fonts.empty()) said_ += " Better type: install " + written.missing_fonts + ".";
    } catch (const InputError& error) {
        for (const Problem& problem : error.problems()) problems_.push_back(problem.text());
    } catch (const std::exception& error) {
        problems_.push_back(error.what());
    }
    job_.reset();
}

FigureProgressNow FigureMaker::now() const {
    if (!job_) return {};
    FigureProgressNow now;
    {
        const std::scoped_lock lock(job_->mutex);
        now.doing = job_->doing;
        now.share = job_->share;
    }
    const double passed_s = std::chrono::duration<double>(std::chrono::steady_clock::now() - job_->begun).count();
    if (passed_s > 1.0 && now.share > 0.05) now.left_s = passed_s * (1.0 - now.share) / now.share;
    return now;
}

Scene sceneForFigures(const Desk& desk) {
    Scene scene = sceneToKeep(desk);
    const auto put = [&](const char* key, Value value) { scene.settings.replace(*findSceneRow(key), std::move(value)); };
    const FigureWish& wish = desk.keep.wish;
    std::string kinds, scales;
    for (std::size_t i = 0; i < wish.kinds.size(); ++i) {
        if (wish.kinds[i]) kinds += (kinds.empty() ? "" : ", ") + kindName(static_cast<FigureKind>(i));
    }
    for (std::size_t i = 0; i < wish.scales.size(); ++i) {
        if (wish.scales[i]) scales += (scales.empty() ? "" : ", ") + std::to_string(i + 1);
    }
    put("figure.what", kinds);
    put("figure.scales", scales);
    put("figure.difference", desk.causes.difference ? std::string(rowOf(desk.causes.cause).word) : std::string());
    put("figure.theme", std::string(desk.night ? "night" : "day"));
    // The flight as it is looked at, in a view of the figure's shape.
    const Camera eye = cameraFor(desk, flight_view_width / flight_view_height);
    put("figure.azimuth", wrappedToTurn(eye.azimuth_rad));
    put("figure.elevation", eye.elevation_rad);
    put("figure.distance", eye.distance_m);
    put("figure.east", eye.target_m.x);
    put("figure.north", eye.target_m.y);
    put("figure.up", eye.target_m.z);
    return scene;
}

void actFigures(Desk& desk) {
    if (!desk.session.loaded() || desk.keep.maker.working()) return;
    desk.keep.said.clear();
    if (desk.open_tool < 0 || toolTable()[static_cast<std::size_t>(desk.open_tool)].act != Act::tool_keep) toggleTool(desk, Act::tool_keep);  // where it is told
    const FigureWish& wish = desk.keep.wish;
    const auto none = [](const auto& chosen) { return std::none_of(chosen.begin(), chosen.end(), [](bool one) { return one; }); };
    if (none(wish.kinds) || none(wish.scales)) {
        desk.keep.maker.forget();
        desk.keep.said = none(wish.kinds) ? "Choose what is shown: no figure is ticked." : "Choose a size: none is ticked.";
        return;
    }
    fs::path folder;
    std::error_code error;
    int number = 0;
    do folder = fs::path(desk.keep.folder.empty() ? "." : desk.keep.folder) / fmt::format("figures-{:03}", ++number);
    while (fs::exists(folder, error));
    desk.keep.maker.start(sceneForFigures(desk), folder.string(), imagesBytes(desk.session.scene(), desk.causes.difference));
}

}  // namespace linefall
