#pragma once
// The answer files of a folder: which can be marked, and what is the matter with the others. Files come from students: none is
// trusted, and none stops the run.

#include <string>
#include <vector>

#include "lesson/answer.h"
#include "lesson/lesson.h"
#include "marking/roster.h"

namespace linefall {

constexpr std::size_t most_answer_files = 20000;       ///< of a folder; more are not read
constexpr std::size_t most_answer_total = 512u << 20;  ///< bytes of all files together
constexpr std::size_t most_student_bytes = 200;        ///< of a student's id

/// Something about a file or a student that the lecturer should know.
struct Notice {
    std::string file;     ///< within the folder; empty: of a student or of the whole
    std::string student;  ///< as far as known
    std::string what;     ///< one of a few words: "unreadable", "link", "duplicate", ...
    std::string why;      ///< a sentence
    bool marked = false;  ///< the student's answers count all the same
};

/// Answers that are to be marked.
struct HandedIn {
    std::string file;
    Answers answers;
    std::string key;      ///< keyOf(student)
    std::string id, name; ///< as the roster spells them; without a roster: as the file does
    int variant = 0;      ///< index from 0: the one whose truth counts
};

struct HandIns {
    std::vector<HandedIn> marked;  ///< in the order of the roster; then those not on it, by key
    std::vector<Notice> notices;
    int files = 0;                 ///< how many were met, read or not
};

struct HandInRules {
    bool any_version = false;           ///< answers to another version of the lesson are marked too
    std::vector<std::string> left_out;  ///< files and folders that are no answers: the roster, the folder written to
    int threads = 0;
};

/// Reads a folder and the folders in it, one level deep, in the order of their names. Links are never followed.
///
/// Of a student's several files: alike ones count once; one that goes on where another stopped (every attempt of the other is
/// in it, in the same order) stands for it. Files that contradict each other: none is marked, since nothing in a folder says
/// which was meant, least of all the time of a file.
///
/// Variant: the one that the id leads to (variantOf), also where the file claims another, so that answers to a neighbour's
/// variant are judged by the student's own truth. A variant that has been dropped since, and that the student had before that,
/// counts as given out. With `any_version` a file of another version is marked by the variant that it names, if that exists.
/// Throws InputError when the folder cannot be read at all.
[[nodiscard]] HandIns readHandIns(const std::string& folder, const Lesson& lesson, const Roster& roster, const HandInRules& rules);

/// True when `later` is `earlier` with more: all attempts of the earlier one stand in it first.
[[nodiscard]] bool goesOnFrom(const Answers& later, const Answers& earlier);
/// Variants (index from 0) that a student had or has: as more and more of the dropped ones were dropped; the last is the one of today.
[[nodiscard]] std::vector<int> variantsOf(const Lesson& lesson, const std::string& student);

}  // namespace linefall
