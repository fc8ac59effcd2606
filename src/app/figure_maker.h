#pragma once
// Figures made beside the window: one job at a time, by the code that the command line uses (figure/figure_files.h).

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/ui.h"
#include "base/threads.h"
#include "scene/scene.h"

namespace linefall {

struct Desk;

/// What the user chose to make.
struct FigureWish {
    std::array<bool, 5> kinds{true, true, true, true, true};  ///< by FigureKind
    std::array<bool, 3> scales{true, true, false};            ///< 1x, 2x, 3x
};

/// How far the work is.
struct FigureProgressNow {
    std::string doing;
    double share = 0.0;               ///< 0..1
    std::optional<double> left_s;     ///< waiting time, once it can be told
};

class FigureMaker {
public:
    FigureMaker();
    ~FigureMaker();

    /// Begins; `scene` says what is made (figure.*), beside images that take `held_bytes`. Does nothing while it works.
    void start(Scene scene, const std::string& folder, double held_bytes = 0.0);
    [[nodiscard]] bool working() const { return job_ != nullptr; }
    void cancel() { maker_.cancel(); }
    /// Takes what was finished; call once a frame.
    void turn();
    [[nodiscard]] FigureProgressNow now() const;

    /// How the last job ended, in a sentence; empty: there was none.
    [[nodiscard]] const std::string& said() const { return said_; }
    [[nodiscard]] const std::vector<std::string>& problems() const { return problems_; }
    [[nodiscard]] const std::vector<std::string>& files() const { return files_; }  ///< written by the last job
    void forget();

private:
    struct Job;
    std::shared_ptr<Job> job_;
    std::string said_;
    std::vector<std::string> problems_, files_;
    Background maker_;  // last: its job ends before anything it uses
};

/// The present scene with settings that make the figures of the wish: clock, picked pixel, measured profile line, view, theme.
[[nodiscard]] Scene sceneForFigures(const Desk& desk);
/// Makes the chosen figures into a new folder "figures-NNN" in the Keep tool's folder, or says what is missing.
void actFigures(Desk& desk);
/// The choices, the button, and how far it is; returns the height used.
float drawFigureChoices(Desk& desk, const Rect& place);

}  // namespace linefall
