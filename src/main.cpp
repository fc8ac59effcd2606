// Linefall: the command line, and the window when no command is named.

#include <cstdio>

#ifdef LINEFALL_WITH_WINDOW
#include "app/window.h"
#endif
#include "command/command.h"

namespace {

int openWindow(const linefall::WindowRequest& request) {
#ifdef LINEFALL_WITH_WINDOW
    linefall::WindowOptions options;
    options.request = request.scene;
    options.report = request.report;
    options.theme = request.theme;
    options.lecture = request.lecture;
    options.restore = request.restore;
    options.text_scale = 0.01 * request.text_percent;
    options.reduced_motion = request.reduced_motion;
    options.rebuild_gl_every = request.rebuild_gl_every;
    options.out = request.out;
    options.drop = request.drop;
    if (request.width > 0) options.width = request.width;
    if (request.height > 0) options.height = request.height;
    return linefall::runWindow(options);
#else
    (void)request;
    std::fputs("This program was built without the window. 'linefall --help' lists the commands.\n", stderr);
    return 2;
#endif
}

}  // namespace

int main(int argc, char** argv) { return linefall::runCommandLine(argc, argv, &openWindow); }
