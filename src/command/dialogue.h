#pragma once
// A lesson as a dialogue of lines: for a terminal, for a screen reader, for a script. It asks the runner everything and
// decides nothing.

#include <functional>
#include <string>
#include <vector>

#include "lesson/runner.h"

namespace linefall {

class Dialogue {
public:
    using Print = std::function<void(const std::string&)>;
    Dialogue(Runner& runner, Print print) : runner_(runner), print_(std::move(print)) {}

    /// Words as lines of the terminal's width, each of them ended.
    [[nodiscard]] static std::string wrapped(const std::string& words);

    /// What is said before the first line is read.
    void begin();
    /// Takes one line. False when the student leaves.
    bool take(const std::string& line);
    /// The prompt: which question a line would answer.
    [[nodiscard]] std::string prompt() const;

private:
    using Words = std::vector<std::string>;
    void tellStep();
    void tellPart(const Part& part);
    void tellOpen();
    void help();
    void steps();
    void next();
    void score();
    void answer(const Part& part, const std::string& text);
    void picture(const Words& words);
    void tellFigure(std::size_t index);
    /// The whole of a picture; as that figure shows it, or as the step's figure of it does.
    void tellPicture(const LessonFigure* figure, const std::string& scene, int instrument);
    void hint();
    void ask(const Words& words);
    void measure(const std::string& what, const Words& words);
    [[nodiscard]] const Part* current() const;
    [[nodiscard]] std::string sceneNow() const;
    [[nodiscard]] std::string text(const std::string& words) const;
    /// The instrument that a trailing letter names, removed from the words; 0 where none does.
    [[nodiscard]] int instrumentOf(Words& words) const;

    Runner& runner_;
    Print print_;
    std::string chosen_;                 ///< the question that "ask ID" chose; empty: the first open one
    std::string evidence_;               ///< measurements since the last answer
};

}  // namespace linefall
