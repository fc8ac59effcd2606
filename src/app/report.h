#pragma once
// The window's own state as JSON lines in a file, for tests and for people who look for a fault.
//
// One object a line:
//   {"at": seconds since the start, "event": "start" | "first-frame" | "loaded" | "first-line" | "second" | "acted" | "controls" | "words" | "hidden" | "shown" | "end" |
//    "error", ...}
// "acted": after the user did something, as the page then is. "controls" carries where each control stands on the page,
//   {name: [x, y, width, height]}, and "spoilt": what is wrong with the words of the page (shortened, cut off, one over the
//   other), whenever one of them changed. "words" carries all words that are wholly in sight, [[x, y, width, height, text, cased over imagery, [red, green, blue]]],
//   once a second when they changed.
// "hidden" when the window was minimised or taken from the screen, "shown" with the first page after that.
// "start" carries renderer, width, height; "error" carries text. Every other line but "controls" and "words" carries:
//   frames_per_s   since the last such line
//   draw_ms, grid  of the 3-D view
//   page           width and height, pixels; stacked: its parts stand in one column; rolled: how far that is rolled
//   scale          pixels of one unit of layout
//   drape          texels along a side
//   lines          one a picture
//   samples        one a picture: how many of the line that is being gathered
//   settled        one a picture: all lines as formed
//   time_s, duration_s, pace, paused
//   ruler          [from, to], s
//   slow           one a picture: watched in slow motion
//   instruments    presets that fly, in order; exchanging: one is made ready; refused: why the last one asked for does not fly
//   blink          letter of the picture shown by turns, or empty
//   hand           null, or craft, line, sample, gathered, samples: the line that is gathered by hand
//   theme, scale, view, focus
//   typing         a field takes letters
//   stop           open stop 1..8 or 0
//   tool           name of the open tool, or empty
//   place, problems (of the file opened last), left (a killed session left its state), said (by the Keep tool)
//   figures        working, share (0..1 of the work), files (written last), problems
//   measured       readings: name, value in core units or null, sigma, text
//   large          "flight" or "pictures"
//   turned         pictures
//   warnings       one list a picture: words on it that warn
//   profile        null, or lowest_m, lowest_at_m, highest_m, highest_at_m of the ground under the profile that is drawn
//   lecture, blank, frozen, test_card   true or false
//   steps, step    how many are kept; the one shown last, 1.., or 0
//   bands          of picture A
//   stretch        of picture A: counts shown black and white, one pair a channel
//   sun            [azimuth, elevation in degrees]
//   height_m
//   picked         null, or craft, line, sample, counts, blocked
//   ray            of the picked pixel as drawn: sun ("free", "blocked", "away", "down", "sky" or empty), blocked_by, lit (the leg of
//                  the opened stop: "sun to ground", "ground", "ground to sensor", "sensor" or empty), looks (further ones, faint)
//   walk           rows (of the opened stop), roll (pixels), verdict (its sentence), copied (bytes of the text copied last), saved (path of the last file)
//   angles         those switched on, by app/angles.h
//   labels         of the flight view: [words, x, y, width, height]
//   sun_path       null, or latitude_deg, date, noon, noon_elevation_deg, rises, sets (null in polar day and night)
//   saying         what the page says was just done
//   linked         line and sample in the other picture, or null
//   rebuilt        how often all OpenGL objects were destroyed and made again
//   causes         words of those that are on; cause: the one looked at
//   difference     null, or limit, lines that stand, stale (it holds for another light), and mean, rms, changed of the active picture, one a band
//   arrows         null, or count, outlines, the largest in pixels and its name
//   map            null, or columns, rows, cell_m, covered cells, resampling, level of the active picture
//   cursor         null, or point (east, north, up; m) and pixels: [line, sample] or null, one a picture
//   error          text, or empty

#include <fstream>
#include <string>

namespace linefall {

struct Desk;

class Report {
public:
    /// An empty path: nothing is written.
    explicit Report(const std::string& path);
    void started(double at_s, const std::string& renderer, int width, int height);
    void state(double at_s, const char* event, Desk& desk, double frames_per_s);
    /// Where the controls stand, when that is not what was written last.
    void controls(double at_s, Desk& desk);
    /// All words of the page, when they are not those written last.
    void words(double at_s, const Desk& desk);
    void error(double at_s, const std::string& text);
    [[nodiscard]] bool on() const { return file_.is_open(); }

private:
    std::ofstream file_;
    std::string controls_, words_;  ///< as written last
};

}  // namespace linefall
