#pragma once
// "Why this pixel?" as text: for every number of the walk its formula in textbook symbols, the values put in, the result and
// its unit, through the eight stops in travel order. The numbers are the trace's; nothing is computed here.

#include <string>
#include <vector>

#include "flight/formation.h"

namespace linefall {

/// One number of the walk as people read it.
struct WalkRow {
    int stop = 0;            ///< of lightStops()
    std::string symbol;      ///< as printed: "E_b"; what follows an underscore may be set lower
    std::string meaning;     ///< one phrase
    std::string formula;     ///< "E_0 · exp(−m_s · τ_z)"; empty: it is set, looked up, searched or drawn, and `words` say so
    std::string values;      ///< the same with the values put in: "1 553 · exp(−1.66 · 0.146)"; angles in degrees
    std::string words;       ///< where the number comes from, or what the formula is; may be empty
    std::string result;      ///< with its unit: "1 219 W m⁻² µm⁻¹"
    double value = 0.0;      ///< as traced, in the unit of the trace
    std::string mean;        ///< over all looks of the sample, where it differs from this look's; else empty
};

/// The whole walk of a pixel in one band. The rows of one look stand for all: see WalkScope.
[[nodiscard]] std::vector<WalkRow> walkRows(const Why& why, const Formation& formation, int band);

/// Which picture the pixel belongs to.
struct WalkTitle {
    std::string place, instrument;
};
/// The walk as plain text (UTF-8, lines ended), for one or more bands.
[[nodiscard]] std::string walkText(const WalkTitle& title, const Why& why, const Formation& formation, const std::vector<int>& bands);
/// What the pixel is, in lines without a number of the walk: place, instrument, line, sample, time, what is met, what blocks.
[[nodiscard]] std::vector<std::string> walkHeading(const WalkTitle& title, const Why& why, const Formation& formation);
/// A file name for the text: "why-hill-and-hollow-whisk-broom-line-120-sample-45.txt"; letters, digits and hyphens only.
[[nodiscard]] std::string walkFileName(const WalkTitle& title, const Why& why);

}  // namespace linefall
