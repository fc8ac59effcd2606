#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <iostream>

#include "command/command.h"
#include "command/facts_json.h"
#include "flight/formation.h"
#include "flight/scene_facts.h"
#include "scene/png_file.h"

namespace linefall {

namespace fs = std::filesystem;
using nlohmann::ordered_json;

namespace {

Stretch readStretch(const std::string& text) {
    Stretch stretch;
    if (text == "percent") return stretch;
    if (text == "none") {
        stretch.kind = Stretch::Kind::none;
        return stretch;
    }
    const std::size_t dots = text.find("..");
    if (dots != std::string::npos) {
        const ParsedQuantity low = parseQuantity(text.substr(0, dots), Kind::count);
        const ParsedQuantity high = parseQuantity(text.substr(dots + 2), Kind::count);
        if (low.ok() && high.ok() && low.value < high.value) {
            stretch.kind = Stretch::Kind::value;
            stretch.low_count = low.value;
            stretch.high_count = high.value;
            return stretch;
        }
    }
    throw InputError(Problem{{"--stretch", 0, 0}, "", "'" + text + "'", "percent, none, or LOW..HIGH in counts", ""});
}

/// A picture of progress on a terminal; nothing elsewhere.
class ProgressBar {
public:
    ProgressBar(std::string name, int lines) : name_(std::move(name)), lines_(lines), shown_(isatty(STDERR_FILENO) != 0) {}
    void show(int done) {
        const int percent = static_cast<int>(100LL * done / std::max(1, lines_));
        int before = last_.load();
        if (!shown_ || percent <= before || !last_.compare_exchange_strong(before, percent)) return;
        const int full = percent / 4;
        fmt::print(stderr, "\r{:<16} [{}{}] {:3} %  {} of {} lines", name_, std::string(static_cast<std::size_t>(full), '='),
                   std::string(static_cast<std::size_t>(25 - full), ' '), percent, done, lines_);
    }
    void end() const {
        if (shown_) fmt::print(stderr, "\n");
    }

private:
    std::string name_;
    int lines_;
    bool shown_;
    std::atomic<int> last_{-1};
};

/// File names: the preset's own name; a second instrument of the same name gets a number.
std::vector<std::string> stemsOf(const Scene& scene) {
    std::vector<std::string> stems;
    for (const InstrumentSetup& setup : scene.instruments) {
        const std::string stem = fs::path(setup.preset).stem().string();
        std::string name = stem;
        for (int n = 2; std::find(stems.begin(), stems.end(), name) != stems.end(); ++n) name = stem + "-" + std::to_string(n);
        stems.push_back(name);
    }
    return stems;
}

ordered_json statisticsJson(const Image& image) {
    ordered_json bands = ordered_json::array();
    for (std::size_t b = 0; b < image.bands.size(); ++b) {
        double sum = 0.0, squares = 0.0;
        std::uint16_t least = 65535, most = 0;
        std::size_t n = 0, saturated = 0;
        for (int line = 0; line < image.lines(); ++line) {
            for (int s = 0; s < image.samples(); ++s) {
                if (image.sky.at(s, line) != 0) continue;
                const std::uint16_t count = image.counts[b].at(s, line);
                sum += count;
                squares += static_cast<double>(count) * count;
                least = std::min(least, count);
                most = std::max(most, count);
                saturated += count >= image.most_count ? 1 : 0;
                ++n;
            }
        }
        const double mean = n > 0 ? sum / static_cast<double>(n) : 0.0;
        const double variance = n > 1 ? std::max(0.0, squares / static_cast<double>(n) - mean * mean) : 0.0;
        bands.push_back({{"name", image.bands[b].name},
                         {"mean", mean},
                         {"standard_deviation", std::sqrt(variance)},
                         {"least", n > 0 ? least : 0},
                         {"most", most},
                         {"saturated", saturated}});
    }
    return bands;
}

std::size_t skySamples(const Image& image) {
    return static_cast<std::size_t>(std::count(image.sky.values().begin(), image.sky.values().end(), std::uint8_t{1}));
}

}  // namespace

int runForm(const FormOptions& options) {
    const Stretch stretch = readStretch(options.stretch);
    const Scene scene = loadScene(options.scene);
    std::error_code error;
    fs::create_directories(options.out, error);
    if (!fs::is_directory(options.out) || access(options.out.c_str(), W_OK) != 0) {
        throw InputError(Problem{{options.out, 0, 0}, "--out", error ? error.message() : "a folder that cannot be written to",
                                 "a folder that can be made and written to", ""});
    }

    const std::vector<std::string> stems = stemsOf(scene);
    std::vector<std::unique_ptr<Formation>> formations;
    std::vector<BandChoice> choices;
    for (std::size_t i = 0; i < scene.instruments.size(); ++i) {
        formations.push_back(std::make_unique<Formation>(scene, i));
        choices.push_back(chooseBands(formations[i]->instrument().bands(), options.show));
        if (choices[i].name.empty()) {
            std::string names = "true colour, false colour";
            for (const Band& band : formations[i]->instrument().bands()) names += ", " + band.name;
            throw InputError(Problem{{"--show", 0, 0}, "", "'" + options.show + "'", "one of " + names, ""});
        }
    }
    // Every image is formed before anything is written: an interrupted run leaves nothing behind.
    for (std::size_t i = 0; i < formations.size(); ++i) {
        ProgressBar bar(stems[i], formations[i]->lines());
        const bool whole = formations[i]->form(0, formations[i]->lines(), options.scene.threads, &interrupted(),
                                               [&bar](int done) { bar.show(done); });
        bar.end();
        if (!whole) {
            std::cerr << "interrupted: nothing was written\n";
            return 130;
        }
    }

    ordered_json report;
    report["place"] = scene.place->name;
    report["flight"] = scene.flight;
    report["images"] = ordered_json::array();
    std::vector<std::string> written;
    const auto path = [&](const std::string& name) { return (fs::path(options.out) / name).string(); };
    const std::string state = stateText(scene);
    try {
        for (std::size_t i = 0; i < formations.size(); ++i) {
            const Image& image = formations[i]->image();
            const std::string shown = stretch.text() + "; " + choices[i].name;
            std::vector<StretchLimits> limits;
            for (const int band : {choices[i].red, choices[i].green, choices[i].blue}) {
                limits.push_back(limitsOf(image, band, stretch, 0, image.lines()));
            }
            std::vector<std::uint8_t> pixels;
            for (int line = 0; line < image.lines(); ++line) {
                const std::vector<std::uint8_t> row = displayRow(image, choices[i], limits, stretch.screen_curve, line);
                pixels.insert(pixels.end(), row.begin(), row.end());
            }
            const std::vector<PngText> texts{{"Description", "Simulated by Linefall over " + scene.place->title + " (invented). " + shown}};
            const std::string display = path(stems[i] + ".png");
            writePng8(display, image.samples(), image.lines(), choices[i].grey() ? 1 : 3, pixels, texts);
            written.push_back(display);
            ordered_json entry;
            entry["name"] = stems[i];
            entry["display"] = fs::path(display).filename().string();
            entry["display_bands"] = choices[i].name;
            entry["stretch"] = stretch.text();
            entry["stretch_counts"] = ordered_json::array();
            for (const StretchLimits& l : limits) entry["stretch_counts"].push_back({l.low, l.high});
            entry["counts"] = ordered_json::object();
            for (std::size_t b = 0; b < image.bands.size(); ++b) {
                const std::string file = path(stems[i] + "." + image.bands[b].name + ".png");
                writePng16(file, image.counts[b], {{"Description", "Raw counts, band " + image.bands[b].name}});
                written.push_back(file);
                entry["counts"][image.bands[b].name] = fs::path(file).filename().string();
            }
            entry["samples"] = image.samples();
            entry["lines"] = image.lines();
            entry["most_count"] = image.most_count;
            entry["electrons_a_count"] = image.step_e;
            entry["sky_samples"] = skySamples(image);
            entry["statistics"] = statisticsJson(image);
            entry["facts"] = factsJson(factsOfScene(scene, i), scene.instruments[i].preset, scene.instruments[i].kind);
            report["images"].push_back(entry);
        }
        writeWhole(path("state.toml"), state);
        written.push_back(path("state.toml"));
        writeWhole(path("facts.json"), report.dump(2) + "\n");
        written.push_back(path("facts.json"));
    } catch (...) {
        for (const std::string& file : written) fs::remove(file, error);
        throw;
    }
    if (options.json) {
        std::cout << report.dump(2) << '\n';
    } else {
        for (const std::string& file : written) std::cout << file << '\n';
        for (std::size_t i = 0; i < formations.size(); ++i) {
            if (const std::size_t sky = skySamples(formations[i]->image())) {
                std::cout << stems[i] << ": " << sky << " samples look past the ground into the sky\n";
            }
        }
    }
    return 0;
}

}  // namespace linefall
