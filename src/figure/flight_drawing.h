#pragma once
// What is drawn over the ground of the flight figure: swaths, the platform, the field, the light of a pixel, north and sun; each
// line that needs words is named in a legend.

#include <optional>
#include <string>
#include <vector>

#include "figure/flight_figure.h"
#include "figure/page.h"
#include "figure/world_marks.h"
#include "view/outline.h"

namespace linefall {

/// Of the figure, pixels at 1x.
inline constexpr double flight_page_width = flight_view_width + 2.0 * page_margin;

class FlightDrawing {
public:
    FlightDrawing(Page& page, WorldMarks& marks, const Camera& camera, const Scene& scene, Formations& formations, const FigureRequest& request, double time_s)
        : page_(page), marks_(marks), camera_(camera), scene_(scene), formations_(formations), request_(request), time_s_(time_s) {}

    void swaths();
    void platform(const Pose& pose);
    void aeroplane(const Pose& pose);
    /// The line on the ground that is being gathered, and the angle of the field.
    void field(const Pose& pose, int index);
    /// The light of the pixel: sun to ground, ground to sensor.
    void light(const Why& why);
    void northAndSun(const Plot& view, double seconds);
    /// What each line is, under the picture.
    void legend();

private:
    [[nodiscard]] Ink casing() const { return page_.colours.over; }
    [[nodiscard]] Stroke lineOf(int index, double width, bool cased = true) const;
    void nameSwath(int index, const SwathEdges& edges);

    Page& page_;
    WorldMarks& marks_;
    Camera camera_;
    const Scene& scene_;
    Formations& formations_;
    const FigureRequest& request_;
    double time_s_;
    struct Legend {
        Stroke stroke;
        std::string words;
    };
    std::vector<Legend> legend_;
};

}  // namespace linefall
