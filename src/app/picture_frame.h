#pragma once
// Where an image lies on the page, and which of its places lies where: enlarged, rolled, and turned when asked.

#include <optional>

#include "app/ui.h"
#include "flight/formation.h"
#include "view/outline.h"

namespace linefall {

/// How a picture is looked at: enlarged about a place in it, turned by 180 degrees or not (never mirrored).
struct PictureView {
    double zoom = 1.0;
    double across = 0.5, along = 0.5;  ///< middle of what is seen, shares of the picture
    bool turned = false;
    bool followed = false;  ///< the clock moved when it was drawn last

    /// Enlarges so that one place (shares of the picture) stays where it is on the page.
    void zoomAbout(double factor, double at_across, double at_along);
};

/// Where the image lies on the page. Places in the image are (sample, line), whole numbers at the samples' corners.
struct PictureFrame {
    Rect seen;      ///< the part of the page that shows it
    Rect rect;      ///< the whole image; larger than what is seen when it is enlarged
    int samples = 1, lines = 1;
    bool turned = false;
    float cell_x = 1, cell_y = 1;  ///< a sample's size on the page

    [[nodiscard]] ImVec2 at(double sample, double line) const;
    /// The place in the image under a place on the page: sample, line.
    [[nodiscard]] Vec2 imageAt(ImVec2 page) const;
    [[nodiscard]] Pixel pixelAt(ImVec2 page) const;
    /// Corner of the image on the page and the opposite one, so that a texture drawn between them is turned as well.
    [[nodiscard]] Rect part(double first_line, double last_line) const;
};

/// Height over width of the whole image, samples as wide and lines as long as they are on the ground under the platform.
[[nodiscard]] double shapeOf(const Formation& formation);
/// The page's pixels that a metre takes in a picture that fills a space, by its spacing under the platform.
[[nodiscard]] double scaleIn(const Formation& formation, const Rect& space);
/// At a given scale, with a place of the image (sample, line) in the middle of the space; fills the space.
[[nodiscard]] PictureFrame pictureFrameAbout(const Formation& formation, const Rect& space, double scale, const Vec2& middle, bool turned);
/// `newest`: where the picture ends just now, a share of its length, while it falls.
[[nodiscard]] PictureFrame pictureFrame(const Formation& formation, const Rect& space, PictureView& view, std::optional<double> newest);

}  // namespace linefall
