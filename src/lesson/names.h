#pragma once
// Inside the lesson module: the names that expressions may use.

#include <string>
#include <vector>

#include "base/parameter.h"
#include "lesson/lesson.h"

namespace linefall {

/// A name cut at its prefixes: "low.B.swath" is scene "low", instrument 1, rest "swath".
struct CutName {
    std::string scene;  ///< empty: none was named
    int instrument = -1;  ///< -1: none was named
    std::string rest;
};
[[nodiscard]] CutName cutName(const Lesson& lesson, const std::string& name);
/// True when the name can stand for something in this lesson. Things of the place are taken on trust.
[[nodiscard]] bool knownName(const Lesson& lesson, const std::string& name);
/// All names without prefixes, for "did you mean".
[[nodiscard]] std::vector<std::string> allNames(const Lesson& lesson);
/// A declared key of a scene or of any kind of instrument (with or without A.), or null.
[[nodiscard]] const Parameter* findDeclaredKey(const std::string& key);
/// The name of a thing as expressions write it: lower case, _ for what is no letter or digit.
[[nodiscard]] std::string objectWord(const std::string& name);
/// Properties of a thing: "height", "east" ...
[[nodiscard]] const std::vector<std::string>& objectProperties();

}  // namespace linefall
