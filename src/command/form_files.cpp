#include "command/form_files.h"

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "command/facts_json.h"
#include "command/json_text.h"
#include "flight/picture_look.h"
#include "flight/scene_facts.h"
#include "scene/png_file.h"

namespace linefall {

namespace fs = std::filesystem;
using nlohmann::ordered_json;

namespace {

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

/// Writes the pictures of one instrument and tells what they are.
ordered_json writeImage(const Image& image, const PictureLook& look, const Stretch& stretch, const std::string& title, const std::string& stem,
                        const std::function<std::string(const std::string&)>& place, WholeFiles& files) {
    const BandChoice& choice = look.bands;
    const std::vector<StretchLimits>& limits = look.limits;
    std::vector<std::uint8_t> pixels;
    for (int line = 0; line < image.lines(); ++line) {
        const std::vector<std::uint8_t> row = displayRow(image, choice, limits, look.screen_curve, line);
        pixels.insert(pixels.end(), row.begin(), row.end());
    }
    ordered_json entry;
    entry["name"] = stem;
    entry["display"] = stem + ".png";
    entry["display_bands"] = choice.name;
    entry["stretch"] = stretch.text();
    entry["stretch_counts"] = ordered_json::array();
    for (const StretchLimits& l : limits) entry["stretch_counts"].push_back({l.low, l.high});
    writePng8(files, place(stem + ".png"), image.samples(), image.lines(), choice.grey() ? 1 : 3, pixels,
              {{"Description", "Simulated by Linefall over " + title + " (invented). " + stretch.text() + "; " + choice.name}});
    entry["counts"] = ordered_json::object();
    for (std::size_t b = 0; b < image.bands.size(); ++b) {
        const std::string name = stem + "." + image.bands[b].name + ".png";
        writePng16(files, place(name), image.counts[b], {{"Description", "Raw counts, band " + image.bands[b].name}});
        entry["counts"][image.bands[b].name] = name;
    }
    entry["samples"] = image.samples();
    entry["lines"] = image.lines();
    entry["most_count"] = image.most_count;
    entry["electrons_a_count"] = image.step_e;
    entry["sky_samples"] = skySamples(image);
    entry["statistics"] = statisticsJson(image);
    return entry;
}

}  // namespace

std::size_t skySamples(const Image& image) {
    return static_cast<std::size_t>(std::count(image.sky.values().begin(), image.sky.values().end(), std::uint8_t{1}));
}

std::vector<BandChoice> chosenBands(const std::vector<std::unique_ptr<Formation>>& formations, const Scene& scene, bool by_option) {
    const std::string show = scene.showSettings().bands;
    std::vector<BandChoice> choices;
    for (const auto& formation : formations) {
        const std::vector<Band>& bands = formation->instrument().bands();
        choices.push_back(chooseBands(bands, show));
        if (!choices.back().name.empty()) continue;
        std::string names = "true colour, false colour";
        std::vector<std::string> known{"true colour", "false colour"};
        for (const Band& band : bands) {
            names += ", " + band.name;
            known.push_back(band.name);
        }
        const Setting* given = scene.settings.find("show.bands");
        const Place place = by_option || given == nullptr ? Place{"--show", 0, 0} : given->place;
        throw InputError(Problem{place, by_option ? "" : "show.bands", "'" + show + "'", "one of " + names, nearestName(show, known)});
    }
    return choices;
}

std::optional<FormReport> writeImages(const Scene& scene, const std::vector<std::unique_ptr<Formation>>& formations,
                                      const std::string& folder, const Cancel& cancel) {
    const std::vector<std::string> stems = fileStems(scene);
    const ShowSettings show = scene.showSettings();
    const Stretch stretch = stretchOf(show);
    FormReport report;
    WholeFiles files;
    const auto place = [&](const std::string& name) {
        report.files.push_back((fs::path(folder) / name).string());
        return report.files.back();
    };
    report.json["place"] = scene.place->name;
    report.json["flight"] = scene.flight;
    report.json["images"] = ordered_json::array();
    for (std::size_t i = 0; i < formations.size(); ++i) {
        ordered_json entry =
            writeImage(formations[i]->image(), lookOf(formations[i]->image(), show.bands, stretch), stretch, scene.place->title, stems[i], place, files);
        entry["facts"] = factsJson(factsOfScene(scene, i), scene.instruments[i].preset, scene.instruments[i].kind);
        report.json["images"].push_back(entry);
        if (cancel) return std::nullopt;
    }
    files.addText(place("state.toml"), stateText(scene, folder));
    files.addText(place("facts.json"), jsonText(report.json));
    if (cancel) return std::nullopt;
    files.commit();
    return report;
}

}  // namespace linefall
