// Settings given one by one, and what can be judged only together.

#include <fmt/format.h>

#include <algorithm>

#include "physics/calendar.h"
#include "scene/figure_settings.h"
#include "scene/scene_files.h"

namespace linefall {

namespace {

/// Bytes of what stays of a formed image: counts, a radiance for each, the sky flag, the display picture.
constexpr double bytes_a_count = 2.0 + 4.0;
constexpr double bytes_a_sample = 1.0 + 3.0;
constexpr double bytes_a_look = 32.0;
constexpr double most_kept_look_bytes = 3.0 * 1024 * 1024 * 1024;  // flight/formation.cpp keeps no more
constexpr double bytes_a_pattern = 2.0 * 8.0;                      // gain and offset of a detector
constexpr double most_looks_a_line = 1 << 24;

bool isSeed(const std::string& key) {
    return key.size() >= 5 && key.compare(key.size() - 5, 5, ".seed") == 0;
}

/// The places of problems of geometry: that of the setting, where one was given, else the file.
void findPlaces(Problems& problems, std::size_t first, const std::vector<const Settings*>& all, const std::string& file) {
    for (std::size_t i = first; i < problems.size(); ++i) {
        problems[i].place = {file, 0, 0};
        for (const Settings* settings : all) {
            if (const Setting* given = settings->find(problems[i].key)) problems[i].place = given->place;
        }
    }
}

}  // namespace

void checkTexts(const Settings& settings, Problems& problems) {
    for (const auto& [key, setting] : settings.all()) {
        const std::string* text = std::get_if<std::string>(&setting.value);
        if (text == nullptr) continue;
        if (isSeed(key) && (text->empty() || text->size() > 19 || text->find_first_not_of("0123456789") != std::string::npos)) {
            problems.push_back({setting.place, key, "'" + *text + "'", "a whole number of at most 19 digits", ""});
        }
        if (key == "show.pixel" && !text->empty() && !readShownPixel(*text)) {
            problems.push_back({setting.place, key, "'" + *text + "'", "instrument:line,sample, for example A:120,45", ""});
        }
        if (key == "sun.time" && !text->empty()) {
            if (const ParsedInstant parsed = parseInstant(*text); !parsed.ok()) {
                problems.push_back({setting.place, key, "'" + *text + "'", parsed.error, ""});
            }
        }
    }
    checkFigureTexts(settings, problems);
}

void giveSet(const std::string& text, int index, Scene& scene, Problems& problems) {
    const Place place{"--set", 1, index + 1};
    const std::size_t equals = text.find('=');
    if (equals == std::string::npos) {
        problems.push_back({place, "", "'" + text + "'", "key=value, for example flight.height=\"5 km\"", ""});
        return;
    }
    std::string key = text.substr(0, equals);
    const std::string value = text.substr(equals + 1);
    std::size_t first = 0;
    std::size_t last = scene.instruments.size();
    const bool every = key.size() <= 2 || key[1] != '.' || key[0] < 'A' || key[0] > 'Z';
    if (!every) {
        first = static_cast<std::size_t>(key[0] - 'A');
        key = key.substr(2);
        if (first >= last) {
            problems.push_back({place, text.substr(0, equals), "no such instrument",
                                "A" + (last > 1 ? std::string(" to ") + static_cast<char>('A' + last - 1) : std::string()) +
                                    " for the instruments in their order",
                                ""});
            return;
        }
        last = first + 1;
    }
    if (const Parameter* row = findSceneRow(key)) {
        if (!every) {
            problems.push_back({place, text.substr(0, equals), "an instrument's letter",
                                key + " without the letter: it is the same for every instrument", ""});
            return;
        }
        if (const auto read = readValue(*row, value, place, problems))
            scene.settings.give(*row, {*read, place, Layer::user}, problems);
        return;
    }
    bool known = false;
    std::vector<std::string> names;
    for (const Parameter& row : sceneRows()) names.push_back(row.key);
    for (std::size_t i = first; i < last; ++i) {
        InstrumentSetup& setup = scene.instruments[i];
        for (const Parameter& row : setup.kindOf().rows) names.push_back(row.key);
        const Parameter* row = findInstrumentRow(setup.kindOf(), key);
        if (row == nullptr) continue;
        Problems found;
        if (const auto read = readValue(*row, value, place, found)) setup.settings.give(*row, {*read, place, Layer::user}, found);
        // The same mistake is told once, however many instruments know the key.
        if (!known) problems.insert(problems.end(), found.begin(), found.end());
        known = true;
    }
    if (!known)
        problems.push_back({place, key, "an unknown key", "a declared key (linefall keys lists them)", nearestName(key, names)});
}

std::unique_ptr<Instrument> makeInstrument(const Scene& scene, std::size_t index, Problems& problems) {
    const InstrumentSetup& setup = scene.instruments.at(index);
    const FlightSettings flight = scene.flightSettings();
    const std::size_t before = problems.size();
    auto instrument = setup.kindOf().make(setup.settings, setup.bands,
                                          {flight.height_m, flight.speed_m_s, flight.length_m, scene.earthRadius_m()}, problems);
    findPlaces(problems, before, {&scene.settings, &setup.settings}, setup.preset);
    return instrument;
}

/// Every band of an eye looks from places of its own.
double looksASample(const Scene& scene, const Instrument& instrument) {
    const double contributions = qualityKeys().read(scene.settings).contributions;
    return instrument.hasReceptors() ? contributions * static_cast<double>(instrument.bands().size()) : contributions;
}

double imageBytes(const Scene& scene, const Instrument& instrument) {
    const double samples = static_cast<double>(instrument.samples()) * instrument.lines();
    const auto bands = static_cast<double>(instrument.bands().size());
    const double looks = samples * looksASample(scene, instrument) * bytes_a_look;
    return samples * (bands * bytes_a_count + bytes_a_sample) + (looks <= most_kept_look_bytes ? looks : 0.0) +
           bytes_a_pattern * bands * instrument.derived().detectors;
}

void checkGeometry(const Scene& scene, bool images_too, Problems& problems) {
    const std::size_t before = problems.size();
    try {
        (void)Motion(scene.flightSettings());
    } catch (const InputError& e) {
        problems.insert(problems.end(), e.problems().begin(), e.problems().end());
        findPlaces(problems, before, {&scene.settings}, scene.flight);
    }
    double bytes = 0.0;
    for (std::size_t i = 0; i < scene.instruments.size(); ++i) {
        const std::size_t first = problems.size();
        const std::unique_ptr<Instrument> instrument = makeInstrument(scene, i, problems);
        if (problems.size() != first || !images_too) continue;
        bytes += imageBytes(scene, *instrument);
        if (bytes > most_image_bytes) {
            problems.push_back(
                {{scene.instruments[i].preset, 0, 0},
                 "",
                 fmt::format("an image of {} samples x {} lines in {} band{}: {:.1f} GiB{}", instrument->samples(),
                             instrument->lines(), instrument->bands().size(), instrument->bands().size() == 1 ? "" : "s",
                             bytes / (1 << 30), i > 0 ? " with the images before it" : ""),
                 fmt::format("at most {:.0f} GiB in all: fewer samples, bands or lines (instrument.line_rate, flight.length)",
                             most_image_bytes / (1 << 30)),
                 ""});
            return;
        }
        if (static_cast<double>(instrument->samples()) * looksASample(scene, *instrument) > most_looks_a_line) {
            problems.push_back({{"", 0, 0},
                                "quality.contributions",
                                fmt::format("{:.0f} looks a sample, {} samples a line", looksASample(scene, *instrument), instrument->samples()),
                                fmt::format("at most {:.0f} looks a line", most_looks_a_line),
                                ""});
            findPlaces(problems, problems.size() - 1, {&scene.settings}, scene.instruments[i].preset);
        }
    }
}

}  // namespace linefall
