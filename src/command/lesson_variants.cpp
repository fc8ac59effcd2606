// Every variant of a lesson: what is true in it, how hard it is beside the others, and how it looks.

#include <fmt/format.h>

#include <cmath>
#include <filesystem>
#include <iostream>

#include "command/json_text.h"
#include "command/lesson.h"
#include "figure/paint.h"
#include "lesson/difficulty.h"
#include "lesson/variant.h"
#include "paper/contact_sheet.h"
#include "scene/png_file.h"
#include "scene/whole_files.h"

namespace linefall {

using nlohmann::ordered_json;

namespace {

void writeSheet(const Lesson& lesson, const LessonOptions& options) {
    const std::string ending = std::filesystem::path(options.sheet).extension().string();
    if (ending != ".png" && ending != ".html") throw InputError(Problem{{"--sheet", 0, 0}, "", "'" + options.sheet + "'", "a file that ends in .png or .html", ""});
    std::vector<std::string> scenes;
    for (const LessonScene& scene : lesson.scenes) scenes.push_back(scene.name);
    if (lesson.findScene(options.scene) == nullptr) throw InputError(Problem{{"--scene", 0, 0}, "", "'" + options.scene + "'", "the name of a scene of this lesson", nearestName(options.scene, scenes)});
    const std::vector<Tile> tiles = variantTiles(lesson, options.scene, options.threads);
    WholeFiles files;
    if (ending == ".html") {
        files.addText(options.sheet, contactSheetHtml(lesson, options.scene, tiles));
    } else {
        const Type type;
        const Drawing drawing = contactSheet(lesson, options.scene, tiles, type);
        const Pixels pixels = painted(drawing, 1, type);
        writePng8(files, options.sheet, pixels.columns, pixels.rows, pixels.channels, pixels.values, {{"Title", drawing.title}, {"Description", drawing.description}, {"Software", "Linefall " LINEFALL_VERSION}});
    }
    files.commit();
}

void printTruth(const VariantTruth& truth) {
    const UnitOfText& unit = *findUnit(truth.unit);
    std::cout << fmt::format("  {:<14}{:<16} tolerance {}", truth.part, textWithin(unit, truth.truth.value, truth.tolerance.value), textIn({unit.name, unit.dimension, unit.scale, 0.0}, truth.tolerance.value, 2));
    if (truth.truth.value != 0.0) std::cout << fmt::format(" ({} %)", figuresText(100.0 * std::abs(truth.tolerance.value / truth.truth.value), 2));
    if (!truth.nearest_wrong.empty()) std::cout << fmt::format(", nearest mistake '{}' {} tolerances away", truth.nearest_wrong, figuresText(truth.nearest_off, 2));
    std::cout << "\n";
}

ordered_json jsonOf(const Lesson& lesson, int variant, const std::vector<VariantTruth>& truths, const VariantDifficulty& difficulty) {
    ordered_json one{{"variant", variant}, {"dropped", lesson.variants.dropped(variant - 1)}};
    for (const auto& [name, text] : givensOf(lesson, variant - 1)) one["given"][name] = text;
    for (const VariantTruth& truth : truths) {
        one["truths"].push_back({{"part", truth.part}, {"truth", textIn(*findUnit(truth.unit), truth.truth.value, 6)}, {"tolerance_share", std::abs(truth.tolerance.value / truth.truth.value)},
                                 {"nearest_mistake", truth.nearest_wrong}, {"nearest_in_tolerances", truth.nearest_off}});
    }
    one["difficulty"] = difficulty.difficulty;
    one["stands_out"] = difficulty.remarks;
    return one;
}

}  // namespace

int runLessonVariants(const LessonOptions& options) {
    const Lesson lesson = readLesson(resolveLesson(options.lesson));
    if (!options.sheet.empty()) {
        writeSheet(lesson, options);
        if (!options.json) std::cout << options.sheet << "\n";
    }
    std::vector<std::vector<VariantTruth>> truths;
    std::vector<int> numbers;
    for (int variant = 0; variant < std::max(lesson.variants.count(), 1); ++variant) {
        if (options.variant > 0 && variant + 1 != options.variant) continue;
        Truths flown(lesson, variant, options.threads);
        truths.push_back(variantTruths(flown));
        numbers.push_back(variant + 1);
    }
    const std::vector<VariantDifficulty> difficulties = difficultiesOf(truths, numbers);
    ordered_json all = ordered_json::array();
    for (std::size_t i = 0; i < truths.size(); ++i) {
        const VariantDifficulty& difficulty = difficulties[i];
        if (options.json) {
            all.push_back(jsonOf(lesson, numbers[i], truths[i], difficulty));
            continue;
        }
        std::cout << "variant " << numbers[i] << (lesson.variants.dropped(numbers[i] - 1) ? " (dropped)" : "") << ":";
        for (const std::string& name : lesson.variants.given) std::cout << (name == lesson.variants.given.front() ? " " : ", ") << name << " " << *givenText(lesson, numbers[i] - 1, name);
        if (truths.size() > 1) std::cout << "; difficulty " << figuresText(difficulty.difficulty, 2);
        std::cout << "\n";
        for (const VariantTruth& truth : truths[i]) printTruth(truth);
        for (const std::string& remark : difficulty.remarks) std::cout << "  stands out: " << remark << "\n";
    }
    if (options.json) std::cout << jsonText(all);
    else std::cout << difficultyWords() << "\n";
    return 0;
}

}  // namespace linefall
