#pragma once
// What paper cannot do: reading the counts of a picture. A table stands for the program's reading of areas.

#include <functional>
#include <string>
#include <vector>

#include "lesson/truth.h"
#include "measure/calibration.h"
#include "paper/needs.h"

namespace linefall {

/// A square of pixels that may be read: its middle pixel and how many pixels to a side.
struct Square {
    int sample = 0, line = 0, size = 1;
    friend bool operator==(const Square&, const Square&) = default;
};

/// The squares of one picture that a table lists, by line and sample: those that the lesson's measures read in this picture,
/// and others of the same size elsewhere, so that the right ones have to be found by their place.
[[nodiscard]] std::vector<Square> squaresOf(Truths& truths, const NeededPicture& picture);

/// What one table tells of each square, in every band.
struct ReadingColumns {
    NeededPicture picture;
    Scale scale = Scale::counts;
    bool mean = false, spread = false, residual = false;
    /// True when this table tells all that the other does.
    [[nodiscard]] bool covers(const ReadingColumns& other) const;
};

/// Tables for the pictures in which answers of a step are read from counts, and where a table stands that was printed before.
class Readings {
public:
    explicit Readings(Truths& truths) : truths_(truths) {}
    /// Empty: nothing is read from counts. `figure_of` gives the words for where a picture stands ("figure 3").
    [[nodiscard]] std::string html(const Step& step, const std::function<std::string(const NeededPicture&)>& figure_of);

private:
    Truths& truths_;
    std::vector<ReadingColumns> printed_;  ///< table 1, 2, ...
};

}  // namespace linefall
