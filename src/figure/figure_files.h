#pragma once
// From a scene to the files of its figures: the one way that the command line and the window take.

#include "figure/figures.h"

namespace linefall {

struct WrittenFigure {
    std::string name;  ///< of its files, without ending
    FigureKind kind = FigureKind::picture;
    std::vector<std::string> files;
    std::string caption, alt;
};

struct WrittenFigures {
    std::vector<WrittenFigure> figures;  ///< empty: it was cancelled, and nothing was written
    std::string missing_fonts;           ///< packages to install; the system's own stand in for them
};

/// Makes the figures that the scene's own settings ask for (figure.*, show.*) and writes them into a folder, which is made
/// when it is missing: all of them or none. Throws InputError with all that is wrong.
[[nodiscard]] WrittenFigures writeFigures(const Scene& scene, const std::string& folder, int threads = 0, const Cancel* cancel = nullptr,
                                          const FigureProgress& progress = {});

}  // namespace linefall
