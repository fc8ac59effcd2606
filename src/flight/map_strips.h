#pragma once
// The footprints of whole lines laid out on a map: what map_geometry claims cells with.

#include <vector>

#include "flight/map_geometry.h"

namespace linefall {

/// Footprints and centres of one line's samples in the map's own picture (Vec2: column, row); NaN where a look does not
/// reach the map's level. Left is towards column 0 of the image, aft towards line 0.
struct Strip {
    std::vector<Vec2> centre, aft_left, aft_right, fore_left, fore_right;
    std::vector<char> joins_next;              ///< sample by sample: no wide gap to the next line
    std::vector<char> seam_left, seam_right;   ///< a narrow gap to the next line, at either corner
    bool samples_join = true;      ///< no wide gap between neighbouring samples
};

[[nodiscard]] inline bool isThere(const Vec2& p) { return p.x == p.x; }

/// The footprints of a line at datum.
void layStrip(const Aim& aim, const MapFrame& frame, int line, Strip& strip);
/// Finds where a line adjoins the next one; call for all lines before any seam is closed.
void measureSeam(Strip& line, const Strip& next);
/// Closes narrow seams, half from each side.
void closeSeam(Strip& line, Strip& next);

/// Where the central looks of an image met the ground, in single precision (half a millimetre in a place of 8 km).
struct MetGround {
    struct Point {
        float x = 0.0f, y = 0.0f, z = 0.0f;
        bool there = false;
    };
    Raster<Point> points;  ///< samples x lines
};
/// False when cancelled.
[[nodiscard]] bool meetGround(const Aim& aim, int threads, const Cancel* cancel, MetGround& met);
/// Moves the footprints of a line from datum to where its looks met the ground. Neighbours share their corners where the
/// surface goes on between them; at an edge (a roof, a ridge) a footprint keeps its size at datum. `strips` are those of
/// datum: of the line before (may be null), of the line, and of the next (may be null).
[[nodiscard]] Strip raisedStrip(const MetGround& met, const MapFrame& frame, int line, const Strip* before, const Strip& here, const Strip* next);
/// True when the surface goes on between four neighbouring centres, from (line, sample) to the next line and sample.
[[nodiscard]] bool goesOn(const MetGround& met, const MapFrame& frame, const Strip& here, int line, int sample);

}  // namespace linefall
