#pragma once
// A lesson as plain data: what its folder says, read and checked. A terminal, a sheet of paper and a window are three faces of
// it; none of them is here.
//
// A lesson is a folder with one CommonMark file, lesson.md: TOML between two lines "+++" at the top, then text. A heading of
// level 2 begins a step; fenced blocks whose info string is "toml" and a second word hold what the program needs:
//   step choice number point line match because plan figure | variants test
// How each is written: DEVELOPERS.md and the guide, lessons/writing-a-lesson.

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/problem.h"
#include "lesson/expression.h"
#include "lesson/prose.h"

namespace linefall {

/// An expression and where it stands, for messages.
struct Formula {
    Expression expression;
    Place place;
    [[nodiscard]] bool given() const { return !expression.empty(); }
};

/// One of the scenes that a lesson flies. Texts may hold {given} names.
struct LessonScene {
    std::string name;
    Place place;
    std::string ground = "place.toml";     ///< of the lesson's own folder, or the name of a place that comes with the program
    std::string flight;                    ///< the same for a flight; empty: the straight one
    std::vector<std::string> instruments;  ///< the same for instruments; A, B, ...
    std::vector<std::pair<std::string, std::string>> set;  ///< declared key ("A.instrument.bits"), value as text
    Place set_place;                       ///< of the table of its settings
};

/// A named point of the world: a part of a thing, or a place on the ground.
struct LessonPoint {
    std::string name;
    Place place;
    enum class Part { foot, top, shadow_foot, shadow_tip, ground } part = Part::ground;
    std::string object;       ///< of all parts but ground: the name of the thing
    Formula east, north;      ///< ground, or an offset from the thing's centre
    Formula height;           ///< above the ground; empty: on it
    std::string words;        ///< what it is called where a picture is told in words; empty: its name
};

/// A number that is read in the formed picture, by the measuring of the program.
struct LessonMeasure {
    std::string name;
    Place place;
    std::string of;           ///< a word of measureWords()
    std::string scene;        ///< empty: the first
    int instrument = 0;
    std::vector<std::string> points;  ///< names
    int band = 0;
    std::string band_name;    ///< empty: the first
    std::string scale;        ///< "counts", "radiance", "reflectance"
    Formula size;             ///< of an area about its point: pixels to a side
    std::string symbol;       ///< of a trace
};

/// A wrong answer that has a name, the share of the points that it earns, and what is said about it.
struct NamedWrong {
    std::string name;         ///< "zenith for elevation"
    Place place;
    Formula value;            ///< number: the value that the mistake leads to
    std::string option;       ///< choice: the letter
    std::vector<std::string> points;  ///< point, line: where the mistake leads to
    Formula when;             ///< plan: the mistake that was made
    std::vector<std::pair<std::string, std::string>> settings;  ///< plan: settings that make it, so that it can be tried
    double share = 0.0;       ///< -1 .. 1
    std::string say;
};

struct ChoiceOption {
    std::string text, say;
    Formula when;             ///< it is right when this holds
    std::string name;         ///< of the mistake, when it is one
    double share = 0.0;       ///< when it is not right
};

/// A setting of a match or plan.
struct WantedSetting {
    std::string key;          ///< a declared key
    Formula within, reach;    ///< match: full score within, none beyond reach; amounts of the key's kind
    bool round = false;       ///< match: an azimuth, 359 deg is near 1 deg
};

struct Constraint {
    Formula holds;            ///< over truths of the flown plan
    double share = 0.0;       ///< of the points; all shares together make 1
    std::string say;          ///< when it does not hold
    Place place;
};

/// One question.
struct Part {
    enum class Kind { choice, number, point, line, match, because, plan } kind = Kind::number;
    std::string id;
    Place place;
    std::string scene;        ///< empty: the step's
    int instrument = 0;       ///< point, line: in whose picture
    std::string ask;
    double points = 1.0;
    std::vector<std::string> hints;
    std::string right;        ///< said when it is right
    std::string otherwise;    ///< said when it is neither right nor a named mistake
    std::string explain;      ///< said after every answer
    double negative = 0.0;    ///< share that an answer with no rule costs, 0 .. 1

