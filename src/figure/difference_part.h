#pragma once
// What one cause does to a picture, in place of the picture: the core's difference with it and without it.

#include "figure/drawing.h"
#include "figure/page.h"
#include "flight/cause_table.h"
#include "flight/difference.h"

namespace linefall {

struct DifferencePart {
    Cause cause = Cause::cast_shadow;
    Difference difference;
    double limit = 1.0;  ///< counts in full colour
    /// Of the shown bands together: mean of their means, root of the mean of their squares, largest share that changed.
    DifferenceStatistics numbers;
};

/// Of the lines 0 .. lines - 1, which must be formed in both; `own` belongs to `scene`, `other` to the same with the cause turned.
[[nodiscard]] DifferencePart differencePart(const Scene& scene, Cause cause, const Image& own, const Image& other, const BandChoice& shown, int lines);

/// Its rows as they are shown; `turned` by half a turn.
[[nodiscard]] Pixels differencePixels(const DifferencePart& part, const BandChoice& shown, int lines, bool turned, bool night);

/// The key of its colours, from (x, y) down; returns the y below it.
double differenceKey(Page& page, const DifferencePart& part, double x, double y, bool night);

/// "What cast shadow does".
[[nodiscard]] std::string differenceTitle(const DifferencePart& part);
/// The difference in a sentence: sign, palette, size.
[[nodiscard]] std::string differenceSentence(const DifferencePart& part);

}  // namespace linefall
