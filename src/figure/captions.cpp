#include "figure/captions.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "base/angle.h"
#include "figure/page.h"
#include "flight/cause_table.h"
#include "instruments/looks.h"
#include "physics/effects.h"

namespace linefall {

std::string instrumentName(const Scene& scene, int instrument) {
    const InstrumentSetup& setup = scene.instruments.at(static_cast<std::size_t>(instrument));
    return (setup.title.empty() ? setup.preset : setup.title) + " (" + letterOf(instrument) + ")";
}

std::string flightWords(const Scene& scene, const Formation& formation) {
    const FlightSettings flight = scene.flightSettings();
    const double track = wrappedToTurn(formation.motion().track_rad());
    return shortText(flight.height_m, Kind::length, 4) + " above datum, towards the " + compassWord(track) + " (" + degreesText(track) + ") at " +
           shortText(flight.speed_m_s, Kind::speed, 4);
}

std::string sunWords(const Sunlight& sun) {
    if (!sun.up()) return "sun below the horizon";
    return "sun at azimuth " + degreesText(wrappedToTurn(sun.azimuth_rad)) + ", " + degreesText(sun.elevation_rad) + " up";
}

std::string bandWords(const std::vector<Band>& bands, const BandChoice& choice) {
    if (choice.grey()) return choice.name;
    const auto name = [&](int band) { return bands.at(static_cast<std::size_t>(band)).name; };
    if (name(choice.red) == "red" && name(choice.green) == "green" && name(choice.blue) == "blue") return choice.name;
    return choice.name + " (bands " + name(choice.red) + ", " + name(choice.green) + " and " + name(choice.blue) + " shown as red, green and blue)";
}

std::string causeWords(const Scene& scene) {
    std::string off, out;
    const auto add = [&](const std::string& name) { off += (off.empty() ? "" : ", ") + name; };
    std::set<std::string> of_causes;
    for (const CauseRow& row : causeTable()) {
        of_causes.insert(row.keys.begin(), row.keys.end());
        if (!isOn(scene, row.cause)) add(row.name);
    }
    for (const Parameter& row : effectKeys().rows()) {
        const Setting* given = scene.settings.find(row.key);
        const bool* value = given == nullptr ? nullptr : std::get_if<bool>(&given->value);
        if (value == nullptr || *value || of_causes.count(row.key) != 0 || row.default_value == Value(false)) continue;
        std::string name = row.key.substr(row.key.find('.') + 1);
        std::replace(name.begin(), name.end(), '_', ' ');
        add(name);
    }
    if (!off.empty()) out = "Switched off: " + off + ".";
    const double lean = scene.flightSettings().lean;
    if (lean != 1.0) out += (out.empty() ? "" : " ") + ("Relief displacement is exaggerated: lean × " + figuresText(lean, 3) + ".");
    return out;
}

std::string groundWords(const Scene& scene, const Formation& formation, int lines) {
    constexpr int steps = 48;
    std::map<std::string, int> met;
    int all = 0;
    for (int i = 0; i < steps; ++i) {
        for (int j = 0; j < steps; ++j) {
            const int line = (2 * i + 1) * lines / (2 * steps), sample = (2 * j + 1) * formation.samples() / (2 * steps);
            const Ray ray = lookRay(formation.instrument(), formation.motion(), Offset{}, formation.manner(), line, sample);
            const GroundHit hit = scene.place->ground->intersect(ray);
            ++all;
            if (hit.meets == Meets::sky) ++met["the sky"];
            else {
                const Material& material = scene.place->materials.at(hit.material);
                ++met[material.title.empty() ? material.name : material.title];
            }
        }
    }
    std::vector<std::pair<int, std::string>> order;
    for (const auto& [name, count] : met) order.emplace_back(-count, name);
    std::sort(order.begin(), order.end());
    std::string out;
    for (std::size_t i = 0; i < std::min<std::size_t>(4, order.size()); ++i) {
        const long share = std::lround(-100.0 * order[i].first / all);
        if (share < 1) break;
        std::string words = order[i].second;
        if (!words.empty() && words[0] >= 'A' && words[0] <= 'Z') words[0] = static_cast<char>(words[0] - 'A' + 'a');
        out += (out.empty() ? "" : ", ") + words + " " + std::to_string(share) + " %";
    }
    return out;
}

std::string closingWords(const Scene& scene) {
    const std::string causes = causeWords(scene);
    return (causes.empty() ? "" : causes + " ") + std::string("Simulated with Linefall " LINEFALL_VERSION "; the place, ") +
           (scene.place->title.empty() ? scene.place->name : scene.place->title) +
           ", is invented. A teaching model: not for survey, navigation, engineering or safety decisions.";
}

}  // namespace linefall
