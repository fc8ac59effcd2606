#include <unistd.h>

#include <cstdio>
#include <iostream>
#include <nlohmann/json.hpp>

#include "command/command.h"
#include "command/json_text.h"
#include "command/out_folder.h"
#include "command/show_options.h"
#include "figure/figures.h"

namespace linefall {

namespace {

/// The options as settings of the scene, each judged here so that a mistake names the option.
std::vector<std::string> settingsOf(const FigureOptions& o) {
    std::vector<std::string> sets;
    Problems problems;
    const auto give = [&](const char* key, const char* option, const std::string& text, const auto& sound, const std::string& expected) {
        if (text.empty()) return;
        if (!sound(text)) problems.push_back({{option, 0, 0}, "", "'" + text + "'", expected, ""});
        sets.push_back(std::string(key) + "=" + text);
    };
    const auto sample = [](const std::string& t) { return readShownPixel(t).has_value(); };
    const auto joined = [](const std::vector<std::string>& parts) {
        std::string out;
        for (const std::string& part : parts) out += (out.empty() ? "" : ",") + part;
        return out;
    };
    give("figure.what", "--what", joined(o.what), [](const std::string& t) { return readKinds(t).has_value(); }, kindsExpected());
    give("show.pixel", "--pixel", o.pixel, sample, sample_expected);
    give("figure.from", "--from", o.from, sample, sample_expected);
    give("figure.to", "--to", o.to, sample, sample_expected);
    give("figure.quantity", "--quantity", o.quantity, [](const std::string& t) { return t == "counts" || t == "radiance" || t == "reflectance"; },
         "counts, radiance or reflectance");
    give("figure.scales", "--scale", joined(o.scales), [](const std::string& t) { return readScales(t).has_value(); }, scales_expected);
    give("show.bands", "--bands", o.bands, [](const std::string&) { return true; }, "");
    give("figure.theme", "--theme", o.theme, [](const std::string& t) { return t == "day" || t == "night"; }, "day or night");
    if (!problems.empty()) throw InputError(problems);
    return sets;
}

int interruptedHere() {
    std::cerr << "interrupted: nothing was written\n";
    return 130;
}

}  // namespace

int runFigure(const FigureOptions& options) {
    SceneRequest asked = options.scene;
    for (const std::string& set : settingsOf(options)) asked.sets.push_back(set);
    Scene told;  // what is wrong with the options is told before anything is formed
    if (!options.stretch.empty()) giveStretch(options.stretch, told);
    const OutFolder folder(options.out);
    Scene scene = loadScene(asked);
    if (!options.stretch.empty()) giveStretch(options.stretch, scene);
    checkMemory(scene);
    Formations formations;
    for (std::size_t i = 0; i < scene.instruments.size(); ++i) formations.push_back(std::make_unique<Formation>(scene, i));
    const FigureRequest request = figureRequest(scene, formations);
    const Type type;
    if (!type.missing().empty()) std::cerr << "these fonts are missing, the system's own stand in for them: " << type.missing() << '\n';

    const bool watched = isatty(STDERR_FILENO) != 0;
    const auto progress = [&](const std::string& what) {
        if (watched) std::cerr << what << " ...\n";
    };
    const std::vector<Figure> figures = makeFigures(scene, formations, request, type, asked.threads, &interrupted(), progress);
    if (interrupted()) return interruptedHere();
    WholeFiles files;
    std::vector<std::string> paths;
    nlohmann::ordered_json json = nlohmann::ordered_json::array();
    for (const Figure& figure : figures) {
        progress("writing " + figure.name);
        const std::vector<std::string> written = addFigure(files, options.out, scene, request, figure, type);
        paths.insert(paths.end(), written.begin(), written.end());
        json.push_back({{"name", figure.name}, {"kind", kindName(figure.kind)}, {"files", written}, {"caption", figure.caption}, {"alt", figure.drawing.description}});
        if (interrupted()) return interruptedHere();
    }
    files.commit();
    if (options.json) {
        std::cout << jsonText(json);
        return 0;
    }
    for (const std::string& path : paths) std::cout << path << '\n';
    return 0;
}

}  // namespace linefall
