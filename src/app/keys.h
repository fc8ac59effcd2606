#pragma once
// The one table of keys: what acts, what "?" shows, and what the manual prints.

#include <SDL_scancode.h>

#include <string>
#include <vector>

namespace linefall {

enum class Act {
    none,
    pause,
    slower,
    faster,
    line_back,
    line_on,
    sample_back,
    sample_on,
    by_hand,
    blink,
    ruler_longer,
    ruler_shorter,
    to_start,
    fill,
    restart,
    view_next,
    view_1,
    view_2,
    view_3,
    view_4,
    zoom_in,
    zoom_out,
    tool_angles,
    overlays,
    stop_1,
    stop_2,
    stop_3,
    stop_4,
    stop_5,
    stop_6,
    stop_7,
    stop_8,
    other_picture,
    bands,
    stretch,
    turn_sun,
    turn_pictures,
    swap,
    tool_time,
    tool_twin,
    tool_causes,
    difference,
    map_geometry,
    displacement,
    tool_hall,
    tool_measure,
    tool_bands,
    tool_keep,
    tool_list,
    keep_step,
    step_next,
    step_back,
    blank,
    freeze,
    test_card,
    save,
    copy_walk,
    save_walk,
    figures,
    theme,
    text_larger,
    text_smaller,
    text_standard,
    lecture,
    help,
    close,
};

struct KeyRow {
    SDL_Scancode key;
    bool control = false;
    Act act = Act::none;     ///< none: described here, done by the thing that has the focus
    const char* shown = "";  ///< as people read it; empty: a further key of the row above
    const char* what = "";
    bool shift = false;      ///< with Shift only; rows without it take the key with Shift as well where no row asks for it
    bool lecture = false;    ///< acts in lecture mode only, and there before any other row of its key
};

[[nodiscard]] const std::vector<KeyRow>& keyTable();
/// What a key does now, or nothing; a row with Act::none is no answer.
[[nodiscard]] const KeyRow* rowOf(SDL_Scancode key, bool control, bool shift, bool lecture);
/// True when it acts again and again while its key is held.
[[nodiscard]] bool repeats(Act act);

}  // namespace linefall
