#pragma once
// What is true in one variant of a lesson: computed by the simulation when it is asked for, and kept.
//
// A name in an expression stands for, in this order:
//   pi
//   a given name of the variant                 tower
//   a name of [let]                             pixel_along
//   a measure                                   shadow
//   SCENE.name                                  low.sun.elevation : the same, in that scene
//   A.name, B.name                              of that instrument; without it A
//   a declared key                              sun.elevation, flight.height, A.instrument.focal_length
//   a fact of the instrument                    A.swath  : see factNames()
//   object.NAME.height east north base length width      NAME in lower case with _ for what is no letter or digit

#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "flight/formation.h"
#include "flight/picture_place.h"
#include "lesson/lesson.h"
#include "measure/calibration.h"
#include "measure/reading.h"

namespace linefall {

/// Words of `of` in a measure, with what each needs and gives. The list is the documentation.
struct MeasureWord {
    std::string word;
    std::size_t points = 0;   ///< how many
    std::string help;
    Kind kind = Kind::length; ///< of the result; number where it depends on the scale or is a pixel count
};
[[nodiscard]] const std::vector<MeasureWord>& measureWords();
/// Names of the facts, with help. Lengths in m, angles in rad.
struct FactName {
    std::string name, help;
    Kind kind = Kind::length;
};
[[nodiscard]] const std::vector<FactName>& factNames();

/// Values that stand for truth names instead of what the simulation says: a student's own earlier answers.
using Stand = std::map<std::string, Amount>;

/// Keep one for each variant; use from one thread.
class Truths {
public:
    Truths(const Lesson& lesson, int variant, int threads = 1);
    Truths(const Truths&) = delete;
    Truths& operator=(const Truths&) = delete;
    ~Truths();

    [[nodiscard]] const Lesson& lesson() const { return lesson_; }
    [[nodiscard]] int variant() const { return variant_; }

    /// The value of a formula in a scene (empty: the first). Throws InputError at the formula's place.
    [[nodiscard]] Amount evaluate(const Formula& formula, const std::string& scene = "", const Stand* stand = nullptr);
    [[nodiscard]] bool holds(const Formula& formula, const std::string& scene = "");
    /// As shown in {braces}: a given name as it is written; other names with three figures; "name|unit|figures" as asked.
    [[nodiscard]] std::string shown(const std::string& name, const std::string& scene = "");
    /// A lesson's text with its braces filled in.
    [[nodiscard]] std::string text(const std::string& text, const std::string& scene = "");
    [[nodiscard]] std::vector<Prose> text(const std::vector<Prose>& blocks, const std::string& scene = "");

    /// A scene of the lesson in this variant. Throws InputError.
    [[nodiscard]] const Scene& scene(const std::string& name = "");
    /// The formed picture of one of its instruments. Throws InputError.
    [[nodiscard]] Formation& formation(const std::string& scene = "", int instrument = 0);
    /// Where a named point is when the flight begins, and where the picture shows it: what moves, where the look of that very
    /// time meets it. Throws InputError where it is not in the picture.
    [[nodiscard]] Vec3 point_m(const std::string& name, const std::string& scene = "");
    [[nodiscard]] PicturePlace place(const std::string& point, const std::string& scene = "", int instrument = 0);

    /// What hides a named point from the instrument; empty: nothing.
    [[nodiscard]] std::string hiddenBy(const std::string& point, const std::string& scene = "", int instrument = 0);
    /// Where the picture shows a point that need not be the lesson's own; nothing where it does not.
    [[nodiscard]] std::optional<PicturePlace> seen(const LessonPoint& point, const std::string& scene = "", int instrument = 0);

    /// The same lesson and variant with more settings in one scene: a plan that is flown. Throws InputError.
    [[nodiscard]] std::unique_ptr<Truths> planned(const std::string& scene, const std::vector<std::pair<std::string, std::string>>& set) const;

private:
    struct Flown;
    [[nodiscard]] Flown& flown(const std::string& scene);
    [[nodiscard]] Amount named(const std::string& name, const std::string& scene, const Stand* stand);
    [[nodiscard]] Amount plain(const std::string& name, const std::string& scene, int instrument, const Stand* stand);
    [[nodiscard]] Vec3 world(const LessonPoint& point, const std::string& scene, double time_s = 0.0);
    struct Met {
        Vec3 at_m;
        PicturePlace place;
    };
    [[nodiscard]] std::optional<Met> met(const LessonPoint& point, const std::string& scene, int instrument);
    [[nodiscard]] Formation& looks(const std::string& scene, int instrument);  ///< its lines need not be formed
    [[nodiscard]] std::optional<Amount> given(const std::string& name) const;
    [[nodiscard]] Amount measured(const LessonMeasure& measure, const std::string& scene);

    const Lesson& lesson_;
    int variant_, threads_;
    std::map<std::string, std::vector<std::pair<std::string, std::string>>> more_;  ///< a plan's own settings, by scene
    std::map<std::string, std::unique_ptr<Flown>> flown_;
    std::map<std::string, Amount> kept_;
    std::set<std::string> asking_;  ///< names that are being worked out: a name may not lead to itself
};

/// A declared parameter of a scene by key ("sun.elevation", "A.instrument.bits"), or null; `instrument` is set by the letter.
[[nodiscard]] const Parameter* findLessonKey(const Scene& scene, const std::string& key, int& instrument);

/// True for measures of counts in a square of pixels, or in a single one.
[[nodiscard]] bool readsAreas(const LessonMeasure& measure);
/// In what such a measure reads.
[[nodiscard]] Scale scaleOf(const LessonMeasure& measure);

}  // namespace linefall
