#include <filesystem>
#include <iostream>

#include "command/lesson.h"
#include "lesson/lesson.h"
#include "lesson/new_lesson.h"
#include "scene/out_folder.h"
#include "scene/whole_files.h"

namespace linefall {

namespace fs = std::filesystem;

int runLessonNew(const LessonOptions& options) {
    fs::path folder = fs::path(options.lesson).lexically_normal();
    if (!folder.has_filename()) folder = folder.parent_path();
    const std::string id = folder.filename().string();
    std::error_code error;
    if (!lessonId(id)) throw InputError(Problem{{"FOLDER", 0, 0}, "", "'" + options.lesson + "'", "a folder whose name is words of lower-case letters and digits with hyphens: shadow-to-height", ""});
    if (fs::exists(fs::symlink_status(folder, error))) throw InputError(Problem{{"FOLDER", 0, 0}, "", "'" + options.lesson + "', which exists", "a folder that does not exist yet", ""});
    const OutFolder made(folder.string());
    WholeFiles files;
    for (const NewFile& file : newLessonFiles(options.title.empty() ? "A lesson that is new" : options.title)) files.addText((folder / file.name).string(), file.text);
    files.commit();
    for (const char* name : {"lesson.md", "place.toml", "camera.toml", "flight.toml"}) std::cout << (folder / name).string() << "\n";
    std::cout << "It works as it is: linefall lesson check " << folder.string() << "\nThe guide for authors is a lesson: linefall lesson run writing-a-lesson\n";
    return 0;
}

}  // namespace linefall
