// The words of measures and facts: each list is the documentation of what it holds.

#include "lesson/truth.h"

namespace linefall {

const std::vector<MeasureWord>& measureWords() {
    static const std::vector<MeasureWord> words{
        {"ground distance", 2, "on the map between the ground points that two places show", Kind::length},
        {"straight distance", 2, "between the same points, heights included", Kind::length},
        {"picture distance", 2, "by counting pixels, each as large as at nadir", Kind::length},
        {"displacement", 2, "how far the second look meets datum from the first: relief displacement, from base to top", Kind::length},
        {"height difference", 2, "of the second ground point above the first", Kind::length},
        {"shadow height", 2, "from foot and shadow tip: h = L tan e", Kind::length},
        {"relief height", 2, "from foot and top: h = H (x' - x) / x'", Kind::length},
        {"bearing", 2, "direction on the map, clockwise from north", Kind::angle},
        {"look angle", 2, "between the lines of sight of two places", Kind::angle},
        {"time between", 2, "the looks of two places", Kind::time},
        {"speed between", 2, "of a thing that is at one place at its time and at the other at its", Kind::speed},
        {"sample", 1, "column of a point's place, pixels from the picture's first edge", Kind::number},
        {"line", 1, "row of a point's place, pixels from the picture's first edge", Kind::number},
        {"samples between", 2, "columns between two places, pixels", Kind::number},
        {"lines between", 2, "rows between two places, pixels", Kind::number},
        {"mean", 1, "of a square of 'size' pixels about a point, in the unit of 'scale'", Kind::number},
        {"spread", 1, "the standard deviation there", Kind::number},
        {"residual", 1, "the standard deviation there about a fitted plane", Kind::number},
        {"count", 1, "the number written for a point's pixel", Kind::number},
        {"trace", 1, "the value of 'symbol' in the walk of light of a point's pixel, as a number in the unit of the trace", Kind::number},
    };
    return words;
}

const std::vector<FactName>& factNames() {
    static const std::vector<FactName> names{
        {"samples", "samples a line", Kind::number},
        {"lines", "lines of the picture", Kind::number},
        {"line_rate", "lines a second; 0 for a frame", Kind::frequency},
        {"line_period", "time between lines; 0 for a frame", Kind::time},
        {"scan_period", "time between sweeps", Kind::time},
        {"dwell", "time that a sample gathers light", Kind::time},
        {"duty_cycle", "share of the scan period that is spent on samples", Kind::ratio},
        {"ifov", "instantaneous field of view at the centre", Kind::angle},
        {"fov", "field of view", Kind::angle},
        {"focal_length", "of the optics", Kind::length},
        {"detector_pitch", "distance of detectors", Kind::length},
        {"gsd_across", "ground cell at nadir, across", Kind::length},
        {"gsd_along", "ground cell at nadir, along", Kind::length},
        {"gsd_edge_across", "ground cell at the edge, across", Kind::length},
        {"gsd_edge_along", "ground cell at the edge, along", Kind::length},
        {"spacing_across", "of samples at nadir", Kind::length},
        {"spacing_along", "of lines at nadir", Kind::length},
        {"swath", "on level ground", Kind::length},
        {"overlap_nadir", "of neighbouring lines or sweeps at nadir; below 0: a gap", Kind::length},
        {"overlap_edge", "the same at the edge", Kind::length},
        {"zenith_edge", "angle of the sensor from the zenith, seen at the edge", Kind::angle},
        {"curved_swath", "on a sphere", Kind::length},
        {"curved_gsd_edge_across", "ground cell at the edge, across, on a sphere", Kind::length},
        {"curved_gsd_edge_along", "ground cell at the edge, along, on a sphere", Kind::length},
        {"curved_overlap_edge", "overlap at the edge on a sphere", Kind::length},
        {"bits_per_s", "data rate; of one frame for a frame camera", Kind::number},
        {"signal", "electrons of the first band over the reference panel", Kind::electrons},
        {"snr", "signal to noise of the first band over the reference panel", Kind::ratio},
    };
    return names;
}

}  // namespace linefall
