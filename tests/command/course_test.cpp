// The course as a student takes it who has only a terminal: the real program, lines in, lines out.
#include <catch2/catch.hpp>

#include <fmt/format.h>
#include <signal.h>

#include <chrono>
#include <thread>

#include "command/program.h"
#include "lesson/play.h"
#include "lesson/variant.h"
#include "support/figures.h"
#include "support/folders.h"

using namespace linefall;
namespace fs = std::filesystem;

namespace {

/// What a student types who answers everything right.
std::string typed(const Part& part, const RawAnswer& answer) {
    std::string line;
    if (!answer.points.empty()) {
        for (const PicturePlace& place : answer.points) line += fmt::format("{:.4f},{:.4f} ", place.sample - 0.5, place.line - 0.5);
    } else if (!answer.settings.empty()) {
        for (const auto& [key, value] : answer.settings) line += key + " = " + value + "; ";
    } else {
        line = answer.text;
    }
    return "ask " + part.id + "\n" + line + "\n";
}

std::string wholeScript(const Lesson& lesson, const std::string& student) {
    Truths truths(lesson, variantOf(lesson, student), 0);
    std::string script;
    for (const Step& step : lesson.steps) {
        for (const Part& part : step.parts) script += typed(part, rightAnswer(part, step, truths));
        script += "picture\nnext\n";
    }
    return script + "score\nquit\n";
}

std::string talk(const std::string& script, test::Arguments arguments) {
    arguments.insert(arguments.begin(), {"lesson", "run"});
    const test::Said said = test::run(arguments, {}, "", script);
    INFO(said.out << said.err);
    CHECK(said.code == 0);
    return said.out + said.err;
}

std::string answerFile(const std::string& name) {
    const std::string file = test::folder() + "/" + name + ".toml";
    fs::remove(file);
    return file;
}

void playThrough(const std::string& path, const std::string& student) {
    const Lesson lesson = readLesson(path);
    const std::string file = answerFile(lesson.id);
    const std::string said = talk(wholeScript(lesson, student), {path, "--student", student, "--answers", file});
    INFO(said);
    CHECK(said.find("Together " + figuresText(lesson.mostPoints(), 3) + " of") != std::string::npos);
    CHECK(said.find("rong!") == std::string::npos);
    const Answers answers = readAnswersFile(file);
    Truths truths(lesson, answers.variant - 1, 0);
    CHECK(score(answers, truths).points == Approx(lesson.mostPoints()));
}

}  // namespace

TEST_CASE("the whole course can be passed in a terminal, without seeing a picture") {
    const std::vector<Catalogued> all = listLessons(sourceFolder() + "/lessons");
    for (const Catalogued& lesson : all) {
        INFO(lesson.id);
        CHECK(lesson.problem.empty());
        if (lesson.problem.empty()) playThrough(sourceFolder() + "/lessons/" + lesson.id, "robin");
    }
    playThrough(testsFolder() + "/lesson/tower", "robin");
}

TEST_CASE("a run that is killed goes on where it was and has lost nothing") {
    const std::string lesson = testsFolder() + "/lesson/tower", file = answerFile("killed");
    int ends[2];
    REQUIRE(pipe(ends) == 0);
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        dup2(ends[0], 0);
        close(ends[1]);
        const int nowhere = open("/dev/null", O_WRONLY);
        dup2(nowhere, 1);
        execl(LINEFALL_PROGRAM, LINEFALL_PROGRAM, "lesson", "run", lesson.c_str(), "--student", "robin", "--answers", file.c_str(), static_cast<char*>(nullptr));
        _exit(127);
    }
    close(ends[0]);
    const std::string lines = "next\nb\nnext\n41.5 m\n";
    REQUIRE(write(ends[1], lines.data(), lines.size()) == static_cast<ssize_t>(lines.size()));
    const auto kept = [&] {
        try {
            const Answers answers = readAnswersFile(file);  // whole at any moment
            return answers.parts.count("length") != 0 && !answers.parts.at("length").attempts.empty();
        } catch (const InputError&) {
            return false;
        }
    };
    for (int i = 0; i < 1200 && !kept(); ++i) std::this_thread::sleep_for(std::chrono::milliseconds(50));
    kill(child, SIGKILL);
    int status = 0;
    waitpid(child, &status, 0);
    close(ends[1]);
    REQUIRE(WIFSIGNALED(status));
    REQUIRE(kept());

    const std::string said = talk("back\nback\nquit\n", {lesson, "--student", "robin", "--answers", file});
    CHECK(said.find("Going on where you were") != std::string::npos);
    CHECK(said.find("Step 3 of 5") != std::string::npos);
    CHECK(said.find("Step 2 of 5") != std::string::npos);
    const Answers answers = readAnswersFile(file);
    CHECK(answers.step == 0);
    CHECK(answers.opened == 2);
    CHECK(answers.parts.at("guess").attempts.front().text == "b");
    CHECK(answers.parts.at("length").attempts.front().text == "41.5 m");
}

TEST_CASE("a step tells its pictures in brief and once, and in whole when it is asked, turned as the page shows them") {
    // The guide: its second step is Read, its fourth shows one picture.
    const std::string guide = talk("next\nnext\nnext\npicture\npicture 2\nquit\n", {"writing-a-lesson", "--student", "robin", "--answers", answerFile("guide-picture")});
    INFO(guide);
    CHECK(test::occurrences(guide, "What can be made out") == 1);
    CHECK(guide.find("this step has figure 1") != std::string::npos);
    // Six chips, then the same turned by half a turn.
    std::string script;
    for (int i = 0; i < 12; ++i) script += "a\n";
    script += "picture 6\nnext\na\nbecause\nnext\npicture\npicture 2\nquit\n";
    const std::string chips = talk(script, {"ridge-or-ravine", "--student", "robin", "--answers", answerFile("chips-picture")});
    INFO(chips);
    CHECK(test::occurrences(chips, "It is shown turned by half a turn.") == 6 + 2);
    CHECK(test::occurrences(chips, "0,0 is the corner at the bottom right") == 2);
    CHECK(test::occurrences(chips, "0,0 is the corner at the top left") == 1);
    CHECK(test::occurrences(chips, "Its greys, in thirds") == 3);
}

TEST_CASE("the terminal says what it expects when a line cannot be taken") {
    const std::string said = talk(
        "nxet\nnext\nnext\nz\na\nnext\npixel 9999,3\npixel twelve\nlength 1,2\narea 100,100 9\nprofile 100,100 110,100\n1,234 m\n12 bananas\nsteps\ngo 5\nhint\nhint\nhint\nsure 70\nquit\n",
        {testsFolder() + "/lesson/tower", "--student", "robin", "--answers", answerFile("lines")});
    INFO(said);
    for (const char* words : {"did you mean 'next'?", "A guess is enough", "none of the letters a to c", "is outside the picture: samples 0 to 259", "is no pixel", "such as length 120,45 130,60", "mean ",
                              "counts of green", "may be 1234 or 1.234", "is no unit that is known here", "(not yet open)", "That step is not open yet", "There is no further hint", "Answer first"})
        CHECK(said.find(words) != std::string::npos);
}
