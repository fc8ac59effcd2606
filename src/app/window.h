#pragma once
// The window: the only entry of the app for everyone else.

#include <string>

#include "scene/scene.h"

namespace linefall {

struct WindowOptions {
    SceneRequest request;
    std::string report;           ///< file for JSON lines of own state (app/report.h); empty: none
    std::string theme = "day";    ///< "day" or "night"
    bool lecture = false;         ///< large words for a hall
    bool restore = false;         ///< fly what a killed session left
    std::string drop;             ///< dropped on the window once lines fall: for tests, where no pointer can drop a file
    std::string out;              ///< folder for saved states and figures; empty: the working directory
    double text_scale = 1.0;      ///< size of the words, 0.8 to 2
    bool reduced_motion = false;
    int rebuild_gl_every = 0;     ///< frames after which every OpenGL object is destroyed and made again (for tests); 0: never
    int width = 1280, height = 800;
};

/// Opens the window and runs until it is closed. Returns the program's exit code: 0, or 1 with a message on standard
/// error when there is no display, no OpenGL 3.3, or a shader is missing.
int runWindow(const WindowOptions& options);

}  // namespace linefall
