#pragma once
// A small lesson on level ground under a small frame camera: a tower, its shadow, and every kind of question that can be marked
// without flying again. And answer files to it whose marks are known because they were made for them.

#include <cmath>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "lesson/answer.h"
#include "lesson/lesson.h"
#include "lesson/variant.h"
#include "support/scenes.h"

namespace linefall::test {

inline void writeText(const std::string& path, const std::string& text) {
    std::ofstream(path, std::ios::binary) << text;
}

/// A folder that is empty.
inline std::string emptyFolder(const std::string& name) {
    const std::string path = folder() + "/" + name;
    std::filesystem::remove_all(path);
    std::filesystem::create_directories(path);
    return path;
}

struct TowerVariant {
    double tower_m, elevation_rad;
    [[nodiscard]] double shadow_m() const { return tower_m / std::tan(elevation_rad); }
    /// The mistake that the lesson names.
    [[nodiscard]] double zenith_m() const { return tower_m * std::tan(elevation_rad); }
};
/// The variants of the lesson, by hand.
inline TowerVariant towerVariant(int index) {
    static const double rows[][2]{{60, 60}, {50, 40}, {40, 30}, {55, 50}};
    return {rows[index][0], rows[index][1] * std::acos(-1.0) / 180.0};
}

inline std::string towerText(const std::string& drop = "", int version = 1, const std::string& length_tolerance = "2 * A.spacing_along") {
    return R"md(+++
title = "Tower & shadow"
number = 1
version = )md" + std::to_string(version) + R"md(
minutes = 10
level = "first year"
topic = "illumination"
outcome = "Determine a height from a shadow."

[scene.noon]
place = "place.toml"
flight = "flight.toml"
instruments = ["camera.toml"]
set = { "sun.elevation" = "{high}", "sun.azimuth" = "90 deg" }

[points]
foot = { object = "tower", part = "shadow foot" }
tip = { object = "tower", part = "shadow tip" }
far = { east = "30 m", north = "60 m" }

[measures]
shadow = { of = "ground distance", points = ["foot", "tip"] }
+++

# Tower & shadow

## Read: A tower

The sun stands at {high}, *low* or not. A list:

- one
- two

```toml choice
id = "longer"
ask = "Is the shadow longer than the tower < or shorter?"
option = [
  { text = "longer", when = "sun.elevation < 45 deg" },
  { text = "shorter", when = "sun.elevation >= 45 deg" },
  { text = "there is none", say = "Every tower has one.", name = "no shadow", share = 0.25 },
]
right = "Yes."
otherwise = "Compare with 45 degrees."
negative = 0.5
```

## Measure: The shadow

```toml number
id = "length"
ask = "How long is the shadow?"
truth = "shadow"
formula = "tower / tan(sun.elevation)"
unit = "m"
tolerance = ")md" + length_tolerance + R"md("
tolerance_says = "two pixels"
points = 2
wrong = [ { name = "zenith for elevation", value = "tower * tan(sun.elevation)", share = 0.25, say = "That uses the zenith angle." } ]
right = "As measured."
otherwise = "Look at both ends."
explain = "The tangent of the elevation leads there."
hints = ["Measure from the foot."]
```

```toml number
id = "height"
ask = "How high is the tower?"
truth = "shadow * tan(sun.elevation)"
unit = "m"
tolerance = "2 * A.spacing_along * tan(sun.elevation)"
points = 3
follow = { shadow = "length" }
wrong = [ { name = "length for height", value = "shadow", share = 0.0, say = "That is the length." } ]
```

```toml point
id = "tip"
ask = "Where does the shadow end?"
truth = "tip"
tolerance = "2"
wrong = [ { name = "the foot", point = "foot", share = 0.5, say = "There it begins." } ]
```

```toml match
id = "sun"
ask = "Set the sun."
setting = [ { key = "sun.elevation", within = "2 deg", reach = "20 deg" } ]
```

## Explain: Why

```toml because
id = "why"
ask = "Why so?"
```

```toml variants
salt = "tower"
given = ["tower", "high"]
rows = [["60 m", "60 deg"], ["50 m", "40 deg"], ["40 m", "30 deg"], ["55 m", "50 deg"]]
drop = [)md" + drop + R"md(]
```
)md";
}

/// Writes the lesson's folder and reads it.
inline Lesson towerLesson(const std::string& text = towerText()) {
    const std::string path = folder() + "/tower-lesson";
    std::filesystem::create_directories(path);
    writeText(path + "/lesson.md", text);
    writeText(path + "/place.toml", levelPlace("[[object]]\nname = \"tower\"\nshape = \"cylinder\"\neast = \"0 m\"\nnorth = \"0 m\"\ndiameter = \"12 m\"\nheight = \"{tower}\"\nmaterial = \"white\"\n"));
    writeText(path + "/flight.toml", "start_east = \"0 m\"\nstart_north = \"0 m\"\nheading = \"0 deg\"\nheight = \"1500 m\"\nspeed = \"60 m/s\"\nlength = \"60 m\"\n");
    writeText(path + "/camera.toml", "kind = \"frame-camera\"\nfocal_length = \"30 mm\"\ndetector_pitch = \"50 um\"\nsamples = 120\nrows = 100\n"
                                     "[[band]]\nname = \"green\"\nfrom = \"520 nm\"\nto = \"600 nm\"\nquantum_efficiency = \"50 %\"\n");
    return readLesson(path);
}

inline Answers answersOf(const Lesson& lesson, const std::string& student) {
    Answers a;
    a.lesson = lesson.id;
    a.version = lesson.version;
    a.fingerprint = lesson.fingerprint;
    a.program = "test";
    a.student = student;
    a.variant = variantOf(lesson, student) + 1;
    a.salt = lesson.variants.salt;
    return a;
}

inline RawAnswer said(const std::string& text) {
    RawAnswer answer;
    answer.text = text;
    return answer;
}

inline void give(Answers& answers, const std::string& part, const RawAnswer& answer) {
    answers.parts[part].attempts.push_back(answer);
}

inline std::string metresText(double value) {
    char text[40];
    std::snprintf(text, sizeof text, "%.2f m", value);
    return text;
}

}  // namespace linefall::test
