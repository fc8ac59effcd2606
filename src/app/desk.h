#pragma once
// What all parts of the page share, and the parts themselves: each draws itself into its place and acts on the session.

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/angles.h"
#include "app/blink.h"
#include "app/cause_map.h"
#include "app/cause_places.h"
#include "app/cause_study.h"
#include "app/figure_maker.h"
#include "app/keys.h"
#include "app/layout.h"
#include "app/linked_cursor.h"
#include "app/measure_tool.h"
#include "app/picture_frame.h"
#include "app/ray_marks.h"
#include "app/ruler.h"
#include "app/session.h"
#include "app/steps.h"
#include "app/ui.h"
#include "app/walk_panel.h"
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

/// What the Keep tool says and remembers.
struct KeepTool {
    std::string folder;                ///< where states and figures go; empty: the working directory
    std::string opened, said;
    std::optional<std::string> left;   ///< the state of a session that was killed
    bool forget_left = false;
    FigureWish wish;
    FigureMaker maker;
};

/// Colours of the sun's dome, and what they were worked out for.
struct DomeSky {
    int scene_version = -1;
    double time_s = 0.0;
    std::vector<ImU32> colours;
};

/// Which points of a swath's edges an eye sees past the land.
struct SwathSight {
    Camera camera;
    int version = -1, generation = -1;  ///< of the craft and of the scene
    std::vector<char> starboard, port;
};

struct Desk {
    explicit Desk(SceneRequest request) : session(std::move(request)) {}
    Ui ui;
    Session session;
    std::unique_ptr<WorldView> world;
    std::vector<std::unique_ptr<Picture>> pictures;
    std::vector<int> picture_versions;
    std::vector<PictureView> picture_views;
    int generation = 0;            ///< of the session, for which the pictures and their views were made
    FlightView view;
    Rect flight_place;             ///< of the 3-D view, as last drawn
    std::vector<float> shapes;     ///< of the pictures, as the layout took them (app/layout.h)
    float roll = 0.0f;             ///< how far a stacked page is rolled, pixels
    int rolled_to = -1;            ///< the open stop or tool to which it rolled
    LectureSteps steps;            ///< kept states
    bool blank = false;            ///< nothing is shown until a key comes
    bool frozen = false;           ///< everything stands as it is until F
    bool test_card = false;        ///< for the projector
    bool night = false, lecture = false, help = false, overlays = true;
    float text_scale = 1.0f;
    bool rescale = false;          ///< the fonts must be made again
    int open_stop = -1;            ///< of the light path; at most one of stop and tool is open
    int open_tool = -1;            ///< of toolTable()
    bool stop_controls = false;    ///< in a narrow drawer: a stop shows its controls in place of its numbers
    KeepTool keep;
    MeasureTool measure;
    DomeSky dome_sky;
    std::vector<SwathSight> swath_sights;  ///< one a craft, of the eye as it stands
    CauseView causes;              ///< one cause at a time: what is shown of it, as the scene said at the begin of this frame
    CauseStudy study;
    CausePlaces cause_places;
    CauseMaps maps;
    std::vector<std::unique_ptr<Picture>> differences, map_pictures;  ///< one a craft, while they are shown
    std::vector<int> difference_versions, map_versions;
    std::vector<PictureLook> map_looks;
    std::vector<PictureView> map_views;
    std::string difference_bands;
    bool map_night = false;
    LinkedCursor cursor;           ///< what lies under the pointer, in every picture
    Blink blink;                   ///< the pictures by turns in one place
    WalkRead walk;
    Angles angles;
    RayDrawn ray;                  ///< of the picked pixel, as last drawn
    std::vector<std::pair<std::string, Rect>> flight_labels;  ///< words beside their lines in the flight view, as last drawn
    std::vector<std::vector<std::string>> picture_warnings;   ///< words that warn on each picture, as last drawn
    std::string saying;            ///< what was just done, for some seconds over the page
    double saying_left_s = 0.0;
    void say(const std::string& words) {
        saying = words;
        saying_left_s = 7.0;
    }
    bool pictures_large = false;   ///< the pictures take the large place, the flight the small one
    bool reduced_motion = false;   ///< views change at once, nothing glides
    std::optional<int> ruler_level;  ///< as the user chose it; nothing: it follows the pace
    std::optional<RulerPage> ruler_page;  ///< as last drawn
    bool stepping = false;         ///< the clock was moved sample by sample: shown as slow motion until it runs again
    std::string pace_problem;      ///< what is wrong with the typed pace
    int active = 0;                ///< the craft whose picture the keys act on
    std::string notice;            ///< one line for the user: missing fonts and the like
    std::string focus_before_help;
    int rebuilt = 0;               ///< how often all OpenGL objects were made again
    double seconds = 0.0;          ///< since the last frame
    double frames_per_s = 0.0;
    bool animating = false;        ///< something moves that is not the clock
};

