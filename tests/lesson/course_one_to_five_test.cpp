// The first five lessons of the course, true in the formed pictures themselves. That every variant is sound is a CTest test of
// its own for each lesson: course/...
#include <catch2/catch.hpp>

#include <cmath>

#include "lesson/play.h"
#include "support/folders.h"

using namespace linefall;

namespace {

Lesson lessonOf(const std::string& id) { return readLesson(sourceFolder() + "/lessons/" + id); }

/// Counts of a band along a column, at whole lines about a place.
int countAt(Formation& formation, double sample, double line, int band) {
    const int l = static_cast<int>(std::floor(line)), s = static_cast<int>(std::floor(sample));
    return formation.image().counts[static_cast<std::size_t>(band)].at(s, l);
}

}  // namespace

// The lessons measure where a formula puts a shadow; here the counts say where it is.
TEST_CASE("shadows of the first lessons end in the counts where they are measured") {
    constexpr double clear = 2.5;  // pixels to either side of an edge
    const Lesson tower = lessonOf("shadow-to-height");
    const Lesson ridge = lessonOf("two-sides-of-a-ridge");
    for (int variant = 0; variant < 24; variant += 5) {
        CAPTURE(variant);
        for (const char* scene : {"high", "low"}) {
            Truths truths(tower, variant);
            const PicturePlace from = truths.place("foot", scene), to = truths.place("tip", scene);
            const double length = std::hypot(to.sample - from.sample, to.line - from.line);
            const double ds = (to.sample - from.sample) / length, dl = (to.line - from.line) / length;
            Formation& picture = truths.formation(scene);
            const int dark = countAt(picture, to.sample - clear * ds, to.line - clear * dl, 1);
            const int light = countAt(picture, to.sample + clear * ds, to.line + clear * dl, 1);
            CHECK(1.6 * dark < light);
        }
        Truths truths(ridge, variant);
        const PicturePlace edge = truths.place("shadow_edge", "evening");
        Formation& picture = truths.formation("evening");
        CHECK(1.15 * countAt(picture, edge.sample, edge.line + clear, 1) < countAt(picture, edge.sample, edge.line - clear, 1));
    }
}

// What the fields are counted by, found in the counts alone: the first and the last bright sample of a field of grain.
TEST_CASE("the outermost field of grain is as many samples wide in the counts as the lesson says") {
    const Lesson lesson = lessonOf("squeezed-fields");
    for (int variant = 0; variant < lesson.variants.count(); variant += 7) {
        CAPTURE(variant);
        Truths truths(lesson, variant);
        for (const int instrument : {0, 1}) {
            const PicturePlace west = truths.place("grain_1620_west", "twin", instrument), east = truths.place("grain_1620_east", "twin", instrument);
            Formation& picture = truths.formation("twin", instrument);
            const double middle = 0.5 * (west.sample + east.sample);
            const int bright = countAt(picture, middle, west.line, 2);
            int wide = 0;
            for (int s = static_cast<int>(middle) - 40; s <= static_cast<int>(middle) + 40; ++s) {
                if (s >= 0 && s < picture.samples() && countAt(picture, s, west.line, 2) > 3 * bright / 4) ++wide;
            }
            CHECK(std::abs(wide - std::abs(east.sample - west.sample)) <= 1.0);
        }
    }
}

// A published case in which nothing of the lesson's own text is asked: the picture's geometry against the textbook's proportion.
TEST_CASE("published leans are found again in the pictures of leaning towers") {
    const Lesson lesson = lessonOf("leaning-towers");
    struct Case {
        int variant;
        double r_mm, d_mm, height_m;
    };
    // Surveying exercise (H 1000 m, r 10 cm, d 7.2 mm: 72 m); Wolf and Dewitt, ex. 6-6 (from memory: 535 m over ground of 259 m,
    // d 54.1 mm, r 121.7 mm: 123 m); exercise sheet (1340 m, 64.55 mm, 5.54 mm: 115 m); (2840 m, 8 cm, 130 m: 3.66 mm).
    for (const Case& one : {Case{25, 100.0, 7.2, 72.0}, Case{26, 121.7, 54.1, 123.0}, Case{27, 64.55, 5.54, 115.0}, Case{28, 80.0, 3.66, 130.0}}) {
        CAPTURE(one.variant);
        Truths truths(lesson, one.variant - 1);
        const auto value = [&](const char* name) { return truths.evaluate(Formula{Expression(name), {}}, "near").value; };
        const double pitch_mm = 1e3 * value("A.detector_pitch");
        const PicturePlace under = truths.place("under", "near"), foot = truths.place("foot", "near"), roof = truths.place("roof", "near");
        const double r = pitch_mm * std::hypot(roof.sample - under.sample, roof.line - under.line);
        const double d = pitch_mm * std::hypot(roof.sample - foot.sample, roof.line - foot.line);
        CHECK(r == Approx(one.r_mm).epsilon(0.001));
        CHECK(d == Approx(one.d_mm).epsilon(0.005));
        const double above = value("flight.height") - truths.point_m("under", "near").z;
        CHECK(d * above / r == Approx(one.height_m).margin(0.5));
    }
}
