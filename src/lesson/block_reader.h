#pragma once
// Inside the lesson module: reading the TOML of a lesson's blocks.

#include "lesson/lesson.h"
#include "scene/toml_reader.h"

namespace linefall {

constexpr std::size_t most_steps = 60, most_parts = 120, most_scenes = 20, most_names = 200, most_variants = 200, most_options = 12;

/// An expression at a key: text or a bare number. Problems get the column of the fault.
Formula readFormula(TableReader& r, const std::string& key, bool required = false);
/// A list of texts; a single text is a list of one.
std::vector<std::string> readTexts(TableReader& r, const std::string& key, bool required = false, std::size_t most = 40);
/// A table of texts (numbers and flags are taken as they are written), in the order of the keys.
std::vector<std::pair<std::string, std::string>> readTextTable(TableReader& r, const std::string& key);
/// A share from `least` to 1.
double readShare(TableReader& r, const std::string& key, double fallback, double least = -1.0);
/// "A" .. "Z" as 0 .. 25.
int readInstrumentLetter(TableReader& r);
/// A word without blanks that names something: letters, digits, _ and - ; a letter first.
std::string readIdentifier(TableReader& r, const std::string& key);

/// Front matter: everything but steps, variants and tests.
void readFront(const toml::table& table, Lesson& lesson, Problems& problems);
/// A block that asks a question.
[[nodiscard]] Part readPart(Part::Kind kind, const toml::table& table, const std::string& file, Problems& problems);
[[nodiscard]] LessonFigure readLessonFigure(const toml::table& table, const std::string& file, Problems& problems);
void readStepBlock(const toml::table& table, Step& step, const std::string& file, Problems& problems);
void readVariants(const toml::table& table, VariantTable& variants, const std::string& file, Problems& problems);
[[nodiscard]] LessonTest readTest(const toml::table& table, const std::string& file, Problems& problems);

/// What can be known of the whole only when all of it is read: names that are used and not there, ids that are used twice.
void checkReferences(const Lesson& lesson, Problems& problems);
/// Files that the lesson names lie in its own folder, or come with the program.
void checkFiles(const Lesson& lesson, Problems& problems);
/// Path of a scene file that a lesson names: in its own folder, or a name that comes with the program, as it is.
[[nodiscard]] std::string lessonFile(const Lesson& lesson, const std::string& name);

}  // namespace linefall