/// Pixels of one unit of layout: it follows the window and the size of words; a lecture sets main words at about 4 % of the height.
[[nodiscard]] float scaleFor(const Desk& desk, float width, float height);
[[nodiscard]] Layout layoutOf(Desk& desk, float width, float height);
/// Pictures and views for another scene, once it flies; does nothing when that was done.
void takeGeneration(Desk& desk);
/// Draws the whole page. `places`: from layoutOf.
void drawPage(Desk& desk, const Layout& places);
/// Shows what was found out about the cause: differences and maps, on their textures.
void uploadCauses(Desk& desk);
/// Puts the lines that have fallen on their pictures.
void uploadPictures(Desk& desk);
/// Drapes and objects that were finished, and the sky of the light now.
void uploadWorld(Desk& desk);
/// As after the loss of all that OpenGL held: everything that the window drew with is destroyed and made again.
void rebuildGl(Desk& desk);
/// Does what a key asks for.
void act(Desk& desk, Act what);
/// The camera that the present kind of view, turned and zoomed as it is, has in a view of this shape: its width over its height.
[[nodiscard]] Camera cameraFor(const Desk& desk, double aspect);
/// The camera for this frame, moved on by desk.seconds.
void moveCamera(Desk& desk);

void drawLegend(Desk& desk, const Rect& place);
void drawFlight(Desk& desk, const Rect& place);
void drawFlightMarks(Desk& desk, const Rect& place);
/// The instruments close by, over the flight, while they are watched in slow motion.
void drawInstrumentPlates(Desk& desk, const Rect& place);
void drawPicture(Desk& desk, int craft, const Rect& place);
/// A picture laid out as a map, north up, into the room below its heading.
void drawMapPicture(Desk& desk, int craft, const Rect& space);
void drawClock(Desk& desk, const Rect& place);
/// A new pace; the ruler follows it.
void setPace(Desk& desk, double pace);
/// The clock moves so slowly, or was moved so finely, that a sweep of this craft's instrument is watched as it goes.
[[nodiscard]] bool isSlow(const Desk& desk, int craft);
/// What a craft's instrument does at the clock's time, or in the hand.
[[nodiscard]] Moment momentOf(const Desk& desk, int craft);
/// The levels of the clock's ruler for the craft whose picture the keys act on, and the one in use.
struct RulerChoice {
    std::vector<RulerLevel> levels;
    int level = 0;
};
[[nodiscard]] RulerChoice rulerOf(const Desk& desk);
void drawPath(Desk& desk, const Rect& place);
void drawDrawer(Desk& desk, const Rect& place);
/// Paper, heading and close button of what is open; returns the room for its contents. `buttons`: width kept free on the right.
Rect drawDrawerFrame(Desk& desk, const Rect& place, const std::string& name, const std::string& sentence, float buttons = 0.0f);
/// Each tool calls it with the lower edge of what it drew: the drawer rolls that far.
void drawerReaches(float y);
/// Opens a tool, or closes it when it is open; the drawer holds one thing at a time.
void toggleTool(Desk& desk, Act tool);
/// Saves the present state, and says where.
void actKeep(Desk& desk);
void drawHelp(Desk& desk, const Rect& place);
/// What lies over the whole page in a hall: nothing at all, the test card, the word that it is frozen.
void drawOverPage(Desk& desk, const Rect& page);
void drawTestCard(Desk& desk, const Rect& page);
/// A slider and a typed value for a declared parameter; returns the height used.
float drawParameter(Desk& desk, const ParameterOf& parameter, const Rect& place);
/// A declared number as a point on its slider from 0 to 1, back from there to a round number, and as text.
[[nodiscard]] double shareOf(const Parameter& row, double value);
[[nodiscard]] double valueAt(const Parameter& row, double share);
[[nodiscard]] std::string shownValue(const Parameter& row, const Value& value);
/// Name of the control that sweeps a line by hand.
inline constexpr const char* hand_control = "mirror by hand";
/// Name of the rows of the help, which arrow keys roll.
inline constexpr const char* help_control = "help rows";
[[nodiscard]] char letterOf(int craft);
[[nodiscard]] ImU32 colourOf(const Desk& desk, int craft);
[[nodiscard]] float dashOf(int craft);

}  // namespace linefall
