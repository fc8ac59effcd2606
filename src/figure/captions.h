#pragma once
// What figures say about themselves in words.

#include <string>

#include "figure/figures.h"

namespace linefall {

/// "Whisk broom (A)": title and letter.
[[nodiscard]] std::string instrumentName(const Scene& scene, int instrument);
/// "2.6 km above datum, towards the south (180°) at 65 m/s".
[[nodiscard]] std::string flightWords(const Scene& scene, const Formation& formation);
/// "sun at azimuth 128°, 37° up".
[[nodiscard]] std::string sunWords(const Sunlight& sun);
/// "true colour (red, green, blue)".
[[nodiscard]] std::string bandWords(const std::vector<Band>& bands, const BandChoice& choice);
/// What was changed of the causes and is to be known of any figure: "Switched off: cast shadow, noise. Lean x 3." or "".
[[nodiscard]] std::string causeWords(const Scene& scene);
/// What the samples of an image look at, by share: "sea 41 %, forest 22 %, grass 18 %".
[[nodiscard]] std::string groundWords(const Scene& scene, const Formation& formation, int lines);
/// The closing sentences of every caption.
[[nodiscard]] std::string closingWords(const Scene& scene);
/// An instrument's colour-free letter, A to Z.
[[nodiscard]] inline char letterOf(int instrument) { return static_cast<char>('A' + instrument); }

}  // namespace linefall
