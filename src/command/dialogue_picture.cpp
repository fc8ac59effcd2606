// Pictures of a lesson told in words: as a step shows them, and when they are asked for.

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <sstream>

#include "command/dialogue.h"
#include "lesson/describe.h"
#include "paper/pictures.h"

namespace linefall {

namespace {

/// What a figure shows: two that agree in all of it are one picture.
struct Shown {
    std::string scene;
    int instrument = 0;
    bool picture = true;            ///< false: a plot or drawing of the program
    bool plain = false;
    std::optional<bool> turned;
    friend bool operator==(const Shown&, const Shown&) = default;
};

Shown shownBy(const LessonFigure& figure, const Step& step, const Lesson& lesson) {
    const LessonScene* scene = lesson.findScene(figure.scene.empty() ? step.scene : figure.scene);
    Shown shown{scene == nullptr ? "" : scene->name, figure.instrument, figure.kind == "picture", false, shownTurned(figure)};
    shown.plain = shownPlain(lesson, step, shown.scene, figure.instrument);
    return shown;
}

}  // namespace

void Dialogue::tellFigure(std::size_t index) {
    const Step& step = runner_.step();
    const LessonFigure& figure = step.figures[index];
    const Shown shown = shownBy(figure, step, runner_.lesson());
    const std::string number = step.figures.size() > 1 ? fmt::format("Figure {}", index + 1) : "Figure";
    const std::string caption = runner_.truths().text(figure.caption, shown.scene);
    print_(wrapped(number + (caption.empty() ? "." : ": " + caption)));
    for (std::size_t i = 0; i < index && shown.picture; ++i) {
        if (shownBy(step.figures[i], step, runner_.lesson()) == shown) return print_(fmt::format("It is the picture of figure {}.\n", i + 1));
    }
    print_(wrapped(shown.picture ? pictureInBrief(runner_.truths(), shown.scene, shown.instrument, shown.plain, shown.turned)
                                 : madeFigure(runner_.truths(), figure, step, Type(), 0).drawing.description));
}

void Dialogue::tellPicture(const LessonFigure* figure, const std::string& scene, int instrument) {
    const Step& step = runner_.step();
    if (figure == nullptr) {  // the figure that shows it says how it lies
        for (const LessonFigure& one : step.figures) {
            const Shown shown = shownBy(one, step, runner_.lesson());
            if (figure == nullptr && shown.picture && shown.scene == runner_.lesson().findScene(scene)->name && shown.instrument == instrument) figure = &one;
        }
    }
    std::istringstream lines(pictureInWords(runner_.truths(), scene, instrument, shownPlain(runner_.lesson(), step, scene, instrument), figure != nullptr ? shownTurned(*figure) : std::nullopt));
    for (std::string line; std::getline(lines, line);) print_(line.rfind("  ", 0) == 0 ? line + "\n" : wrapped(line));
}

void Dialogue::picture(const Words& asked) {
    const Step& step = runner_.step();
    Words words = asked;
    const int instrument = instrumentOf(words);
    if (words.size() == 1) return tellPicture(nullptr, sceneNow(), instrument);
    const std::size_t count = step.figures.size(), number = static_cast<std::size_t>(std::max(std::atoi(words[1].c_str()), 0));
    if (words.size() > 2 || number < 1 || number > count) {
        const std::string has = count == 0 ? "this step has no figure" : count == 1 ? "this step has figure 1" : fmt::format("this step has figures 1 to {}", count);
        return print_("picture, picture B (of instrument B), or picture 2 (of figure 2): " + has + "\n");
    }
    const LessonFigure& figure = step.figures[number - 1];
    const Shown shown = shownBy(figure, step, runner_.lesson());
    if (shown.picture) return tellPicture(&figure, shown.scene, shown.instrument);
    tellFigure(number - 1);
}

}  // namespace linefall
