#pragma once
// What all parts of the page share, and the parts themselves: each draws itself into its place and acts on the session.

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/keys.h"
#include "app/layout.h"
#include "app/session.h"
#include "app/ui.h"
#include "view/camera.h"
#include "view/world_view.h"

namespace linefall {

enum class ViewKind { island, chase, side, top };
[[nodiscard]] const char* nameOf(ViewKind kind);

/// How the flight is looked at: a kind of view, and what the user turned and zoomed.
struct FlightView {
    ViewKind kind = ViewKind::island;
    double turn_rad = 0.0, rise_rad = 0.0, zoom = 1.0;
    Camera camera;                ///< as last used
    Camera from;                  ///< where a change of view began
    double change = 1.0;          ///< 0..1
    double still_s = 0.0;         ///< how long the camera has not moved
};

/// How a picture is looked at: enlarged about a place in it.
struct PictureView {
    double zoom = 1.0;
    double across = 0.5, along = 0.5;  ///< middle of what is seen, shares of the picture

    /// Enlarges so that one place (shares of the picture) stays where it is on the page.
    void zoomAbout(double factor, double at_across, double at_along);
};

struct Desk {
    explicit Desk(SceneRequest request) : session(std::move(request)) {}
    Ui ui;
    Session session;
    std::unique_ptr<WorldView> world;
    std::vector<std::unique_ptr<Picture>> pictures;
    std::vector<int> picture_versions;
    std::vector<PictureView> picture_views;
    FlightView view;
    Rect flight_place;             ///< of the 3-D view, as last drawn
    bool night = false, lecture = false, help = false, angles = true, overlays = true;
    float text_scale = 1.0f;
    bool rescale = false;          ///< the fonts must be made again
    int open_stop = -1;
    int active = 0;                ///< the craft whose picture the keys act on
    int band_choice = 0;
    std::string notice;            ///< one line for the user: missing fonts and the like
    double seconds = 0.0;          ///< since the last frame
    double frames_per_s = 0.0;
    bool animating = false;        ///< something moves that is not the clock
};

[[nodiscard]] Layout layoutOf(const Desk& desk, float width, float height);
/// Draws the whole page. `places`: from layoutOf.
void drawPage(Desk& desk, const Layout& places);
/// Does what a key asks for.
void act(Desk& desk, Act what);
/// The camera for this frame, moved on by desk.seconds.
void moveCamera(Desk& desk);

void drawLegend(Desk& desk, const Rect& place);
void drawFlight(Desk& desk, const Rect& place);
void drawFlightMarks(Desk& desk, const Rect& place);
void drawPicture(Desk& desk, int craft, const Rect& place);
void drawClock(Desk& desk, const Rect& place);
void drawPath(Desk& desk, const Rect& place);
void drawDrawer(Desk& desk, const Rect& place);
void drawHelp(Desk& desk, const Rect& place);
/// A slider and a typed value for a declared parameter; returns the height used.
float drawParameter(Desk& desk, const ParameterOf& parameter, const Rect& place);
[[nodiscard]] char letterOf(int craft);
[[nodiscard]] ImU32 colourOf(const Desk& desk, int craft);
[[nodiscard]] float dashOf(int craft);

}  // namespace linefall
