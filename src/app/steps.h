#pragma once
// Kept states, so that a lecture can go to the next one and back to the one before, exactly as it was.

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/angles.h"
#include "app/picture_frame.h"
#include "scene/scene.h"
#include "view/picture.h"

namespace linefall {

struct Desk;

/// All that decides what the page shows, but for the hall's own choices (words, paper, motion).
struct LectureStep {
    std::string name;                          ///< what is telling about it, in few words
    Scene scene;
    double time_s = 0.0, pace = 1.0;
    bool paused = false;
    std::optional<std::pair<int, Pixel>> pick; ///< craft and pixel
    int open_stop = -1, open_tool = -1;
    struct Shown {
        std::string bands;
        PictureLook look;
        PictureView view;
    };
    std::vector<Shown> pictures;               ///< one a craft
    int view_kind = 0;                         ///< of the flight (app/desk.h, ViewKind)
    double turn_rad = 0.0, rise_rad = 0.0, zoom = 1.0;
    Angles angles;
    bool overlays = true, pictures_large = false;
    int active = 0;
};

struct LectureSteps {
    std::vector<LectureStep> kept;
    int at = -1;  ///< the one shown last; -1: none yet
};

/// Keeps the state of the page behind the last step, or behind the one shown when that is not the last.
void keepStep(Desk& desk);
/// Shows a kept state; nothing happens when there is none of that number.
void showStep(Desk& desk, int index);
void removeStep(Desk& desk, int index);

}  // namespace linefall
