#pragma once
// The commands of the program. Each takes what the command line read and returns the exit code:
// 0 done, 2 bad input, 130 interrupted.

#include <string>
#include <vector>

#include "base/threads.h"
#include "scene/scene.h"

namespace linefall {

/// Options that several commands share.
struct CommonOptions {
    SceneRequest scene;
    bool json = false;
};

struct FormOptions : CommonOptions {
    std::string out;
    std::string show;     ///< "true colour", "false colour" or a band's name; empty: as the scene says
    std::string stretch;  ///< "percent", "none", or "LOW..HIGH" counts; empty: as the scene says
};

struct FigureOptions : CommonOptions {
    std::string out = "figures";
    std::vector<std::string> what, scales;
    std::string pixel, from, to, quantity, difference, bands, stretch, theme;  ///< as declared for figure.* and show.*; empty: from the state
};

struct WhyOptions : CommonOptions {
    int sample = 0, line = 0;
    std::string band;  ///< whose walk is printed: a name, "all", or empty: the one shown as green
};

struct SunOptions {
    std::string time, latitude, longitude, altitude = "0 m", pressure = "1013.25 hPa", temperature = "15 C";
    bool json = false;
};

struct WindowRequest {
    SceneRequest scene;
    std::string report, theme = "day";
    bool lecture = false, restore = false;
    std::string out, drop;
    int text_percent = 100, rebuild_gl_every = 0;
    bool reduced_motion = false;
    int width = 0, height = 0;
};

int runForm(const FormOptions& options);
int runFigure(const FigureOptions& options);
int runFacts(const CommonOptions& options);
int runWhy(const WhyOptions& options);
int runSun(const SunOptions& options);
int runKeys(bool json);
int runInspect(const std::vector<std::string>& files, bool json);
int runList(bool json);

/// Reads the command line, runs the command, and turns errors into messages and exit codes. `open_window` is called
/// when no command is named.
int runCommandLine(int argc, char** argv, int (*open_window)(const WindowRequest&));

/// Set by the first Ctrl-C or SIGTERM while images are formed; the second ends the program as it always does.
[[nodiscard]] const Cancel& interrupted();

}  // namespace linefall
