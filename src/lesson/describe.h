#pragma once
// A picture in words, for whoever does not see it: what it is, how its greys lie, and where things stand in it. Everything is
// read from the formed picture and its looks; places are whole pixels, as a careful hand would pick them.

#include <string>
#include <vector>

#include "lesson/truth.h"

namespace linefall {

/// A part of a named thing, or a named point of the lesson, where the picture shows it.
struct SeenThing {
    std::string name;   ///< "mast"
    std::string part;   ///< "foot", "top", "shadow tip", or "" for a point on the ground
    int sample = 0, line = 0;
};
/// In the order of the place; at most 60.
[[nodiscard]] std::vector<SeenThing> seenThings(Truths& truths, const std::string& scene, int instrument);

/// Sentences: instrument, size, where north is, the sun, the greys of nine fields in words with their means, and what stands
/// where.
[[nodiscard]] std::string pictureInWords(Truths& truths, const std::string& scene, int instrument);

}  // namespace linefall
