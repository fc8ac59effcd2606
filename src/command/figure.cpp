#include <fmt/format.h>
#include <unistd.h>

#include <atomic>
#include <cstdio>
#include <iostream>
#include <nlohmann/json.hpp>

#include "command/command.h"
#include "command/forming.h"
#include "command/json_text.h"
#include "command/show_options.h"
#include "figure/figure_files.h"
#include "scene/out_folder.h"

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
    give("figure.difference", "--difference", o.difference, [](const std::string&) { return true; }, "");
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
    const bool watched = isatty(STDERR_FILENO) != 0;
    std::atomic<int> last{-1};
    const FigureProgress progress = [&last](const std::string& doing, double share) {
        const int percent = static_cast<int>(100.0 * share);
        int before = last.load();
        if (percent <= before || !last.compare_exchange_strong(before, percent)) return;
        fmt::print(stderr, "\r{:<60}", fmt::format("{:3} %  {}", percent, doing));
    };
    const WrittenFigures written = writeFigures(scene, options.out, asked.threads, &interrupted(), watched ? progress : FigureProgress{});
    if (watched) fmt::print(stderr, "\r{:<60}\r", "");
    if (!written.missing_fonts.empty()) std::cerr << "these fonts are missing, the system's own stand in for them: " << written.missing_fonts << '\n';
    if (written.figures.empty()) return interruptedHere();
    nlohmann::ordered_json json = nlohmann::ordered_json::array();
    for (const WrittenFigure& figure : written.figures) {
        json.push_back({{"name", figure.name}, {"kind", kindName(figure.kind)}, {"files", figure.files}, {"caption", figure.caption}, {"alt", figure.alt}});
        if (options.json) continue;
        for (const std::string& path : figure.files) std::cout << path << '\n';
    }
    if (options.json) std::cout << jsonText(json);
    return 0;
}

}  // namespace linefall
