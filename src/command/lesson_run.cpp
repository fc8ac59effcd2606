#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>
#include <iostream>

#include "command/command.h"
#include "command/dialogue.h"
#include "command/lesson.h"
#include "scene/whole_files.h"

namespace linefall {

namespace fs = std::filesystem;

std::string fileWord(const std::string& name) {
    std::string word;
    for (const char c : name.substr(0, 60)) {
        const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_';
        word += plain ? c : '_';
    }
    return word.empty() ? "student" : word;
}

namespace {

std::string studentName(const LessonOptions& options) {
    if (!options.student.empty()) return options.student;
    std::cout << "Your name or number, as your lecturer knows it: " << std::flush;
    std::string name;
    if (!std::getline(std::cin, name) || name.empty()) throw InputError(Problem{{"--student", 0, 0}, "", "nothing", "a name or number: --student S", ""});
    return name;
}

void save(const std::string& path, const Answers& answers) {
    const fs::path folder = fs::path(path).parent_path();
    std::error_code error;
    if (!folder.empty()) fs::create_directories(folder, error);
    WholeFiles files;
    files.addText(path, answersText(answers));
    files.commit();
}

}  // namespace

int runLessonRun(const LessonOptions& options) {
    Lesson lesson = readLesson(resolveLesson(options.lesson));
    const std::string student = studentName(options);
    const std::string path = options.answers.empty() ? "answers/" + lesson.id + "-" + fileWord(student) + ".toml" : options.answers;
    std::error_code error;
    std::optional<Answers> earlier;
    if (fs::exists(path, error)) earlier = readAnswersFile(path);
    Runner runner(std::move(lesson), student, earlier ? &*earlier : nullptr, [&](const Answers& answers) { save(path, answers); }, !options.no_gate, options.threads);
    Dialogue dialogue(runner, [](const std::string& text) { std::cout << text; });
    if (earlier) std::cout << "Going on where you were: " << path << "\n";
    else save(path, runner.answers());
    dialogue.begin();
    const bool typed = isatty(STDIN_FILENO) != 0;
    std::string line;
    for (;;) {
        std::cout << dialogue.prompt() << std::flush;
        if (!std::getline(std::cin, line)) break;
        if (!typed) std::cout << line << "\n";  // a script's lines stand in its record
        if (!dialogue.take(line)) break;
    }
    std::cout << "\nYour answers: " << path << "\n";
    return 0;
}

}  // namespace linefall