    std::vector<ChoiceOption> options;              // choice
    Formula truth;                                  // number
    Formula formula;                                // number: the closed formula that the truth is checked with
    std::string unit;                               // number: as shown
    Formula tolerance;                              // number: in the unit's dimension; point, line: pixels
    std::string tolerance_says;                     // "two pixels along the shadow"
    double unit_share = 0.5;                        // number: right value, wrong unit
    std::vector<std::pair<std::string, std::string>> follow;  // number: truth name, id of the earlier part whose answer stands for it
    double follow_share = 1.0;
    std::vector<std::string> truth_points;          // point: 1, line: 2; names
    std::vector<WantedSetting> settings;            // match, plan
    std::vector<Constraint> constraints;            // plan
    std::vector<std::pair<std::string, std::string>> solution;  // plan: settings that meet all constraints; flown and judged too
    std::vector<NamedWrong> wrong;
};
[[nodiscard]] const char* nameOf(Part::Kind kind);

/// A picture made by the simulation.
struct LessonFigure {
    std::string kind = "picture";  ///< a kind of figure.* : picture, flight, path, profile, histogram
    std::string scene;
    int instrument = 0;
    std::string caption;
    std::vector<std::pair<std::string, std::string>> set;
    Place place;
};

/// What a step is for. Its heading says so: "Predict: where does the shadow end?"
enum class StepKind { read, attempt, predict, observe, measure, explain };
[[nodiscard]] const char* nameOf(StepKind kind);
[[nodiscard]] const std::vector<std::string>& stepWords();  ///< "Read", "Try first", "Predict", ... in the order of StepKind

/// One thing of a step, in the order of the file.
struct StepItem {
    enum class What { prose, part, figure } what = What::prose;
    std::vector<Prose> prose;
    std::size_t index = 0;  ///< of Step::parts or Step::figures
};

struct Step {
    StepKind kind = StepKind::read;
    std::string title;      ///< without the word of its kind
    std::string scene;      ///< empty: the first
    std::vector<std::string> unlock;  ///< declared keys that may be changed here
    std::vector<StepItem> items;
    std::vector<Part> parts;
    std::vector<LessonFigure> figures;
    Place place;
};

/// The reviewed set: for each variant the texts of the given names.
struct VariantTable {
    std::string salt;
    std::vector<std::string> given;
    std::vector<std::vector<std::string>> rows;  ///< texts, one a given name
    std::vector<int> drop;                       ///< numbers from 1
    Place place;
    std::vector<Place> row_places;
    [[nodiscard]] int count() const { return static_cast<int>(rows.size()); }
    [[nodiscard]] bool dropped(int index) const;
};

/// An answer that the author says must be judged in a stated way, in one variant or in all.
struct LessonTest {
    std::string name;
    Place place;
    int variant = 0;        ///< from 1; 0: every one
    std::string source;     ///< of a published example
    struct Expected {
        std::string part;
        std::string answer;     ///< raw text; "right"; "wrong NAME"; "nonsense"
        std::string rule;       ///< empty: not judged
        std::optional<double> share;
    };
    std::vector<Expected> expected;
};

struct Lesson {
    std::string id;      ///< the folder's name
    std::string folder;  ///< absolute
    std::string file;    ///< folder/lesson.md
    int number = 0;      ///< in the course
    int version = 1;
    std::string title, outcome, level, topic;
    int minutes = 0;
    std::vector<std::string> builds_on;
    bool feedback = true;      ///< at once; false: after marking
    bool marks_first = false;  ///< the first answer to a part counts; else the last
    std::vector<LessonScene> scenes;
    std::vector<LessonPoint> points;
    std::vector<std::pair<std::string, Formula>> names;  ///< [let]
    std::vector<LessonMeasure> measures;
    std::vector<Step> steps;
    VariantTable variants;
    std::vector<LessonTest> tests;
    std::string fingerprint;   ///< of everything in the folder that marks depend on, 16 hexadecimal digits

    [[nodiscard]] const LessonScene* findScene(const std::string& name) const;  ///< empty: the first
    [[nodiscard]] const Part* findPart(const std::string& id) const;
    [[nodiscard]] std::vector<const Part*> parts() const;  ///< in the order of the file
    [[nodiscard]] double mostPoints() const;
};

/// Reads a lesson's folder: everything that can be known without flying it. Throws InputError with all problems: file, line,
/// column, what was read, what was expected. Nothing outside the folder is read but scenes that come with the program.
[[nodiscard]] Lesson readLesson(const std::string& folder);
/// The same for a text that is said to stand in `folder`/lesson.md; files beside it are not looked at (for fuzzing).
[[nodiscard]] Lesson readLessonText(const std::string& text, const std::string& folder);

/// The folder with the lessons that come with the program.
[[nodiscard]] std::string lessonsFolder();
/// A lesson's folder by id (lessons/ID) or by path. Throws InputError with the nearest id.
[[nodiscard]] std::string resolveLesson(const std::string& id_or_path);

struct Catalogued {
    std::string id, title, outcome, level, topic;
    int number = 0, minutes = 0;
    std::vector<std::string> builds_on;
    std::string problem;  ///< why it cannot be read; empty: it is sound
};
/// All lessons of a folder in the order of the course.
[[nodiscard]] std::vector<Catalogued> listLessons(const std::string& folder);

}  // namespace linefall
