#include "app/keys.h"

namespace linefall {

const std::vector<KeyRow>& keyTable() {
    static const std::vector<KeyRow> table{
        {SDL_SCANCODE_SPACE, false, Act::pause, "Space", "hold the clock, or fly on"},
        {SDL_SCANCODE_MINUS, false, Act::slower, "-  =", "slower, faster"},
        {SDL_SCANCODE_EQUALS, false, Act::faster, "", ""},
        {SDL_SCANCODE_COMMA, false, Act::line_back, ",  .", "one line back, one line on"},
        {SDL_SCANCODE_PERIOD, false, Act::line_on, "", ""},
        {SDL_SCANCODE_COMMA, false, Act::sample_back, "Shift ,  .", "one sample back, one sample on", true},
        {SDL_SCANCODE_PERIOD, false, Act::sample_on, "", "", true},
        {SDL_SCANCODE_J, false, Act::by_hand, "J", "be the mirror: sweep one line by hand"},
        {SDL_SCANCODE_LEFTBRACKET, false, Act::ruler_longer, "[  ]", "the ruler: a longer time, a shorter one"},
        {SDL_SCANCODE_RIGHTBRACKET, false, Act::ruler_shorter, "", ""},
        {SDL_SCANCODE_HOME, false, Act::to_start, "Home  End", "to the start; fill the picture now"},
        {SDL_SCANCODE_END, false, Act::fill, "", ""},
        {SDL_SCANCODE_R, false, Act::restart, "R", "fly again from the start"},
        {SDL_SCANCODE_TAB, false, Act::none, "Tab", "next control; Shift: the one before"},
        {SDL_SCANCODE_RETURN, false, Act::none, "Enter", "press it, or type its value"},
        {SDL_SCANCODE_RIGHT, false, Act::none, "Arrows", "move the control, or the picked pixel"},
        {SDL_SCANCODE_L, false, Act::other_picture, "L", "pick in the other picture"},
        {SDL_SCANCODE_1, false, Act::stop_1, "1 to 8", "open a stop of the light path"},
        {SDL_SCANCODE_2, false, Act::stop_2, "", ""},
        {SDL_SCANCODE_3, false, Act::stop_3, "", ""},
        {SDL_SCANCODE_4, false, Act::stop_4, "", ""},
        {SDL_SCANCODE_5, false, Act::stop_5, "", ""},
        {SDL_SCANCODE_6, false, Act::stop_6, "", ""},
        {SDL_SCANCODE_7, false, Act::stop_7, "", ""},
        {SDL_SCANCODE_8, false, Act::stop_8, "", ""},
        {SDL_SCANCODE_V, false, Act::view_next, "V", "next view: whole, chase, side, top"},
        {SDL_SCANCODE_PAGEUP, false, Act::zoom_in, "PgUp  PgDn", "nearer, farther: the flight or the picture"},
        {SDL_SCANCODE_PAGEDOWN, false, Act::zoom_out, "", ""},
        {SDL_SCANCODE_G, false, Act::tool_angles, "G", "angles on the spot, and the sun's path"},
        {SDL_SCANCODE_O, false, Act::overlays, "O", "arrows and marks on the pictures"},
        {SDL_SCANCODE_C, false, Act::bands, "C", "colours: true, false, single bands"},
        {SDL_SCANCODE_X, false, Act::stretch, "X", "stretch the pictures again"},
        {SDL_SCANCODE_I, false, Act::turn_sun, "I", "turn the sun by 180°"},
        {SDL_SCANCODE_Z, false, Act::turn_pictures, "Z", "turn the pictures by 180°"},
        {SDL_SCANCODE_Q, false, Act::blink, "Q", "blink: the pictures by turns in one place"},
        {SDL_SCANCODE_W, false, Act::swap, "W", "large pictures, or a large flight"},
        {SDL_SCANCODE_M, false, Act::tool_measure, "M", "measure in the pictures"},
        {SDL_SCANCODE_B, false, Act::tool_bands, "B", "bands, stretch and spectra"},
        {SDL_SCANCODE_E, false, Act::tool_keep, "E", "keep: states and figures"},
        {SDL_SCANCODE_S, true, Act::save, "Ctrl S", "save this state"},
        {SDL_SCANCODE_N, false, Act::tool_twin, "N", "twin flight: which instruments fly"},
        {SDL_SCANCODE_C, true, Act::copy_walk, "Ctrl C", "copy the walk of the picked pixel"},
        {SDL_SCANCODE_S, true, Act::save_walk, "Ctrl Shift S", "save the walk of the picked pixel", true},
        {SDL_SCANCODE_P, true, Act::figures, "Ctrl P", "make the figures chosen in Keep"},
        {SDL_SCANCODE_K, false, Act::tool_time, "K", "time: slow motion, steps, by hand"},
        {SDL_SCANCODE_Y, false, Act::tool_causes, "Y", "why: one cause at a time"},
        {SDL_SCANCODE_D, false, Act::difference, "D", "the difference that the cause makes, as a picture"},
        {SDL_SCANCODE_A, false, Act::displacement, "A", "arrows and outlines: what the cause does to places"},
        {SDL_SCANCODE_P, false, Act::map_geometry, "P", "pictures laid out as maps, or as they fell"},
        {SDL_SCANCODE_U, false, Act::tool_hall, "U", "the hall: words, paper, calm"},
        {SDL_SCANCODE_F2, false, Act::tool_list, "F2", "all tools, each in a sentence"},
        {SDL_SCANCODE_T, false, Act::theme, "T", "day or night"},
        {SDL_SCANCODE_EQUALS, true, Act::text_larger, "Ctrl +  -  0", "larger, smaller, standard text"},
        {SDL_SCANCODE_MINUS, true, Act::text_smaller, "", ""},
        {SDL_SCANCODE_0, true, Act::text_standard, "", ""},
        {SDL_SCANCODE_F5, false, Act::lecture, "F5", "lecture: large words, keys of a remote"},
        {SDL_SCANCODE_F6, false, Act::test_card, "F6", "test card for the projector"},
        {SDL_SCANCODE_K, true, Act::keep_step, "Ctrl K", "keep this state as a step of a lecture"},
        {SDL_SCANCODE_PAGEDOWN, false, Act::step_next, "PgDn  PgUp", "in a lecture: next step, the one before", false, true},
        {SDL_SCANCODE_PAGEUP, false, Act::step_back, "", "", false, true},
        {SDL_SCANCODE_B, false, Act::blank, "B  .", "in a lecture: blank; any key comes back", false, true},
        {SDL_SCANCODE_PERIOD, false, Act::blank, "", "", false, true},
        {SDL_SCANCODE_F, false, Act::freeze, "F", "in a lecture: freeze, and go on", false, true},
        {SDL_SCANCODE_H, false, Act::help, "?  H", "this table"},
        {SDL_SCANCODE_SLASH, false, Act::help, "", ""},
        {SDL_SCANCODE_ESCAPE, false, Act::close, "Esc", "close what is open"},
    };
    return table;
}

const KeyRow* rowOf(SDL_Scancode key, bool control, bool shift, bool lecture) {
    const KeyRow* found = nullptr;
    for (const KeyRow& row : keyTable()) {
        if (row.act == Act::none || row.key != key || row.control != control || (row.shift && !shift) || (row.lecture && !lecture)) continue;
        const auto rank = [](const KeyRow& r) { return 2 * static_cast<int>(r.shift) + static_cast<int>(r.lecture); };
        if (found == nullptr || rank(row) > rank(*found)) found = &row;
    }
    return found;
}

bool repeats(Act act) {
    return act == Act::line_back || act == Act::line_on || act == Act::sample_back || act == Act::sample_on || act == Act::slower || act == Act::faster ||
           act == Act::zoom_in || act == Act::zoom_out;
}

}  // namespace linefall
