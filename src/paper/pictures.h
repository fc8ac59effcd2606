#pragma once
// The figures of a sheet as HTML elements: pictures as PNG, plots and light paths as SVG, each with its alt text.

#include <string>
#include <vector>

#include "figure/ruled_picture.h"
#include "lesson/truth.h"
#include "paper/needs.h"

namespace linefall {

class Illustrator {
public:
    Illustrator(Truths& truths, int threads) : truths_(truths), threads_(threads) {}

    /// A figure block of the lesson. A picture comes between rulers, with the bands and the stretch that it asks for.
    [[nodiscard]] std::string figure(const LessonFigure& figure, const Step& step);
    /// The picture between its rulers, once; later the place where it stands.
    [[nodiscard]] std::string ruled(const NeededPicture& picture, const RuledWith& with);
    /// Enlarged parts of a picture whose pixels are too small on paper, round the places that a step measures; empty: none is.
    [[nodiscard]] std::string details(const NeededPicture& picture, const Step& step);
    /// "figure 3": where a picture stands between rulers, or its instrument and scene where it does not.
    [[nodiscard]] std::string whereabouts(const NeededPicture& picture) const;
    /// A picture of the lesson's own folder: a PNG file of at most 4 MiB. Throws InputError.
    [[nodiscard]] std::string own(const std::string& target, const std::string& alt) const;

    [[nodiscard]] std::string missingFonts() const { return type_.missing(); }

private:
    [[nodiscard]] std::string element(const std::string& uri, const std::string& alt, const std::string& caption, const std::string& look = "", double tallest_mm = 0.0);

    Truths& truths_;
    int threads_;
    Type type_;
    int count_ = 0;
    [[nodiscard]] std::string drawn(const NeededPicture& picture, const Scene& shown, const RuledWith& with, const std::string& caption);

    struct Stands {
        NeededPicture picture;
        int number = 0;
    };
    std::vector<Stands> ruled_;
    std::vector<std::pair<std::string, PictureWindow>> printed_details_;  ///< by the figure that they belong to
};

/// A figure block of the lesson as the program makes it in this variant. Throws InputError.
[[nodiscard]] Figure madeFigure(Truths& truths, const LessonFigure& figure, const Step& step, const Type& type, int threads);

/// A drawing as a data address: painted, or as SVG.
[[nodiscard]] std::string pngUri(const Drawing& drawing, int scale, const Type& type);
[[nodiscard]] std::string svgUri(const Drawing& drawing);

}  // namespace linefall
