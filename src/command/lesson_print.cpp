#include <filesystem>
#include <iostream>

#include "command/lesson.h"
#include "lesson/variant.h"
#include "paper/paper.h"
#include "scene/out_folder.h"
#include "scene/whole_files.h"

namespace linefall {

int runLessonPrint(const LessonOptions& options) {
    const Lesson lesson = readLesson(resolveLesson(options.lesson));
    if (options.student.empty() && options.variant == 0) throw InputError(Problem{{"--student", 0, 0}, "", "nothing", "a student (--student S) or a variant (--variant N)", ""});
    if (options.variant > std::max(lesson.variants.count(), 1))
        throw InputError(Problem{{"--variant", 0, 0}, "", std::to_string(options.variant), "a variant of 1 to " + std::to_string(std::max(lesson.variants.count(), 1)), ""});
    const int variant = options.variant > 0 ? options.variant - 1 : variantOf(lesson, options.student);
    if (lesson.variants.dropped(variant)) std::cerr << "variant " << variant + 1 << " was dropped from the lesson: no student gets it\n";
    const OutFolder folder(options.out);
    Truths truths(lesson, variant, options.threads);
    const Papers papers = printLesson(truths, options.student, options.threads);
    if (!papers.missing_fonts.empty()) std::cerr << "these fonts are missing, the system's own stand in for them: " << papers.missing_fonts << '\n';
    const std::string stem = (std::filesystem::path(options.out) / (lesson.id + "-" + (options.student.empty() ? "variant-" + std::to_string(variant + 1) : fileWord(options.student)))).string();
    WholeFiles files;
    files.addText(stem + "-worksheet.html", papers.worksheet);
    files.addText(stem + "-key.html", papers.key);
    files.commit();
    std::cout << stem << "-worksheet.html\n" << stem << "-key.html\n";
    return 0;
}

}  // namespace linefall
