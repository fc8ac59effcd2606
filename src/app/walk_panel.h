#pragma once
// "Why this pixel?": the walk of the picked pixel in the opened stop, copied, and saved.

#include <string>
#include <vector>

#include "flight/walk_text.h"

namespace linefall {

struct Desk;
struct Rect;

/// The walk of the picked pixel as read last, and what was done with it.
struct WalkRead {
    int version = -1, band = -1;      ///< of the picked pixel, and of the picture
    std::vector<WalkRow> rows;        ///< of all stops
    std::string verdict;              ///< what the opened stop comes to, in a sentence; empty where the numbers say it
    float roll = 0.0f;                ///< how far the rows are rolled, pixels
    std::size_t copied = 0;           ///< bytes of the text that was copied last
    std::string saved;                ///< path of the file that was saved last
};

/// The rows of the picked pixel's walk, read anew when the pixel, its light or the band changed; none without a pixel.
const std::vector<WalkRow>& walkNow(Desk& desk);
/// Rows of one stop: symbol, meaning, formula, the values put in, result. `whole`: it has the drawer alone, so the stop's sentence
/// and the buttons roll with the rows.
void drawWalk(Desk& desk, const Rect& place, int stop, bool whole);
/// The whole walk as text into the clipboard, or into a file beside other results (desk.keep.folder).
void copyWalk(Desk& desk);
void saveWalk(Desk& desk);

}  // namespace linefall
