#pragma once
// What a student gave, as it was given. Marks are never read from it: they are worked out anew each time.

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "flight/picture_place.h"
#include "lesson/dimension.h"
#include "lesson/lesson.h"

namespace linefall {

/// One answer to one part.
struct RawAnswer {
    std::string text;                            ///< choice: a letter; number: "52 m"; because: words
    std::vector<PicturePlace> points;            ///< point: 1, line: 2
    std::map<std::string, std::string> settings; ///< match, plan: key, value as text
    std::string evidence;                        ///< what was measured for it: "length 120,45 131,60", one a line
    friend bool operator==(const RawAnswer&, const RawAnswer&) = default;
};

struct PartAnswers {
    std::vector<RawAnswer> attempts;  ///< the oldest first
    int hints = 0;                    ///< how many were read
    int confidence = -1;              ///< per cent, where it was asked; -1: not given
};

/// The answers of one student to one lesson: the answer file.
struct Answers {
    std::string lesson;        ///< id
    int version = 0;           ///< of the lesson
    std::string fingerprint;   ///< of the lesson
    std::string program;       ///< version of Linefall
    std::string student;
    int variant = 0;           ///< from 1: as it was given out
    std::string salt;          ///< the seed of the choice
    int step = 0;              ///< where the student is
    int opened = 0;            ///< the furthest step that was opened
    std::map<std::string, PartAnswers> parts;

    /// The attempt that counts, or null.
    [[nodiscard]] const RawAnswer* counted(const Lesson& lesson, const std::string& part) const;
};

/// A number as a student writes it: "52 m", "0,052 km", "171 ft", "1.2e3", "−3 °".
struct ReadNumber {
    double number = 0.0;            ///< as written
    const UnitOfText* unit = nullptr;  ///< null: none was written
    std::string problem;            ///< why it is no number, "" when it is one: said to the student
    [[nodiscard]] bool ok() const { return problem.empty(); }
    /// In the core unit; as the unit `otherwise` where none was written.
    [[nodiscard]] Amount amount(const UnitOfText& otherwise) const;
};
/// A comma is a decimal sign where only that can be meant: "0,052", "12,5"; "1,234" may be either and is a problem.
[[nodiscard]] ReadNumber readNumber(const std::string& text);

constexpr std::size_t most_answer_bytes = 256 * 1024;   ///< of an answer file
constexpr std::size_t most_text_bytes = 20000;          ///< of one answer
constexpr std::size_t most_attempts = 200;              ///< of one part

/// The answer file's text, TOML; `readAnswers` gives the same answers back.
[[nodiscard]] std::string answersText(const Answers& answers);
/// Throws InputError: not text, not TOML, wrong types, more than the limits. `file` is its name in messages.
[[nodiscard]] Answers readAnswers(const std::string& text, const std::string& file);
/// The same from a file, which is read only up to the limit. Throws InputError.
[[nodiscard]] Answers readAnswersFile(const std::string& path);

}  // namespace linefall
