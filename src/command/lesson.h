#pragma once
// The commands of `linefall lesson`, and the marking of what was handed in.

#include <string>

namespace linefall {

struct LessonOptions {
    std::string lesson;     ///< id or path
    std::string student;
    std::string answers;    ///< run: path of the answer file; empty: answers/ID-STUDENT.toml
    std::string out;
    std::string title;      ///< new: of the lesson
    std::string sheet, scene;  ///< variants: file of the contact sheet, and of which scene
    int variant = 0;        ///< from 1; 0: every one, or the student's own
    int threads = 0;
    bool no_gate = false;   ///< run: a lecture goes on without an answer
    bool json = false;
};

/// `linefall mark`.
struct MarkOptions {
    std::string folder, lesson, roster, columns, out, previous;
    int threads = 0;
    bool any_version = false;  ///< answers to other versions of the lesson are marked too
    bool json = false;
};

int runMark(const MarkOptions& options);
int runLessonExport(const LessonOptions& options);
int runLessonList(const LessonOptions& options);
int runLessonRun(const LessonOptions& options);
int runLessonCheck(const LessonOptions& options);
int runLessonTry(const LessonOptions& options);
int runLessonVariants(const LessonOptions& options);
int runLessonNew(const LessonOptions& options);
int runLessonPrint(const LessonOptions& options);

/// A student's name as part of a file's name.
[[nodiscard]] std::string fileWord(const std::string& name);

}  // namespace linefall
