// The only file that knows the option parser.

#include <CLI/CLI.hpp>
#include <csignal>
#include <filesystem>
#include <initializer_list>
#include <iostream>
#include <utility>

#include "base/problem.h"
#include "command/command.h"
#include "command/lesson.h"

namespace linefall {

namespace {

Cancel interrupt_flag{false};

void onInterrupt(int signal) {
    interrupt_flag.store(true, std::memory_order_relaxed);
    std::signal(signal, SIG_DFL);
}

template <class Options>
int interruptibly(int (*run)(const Options&), const Options& options) {
    std::signal(SIGINT, onInterrupt);
    std::signal(SIGTERM, onInterrupt);
    return run(options);
}

/// A name or path that is given must not be empty: nothing is a mistake of the caller, a variable unset perhaps.
std::string notEmpty(const std::string& text) {
    return text.empty() ? "a name or path is expected" : "";
}

/// A word that is no command may be a state file; else it is a mistake of the caller, who is told what would have done.
std::string stateFile(const CLI::App& app, const std::string& text) {
    std::error_code error;
    if (std::filesystem::exists(text, error)) return "";
    std::vector<std::string> names;
    for (const CLI::App* command : app.get_subcommands({})) names.push_back(command->get_name());
    std::string expected;
    for (const std::string& name : names) expected += (expected.empty() ? "" : ", ") + name;
    return Problem{{"", 0, 0}, "no such command or file", "'" + text + "'", "a command (" + expected + ") or the path of a state file (.toml)", nearestName(text, names)}.text();
}

constexpr const char* caution =
    "Linefall is a teaching model: not for survey, navigation, engineering or safety decisions.\n"
    "Never look at the sun through an optic. Flying anything follows local aviation law.";

void addThreads(CLI::App& app, int& threads) {
    app.add_option("--threads", threads, "processors to use, 1 to 1024; 0, or not named: all")->option_text("NUMBER")->check(CLI::Range(0, 1024));
}

void addJson(CLI::App& app, bool& json, const char* help = "print JSON, for programs") { app.add_flag("--json", json, help); }

void addOut(CLI::App& app, std::string& out) { app.add_option("--out", out, "folder to write to; it is made when it is missing")->required()->type_name("FOLDER"); }

void addScene(CLI::App& app, SceneRequest& scene, bool place) {
    if (place)
        app.add_option("--place", scene.place, "place: a name (linefall list) or the path of a TOML file")->type_name("NAME")->check(notEmpty);
    app.add_option("--instrument", scene.instruments, "instrument: a name or path; given again, it flies beside the first")
        ->allow_extra_args(false)
        ->type_name("NAME")
        ->check(notEmpty);
    app.add_option("--flight", scene.flight, "flight: a name or path")->type_name("NAME")->check(notEmpty);
    app.add_option("--set", scene.sets,
                   "a setting (linefall keys), such as --set flight.height=\"5 km\"; A.instrument.bits=8 for the first instrument")
        ->allow_extra_args(false)
        ->type_name("KEY=VALUE");
    app.add_option("--seed", scene.noise_seed, "seed of the noise alone, a whole number")->type_name("NUMBER")->check(notEmpty);
    addThreads(app, scene.threads);
}

}  // namespace

const Cancel& interrupted() {
    return interrupt_flag;
}

int runCommandLine(int argc, char** argv, int (*open_window)(const WindowRequest&)) {
    CLI::App app{"Linefall: how remote-sensing images are formed, line by line.\nWithout a command its window opens. linefall COMMAND --help tells more of a command.", "linefall"};
    app.footer(caution);
    app.set_help_flag("-h,--help", "show this help and leave");
    app.set_version_flag("--version", std::string("linefall ") + LINEFALL_VERSION, "show the version and leave");
    for (const auto& [label, word] : std::initializer_list<std::pair<const char*, const char*>>{{"Positionals", "What it takes"}, {"SUBCOMMAND", "COMMAND"}, {"REQUIRED", "(needed)"}, {"INT", "NUMBER"}}) app.get_formatter()->label(label, word);
    app.require_subcommand(0, 1);

    WindowRequest window;
    addScene(app, window.scene, true);
    app.add_option("STATE,--state", window.scene.state, "a state file to open")->option_text("FILE")->check([&app](const std::string& text) { return stateFile(app, text); });
    app.add_option("--report", window.report, "write down what the window does, as lines of JSON")->option_text("FILE");
    app.add_flag("--restore", window.restore, "go on with the last state of a session that was cut off");
    app.add_option("--drop", window.drop, "as if this file were dropped on the window (for tests)")->group("");
    app.add_option("--out", window.out, "folder for saved states and figures")->type_name("FOLDER")->check(notEmpty);
    app.add_flag("--lecture", window.lecture, "large words, for a lecture hall");
    app.add_option("--theme", window.theme, "colours of the window: day or night")->option_text("WORD")->check(CLI::IsMember({"day", "night"}));
    app.add_option("--text", window.text_percent, "size of the words, 80 to 200 percent of their standard size")->check(CLI::Range(80, 200))->option_text("PERCENT");
    app.add_flag("--reduced-motion", window.reduced_motion, "nothing glides: views change at once");
    app.add_option("--rebuild-gl-every", window.rebuild_gl_every, "frames after which all OpenGL objects are made again (for tests)")->group("");
    app.add_option("--width", window.width, "width of the window, at most 16384 pixels")->check(CLI::Range(0, 16384))->option_text("PIXELS");
    app.add_option("--height", window.height, "height of the window, at most 16384 pixels")->check(CLI::Range(0, 16384))->option_text("PIXELS");

    FormOptions form;
    CLI::App* form_app = app.add_subcommand("form", "form images and write them to a folder");
    form_app->add_option("STATE", form.scene.state, "a state file to form again")->type_name("FILE")->check(notEmpty);
    addScene(*form_app, form.scene, true);
    addOut(*form_app, form.out);
    form_app->add_option("--show", form.show,
                         "what the display picture shows: \"true colour\", \"false colour\" or a band's name")
        ->type_name("BANDS");
    form_app->add_option("--stretch", form.stretch, "which counts are black and white: percent (the darkest and the lightest 1 %), none, or LOW..HIGH in counts")->type_name("WORD");
    addJson(*form_app, form.json, "print what was written as JSON, for programs");

    FigureOptions figure;
    CLI::App* figure_app = app.add_subcommand("figure", "make figures for a page: PNG, SVG, data, caption, alt text and state");
    figure_app->add_option("STATE", figure.scene.state, "a state file; its [figure] says what is made where no option does")->type_name("FILE")->check(notEmpty);
    addScene(*figure_app, figure.scene, true);
    figure_app->add_option("--out", figure.out, "folder to write to, \"figures\" if not named; it is made when it is missing")->type_name("FOLDER");
    figure_app->add_option("--what", figure.what, "picture, flight, path (of light), profile, histogram; several by commas; not named: all")
        ->allow_extra_args(false)
        ->type_name("KINDS");
    figure_app->add_option("--pixel", figure.pixel, "pixel whose light is followed, A:LINE,SAMPLE (A: the first instrument); not named: one in its middle line")->type_name("PIXEL")->check(notEmpty);
    figure_app->add_option("--from", figure.from, "where the profile begins, A:LINE,SAMPLE")->type_name("PIXEL")->check(notEmpty);
    figure_app->add_option("--to", figure.to, "where the profile ends, A:LINE,SAMPLE")->type_name("PIXEL")->check(notEmpty);
    figure_app->add_option("--quantity", figure.quantity, "what the profile shows: counts, radiance or reflectance")->type_name("WORD")->check(notEmpty);
    figure_app->add_option("--difference", figure.difference, "the picture shows what one cause does to the counts: cast-shadow, air, relief, noise, ...")->type_name("CAUSE")->check(notEmpty);
    figure_app->add_option("--scale", figure.scales, "sizes of the PNG files: 1, 2, 3; several by commas")->allow_extra_args(false)->type_name("NUMBERS");
    figure_app->add_option("--bands,--show", figure.bands, "\"true colour\", \"false colour\", a band's name, or three for red, green and blue")->type_name("BANDS")->check(notEmpty);
    figure_app->add_option("--stretch", figure.stretch, "which counts are black and white: percent, none, or LOW..HIGH in counts")->type_name("WORD")->check(notEmpty);
    figure_app->add_option("--theme", figure.theme, "colours of the figures: day or night")->type_name("WORD")->check(notEmpty);
    addJson(*figure_app, figure.json, "print what was written as JSON, for programs");

    CommonOptions facts;
    CLI::App* facts_app = app.add_subcommand("facts", "what follows from an instrument and its flight");
    facts_app->add_option("STATE", facts.scene.state, "a state file")->type_name("FILE")->check(notEmpty);
    addScene(*facts_app, facts.scene, true);
    addJson(*facts_app, facts.json);

    WhyOptions why;
    CLI::App* why_app = app.add_subcommand("why", "the whole walk of light of one pixel of the first instrument, from the sun to its count");
    why_app->add_option("STATE", why.scene.state, "a state file")->type_name("FILE")->check(notEmpty);
    addScene(*why_app, why.scene, true);
    why_app->add_option("--sample", why.sample, "column of the pixel; 0 is the first, on the starboard side")->required();
    why_app->add_option("--line", why.line, "line of the pixel; 0 is the first in time")->required();
    why_app->add_option("--band", why.band, "whose walk is printed: a band's name, or \"all\"; without it the band shown as green")->type_name("BAND");
    addJson(*why_app, why.json);

    SunOptions sun;
    CLI::App* sun_app = app.add_subcommand("sun", "where the sun stands at a time and place");
    sun_app->add_option("--time", sun.time, "date and time with its offset from universal time, 2026-06-21T12:00:00+01:00")->required()->type_name("TIME");
    sun_app->add_option("--latitude", sun.latitude, "latitude, north positive, \"47.3 deg\" or degrees")->required()->type_name("ANGLE");
    sun_app->add_option("--longitude", sun.longitude, "longitude, east positive, \"-23.6 deg\" or degrees")->required()->type_name("ANGLE");
    sun_app->add_option("--altitude", sun.altitude, "height above sea level, \"120 m\"")->type_name("LENGTH");
    sun_app->add_option("--pressure", sun.pressure, "air pressure, \"1013 hPa\", for refraction")->type_name("PRESSURE");
    sun_app->add_option("--temperature", sun.temperature, "air temperature, \"15 C\"")->type_name("TEMPERATURE");
    addJson(*sun_app, sun.json);

    bool keys_json = false;
    CLI::App* keys_app = app.add_subcommand("keys", "every setting that a file or --set may change, with unit, range, default and help");
    addJson(*keys_app, keys_json);

    std::vector<std::string> files;
    CLI::App* inspect_app = app.add_subcommand("inspect", "list every problem of the files of places, instruments, flights and states");
    inspect_app->add_option("FILE", files, "TOML files")->required()->type_name("");
    bool inspect_json = false;
    addJson(*inspect_app, inspect_json);

    bool list_json = false;
    CLI::App* list_app = app.add_subcommand("list", "places, instruments and flights that come with the program");
    addJson(*list_app, list_json);

    LessonOptions lesson;
    CLI::App* lesson_app = app.add_subcommand("lesson", "lessons: take one, write one, check one");
    lesson_app->require_subcommand(1);
    const auto lessonCommand = [&](const char* name, const char* help, bool needs_id = true) {
        CLI::App* sub = lesson_app->add_subcommand(name, help);
        if (needs_id) sub->add_option("LESSON", lesson.lesson, "id of a lesson (linefall lesson list), or the path of its folder")->required()->type_name("")->check(notEmpty);
        addThreads(*sub, lesson.threads);
        return sub;
    };
    CLI::App* lesson_list = lessonCommand("list", "the course: every lesson with its outcome", false);
    addJson(*lesson_list, lesson.json);
    CLI::App* lesson_run = lessonCommand("run", "take a lesson as a dialogue in the terminal");
    lesson_run->add_option("--student", lesson.student, "your name or number, as your lecturer knows it: it chooses your variant")->type_name("NAME")->check(notEmpty);
    lesson_run->add_option("--answers", lesson.answers, "the file that keeps your answers; answers/LESSON-STUDENT.toml if not named")->type_name("FILE")->check(notEmpty);
    lesson_run->add_flag("--no-gate", lesson.no_gate, "go on without a prediction, for a lecture");
    CLI::App* lesson_check = lessonCommand("check", "every problem of a lesson, and what is worth a look: all variants are flown and answered");
    CLI::App* lesson_try = lessonCommand("try", "how a lesson judges right, named wrong and senseless answers");
    lesson_try->add_option("--variant", lesson.variant, "this variant only; the first is 1")->option_text("NUMBER")->check(CLI::Range(1, 1000));
    CLI::App* lesson_variants = lessonCommand("variants", "every variant: what is right in it, how far its mistakes lie from that, and whether it is harder than others");
    lesson_variants->add_option("--variant", lesson.variant, "this variant only; the first is 1")->option_text("NUMBER")->check(CLI::Range(1, 1000));
    lesson_variants->add_option("--sheet", lesson.sheet, "write the pictures of all variants as one sheet to this file, PNG or HTML by its ending")->option_text("FILE")->check(notEmpty);
    lesson_variants->add_option("--scene", lesson.scene, "the scene that the sheet shows; the first if not named")->type_name("NAME")->check(notEmpty);
    addJson(*lesson_variants, lesson.json);
    CLI::App* lesson_new = lesson_app->add_subcommand("new", "write a small lesson that works, to be changed into your own");
    lesson_new->add_option("FOLDER", lesson.lesson, "folder of the lesson, lower-case words with hyphens; it must not exist yet")->required()->type_name("")->check(notEmpty);
    lesson_new->add_option("--title", lesson.title, "title of the lesson")->type_name("WORDS")->check(notEmpty);
    CLI::App* lesson_print = lessonCommand("print", "a worksheet for a student and, apart from it, the key: HTML to print on A4 or letter");
    lesson_print->add_option("--student", lesson.student, "the student's name or number: it chooses the variant")->type_name("NAME")->check(notEmpty);
    lesson_print->add_option("--variant", lesson.variant, "this variant instead; the first is 1")->option_text("NUMBER")->check(CLI::Range(1, 1000));
    addOut(*lesson_print, lesson.out);
    CLI::App* lesson_export = lessonCommand("export", "the questions of a variant for a learning platform: QTI 2.1, with their pictures");
    lesson_export->add_option("--variant", lesson.variant, "the variant; the first is 1")->required()->option_text("NUMBER (needed)")->check(CLI::Range(1, 1000));
    addOut(*lesson_export, lesson.out);
    addJson(*lesson_export, lesson.json);

    MarkOptions mark;
    CLI::App* mark_app = app.add_subcommand("mark", "mark a folder of answer files: gradebook, statistics, a page for each student");
    mark_app->add_option("FOLDER", mark.folder, "folder with answer files; folders in it are looked into, one level deep")->required()->type_name("")->check(notEmpty);
    mark_app->add_option("--lesson", mark.lesson, "id of the lesson, or the path of its folder")->required()->type_name("LESSON")->check(notEmpty);
    addOut(*mark_app, mark.out);
    mark_app->add_option("--roster", mark.roster, "who is expected: a CSV table with a column of ids")->type_name("FILE")->check(notEmpty);
    mark_app->add_option("--columns", mark.columns, "what the columns of the roster and the gradebook are called: id=matriculation,name=student; also score, max, feedback and separator")->type_name("WORDS")->check(notEmpty);
    mark_app->add_option("--previous", mark.previous, "folder of an earlier marking: what changed is listed")->type_name("FOLDER")->check(notEmpty);
    mark_app->add_flag("--any-version", mark.any_version, "mark answers to other versions of the lesson too");
    addThreads(*mark_app, mark.threads);
    addJson(*mark_app, mark.json, "print a summary as JSON, for programs");
    for (CLI::App* parent : {&app, lesson_app}) {
        for (CLI::App* command : parent->get_subcommands({})) command->group("Commands");
    }

    try {
        app.parse(argc, argv);
    } catch (const CLI::ParseError& e) {
        return app.exit(e) == 0 ? 0 : 2;
    }

    try {
        if (*form_app) return interruptibly(&runForm, form);
        if (*figure_app) return interruptibly(&runFigure, figure);
        if (*facts_app) return runFacts(facts);
        if (*why_app) return runWhy(why);
        if (*sun_app) return runSun(sun);
        if (*keys_app) return runKeys(keys_json);
        if (*inspect_app) return runInspect(files, inspect_json);
        if (*list_app) return runList(list_json);
        if (*lesson_list) return runLessonList(lesson);
        if (*lesson_run) return runLessonRun(lesson);
        if (*lesson_check) return runLessonCheck(lesson);
        if (*lesson_try) return runLessonTry(lesson);
        if (*lesson_variants) return runLessonVariants(lesson);
        if (*lesson_export) return runLessonExport(lesson);
        if (*mark_app) return interruptibly(&runMark, mark);
        if (*lesson_new) return runLessonNew(lesson);
        if (*lesson_print) return runLessonPrint(lesson);
        return open_window(window);
    } catch (const InputError& e) {
        std::cerr << e.what() << '\n';
        return 2;
    } catch (const std::bad_alloc&) {
        std::cerr << "not enough memory: expected a smaller image (samples, lines, bands, contributions) or place\n";
        return 2;
    } catch (const std::exception& e) {
        std::cerr << "linefall: " << e.what() << '\n';
        return 2;
    }
}

}  // namespace linefall
