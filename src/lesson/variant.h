#pragma once
// Which variant a student gets: the same at home, in the lab and when the answers are marked.

#include <cstdint>
#include <map>
#include <string>

#include "lesson/lesson.h"

namespace linefall {

/// h mod K, h the 64-bit FNV-1a hash of "id \n salt \n student \n round" after SplitMix64's finaliser, K the number of
/// variants. A dropped variant sends its own students on to the next round (1, 2, ...); all others keep theirs.
/// Index from 0. A student's name is taken without blanks at its ends and in lower case (ASCII).
/// Sources: Fowler, Noll and Vo's hash, and Steele, Lea and Flood 2014 for the finaliser; both from memory, and only their
/// being fixed matters here (a test holds values of record).
[[nodiscard]] int variantOf(const Lesson& lesson, const std::string& student);

/// The text of a given name in a variant, or null.
[[nodiscard]] const std::string* givenText(const Lesson& lesson, int variant, const std::string& name);

/// All given names of a variant with their texts, as scene/givens.h puts them into files.
[[nodiscard]] std::map<std::string, std::string> givensOf(const Lesson& lesson, int variant);

/// 64-bit FNV-1a of a text.
[[nodiscard]] std::uint64_t hashOf(const std::string& text, std::uint64_t from = 0xcbf29ce484222325u);

}  // namespace linefall
