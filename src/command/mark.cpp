#include <fmt/format.h>

#include <algorithm>
#include <iostream>
#include <nlohmann/json.hpp>
#include <optional>

#include "command/command.h"
#include "command/json_text.h"
#include "command/lesson.h"
#include "lesson/lesson.h"
#include "lesson/truth.h"
#include "marking/marking_files.h"
#include "marking/qti.h"
#include "scene/out_folder.h"

namespace linefall {

namespace {

int interruptedHere() {
    std::cerr << "interrupted: nothing was written\n";
    return 130;
}

}  // namespace

int runMark(const MarkOptions& options) {
    const Lesson lesson = readLesson(resolveLesson(options.lesson));
    const ColumnMap columns = readColumns(options.columns);
    const Roster roster = options.roster.empty() ? Roster{} : readRoster(options.roster, columns);
    std::optional<EarlierMarks> earlier;
    if (!options.previous.empty()) earlier = readEarlierMarks(options.previous);
    const OutFolder folder(options.out), pages(options.out + "/feedback");

    HandInRules rules;
    rules.any_version = options.any_version;
    rules.threads = options.threads;
    rules.left_out = {options.roster, options.out, options.previous};
    HandIns hand_ins = readHandIns(options.folder, lesson, roster, rules);
    const Marks marks = markAll(lesson, std::move(hand_ins), options.threads, &interrupted());
    if (!marks.complete) return interruptedHere();
    const Statistics statistics = statisticsOf(lesson, marks);
    std::optional<std::vector<Change>> changes;
    if (earlier) changes = changesOf(*earlier, marks.students);
    const Marking marking{lesson, marks, statistics, roster, columns, changes ? &*changes : nullptr};

    WholeFiles files;
    const std::vector<std::string> paths = addMarking(files, options.out, marking);
    if (interrupted().load()) return interruptedHere();
    files.commit();

    if (options.json) {
        nlohmann::ordered_json json = nlohmann::ordered_json::parse(summaryJson(marking));
        json["written"] = paths;
        std::cout << jsonText(json);
        return 0;
    }
    const auto open = std::count_if(marks.notices.begin(), marks.notices.end(), [](const Notice& notice) { return !notice.marked; });
    std::cout << fmt::format("{} files, {} students marked, mean {:.2f} of {:g} points\n", marks.files, marks.students.size(), statistics.points.mean, statistics.most);
    std::cout << fmt::format("{} notes in problems.csv, {} of them on a file or student without marks\n", marks.notices.size(), open);
    if (changes) std::cout << changes->size() << " changes against " << options.previous << " in changes.csv\n";
    for (const std::string& path : paths) std::cout << path << '\n';
    std::cout << options.out << "/feedback: a page for each student\n";
    return 0;
}

int runLessonExport(const LessonOptions& options) {
    const Lesson lesson = readLesson(resolveLesson(options.lesson));
    if (options.variant < 1 || options.variant > lesson.variants.count()) {
        throw InputError(Problem{{"--variant", 0, 0}, "", std::to_string(options.variant), fmt::format("1 to {}, the variants of the lesson", lesson.variants.count()), ""});
    }
    Truths truths(lesson, options.variant - 1, options.threads);
    const QtiPackage package = qtiPackage(truths);
    const OutFolder folder(options.out), items(options.out + "/items"), images(options.out + "/images");
    WholeFiles files;
    std::vector<std::string> paths;
    for (const PackageFile& file : package.files) {
        paths.push_back(options.out + "/" + file.path);
        files.addText(paths.back(), file.bytes);
    }
    files.commit();
    if (options.json) {
        std::cout << jsonText({{"lesson", lesson.id}, {"variant", options.variant}, {"items", package.items}, {"left_out", package.left_out}, {"written", paths}});
        return 0;
    }
    for (const std::string& path : paths) std::cout << path << '\n';
    for (const std::string& what : package.left_out) std::cerr << "left out: " << what << '\n';
    return 0;
}

}  // namespace linefall
