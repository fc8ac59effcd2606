#pragma once
// Small scenes for tests, through the program's own door: texts of places and instruments are written to a folder of
// this process and loaded as files, settings are given as by --set.

#include <unistd.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <functional>
#include <stdexcept>
#include <string>
#include <vector>

#include "flight/formation.h"
#include "flight/scene_facts.h"
#include "scene/scene.h"

namespace linefall::test {

using Sets = std::vector<std::string>;

/// A folder of this process, removed at its end.
inline const std::string& folder() {
    struct Folder {
        std::string path = (std::filesystem::temp_directory_path() / ("linefall-test-" + std::to_string(::getpid()))).string();
        Folder() { std::filesystem::create_directories(path); }
        ~Folder() {
            std::error_code ignored;
            std::filesystem::remove_all(path, ignored);
        }
    };
    static const Folder made;
    return made.path;
}

/// Writes a text under a name that follows from its content, and returns the path.
inline std::string written(const std::string& text, const std::string& extension = ".toml") {
    const std::string path = folder() + "/" + std::to_string(std::hash<std::string>{}(text)) + extension;
    if (!std::filesystem::exists(path)) std::ofstream(path) << text;
    return path;
}

/// Level ground of 20 % with named greys; `things` are tables of objects, paints and landforms.
inline std::string levelPlace(const std::string& things = "", const std::string& size = "2 km", const std::string& spacing = "10 m",
                              const std::string& height = "0 m") {
    std::string text = "latitude = \"45 deg\"\nlongitude = \"0 deg\"\nbeyond = \"ground\"\n";
    for (const auto& [name, percent] : std::vector<std::pair<std::string, int>>{
             {"ground", 20}, {"black", 0}, {"grey2", 2}, {"grey5", 5}, {"grey10", 10}, {"grey40", 40}, {"grey60", 60}, {"grey80", 80}, {"white", 100}}) {
        text += "[[material]]\nname = \"" + name + "\"\nreflectance = \"" + std::to_string(percent) + " %\"\n";
    }
    return text + "[terrain]\nkind = \"level\"\nmaterial = \"ground\"\nsize = \"" + size + "\"\nspacing = \"" + spacing +
           "\"\nheight = \"" + height + "\"\n" + things;
}

inline std::string metres(double value) { return std::to_string(value) + " m"; }

/// One [[paint]] table; `more` are further lines.
inline std::string paint(const std::string& pattern, double east, double north, double length, double width, const std::string& more) {
    return "[[paint]]\npattern = \"" + pattern + "\"\neast = \"" + metres(east) + "\"\nnorth = \"" + metres(north) +
           "\"\nlength = \"" + metres(length) + "\"\nwidth = \"" + metres(width) + "\"\n" + more + "\n";
}

/// A cylinder with a white top and black sides, so that its top stands out in counts.
inline std::string tower(double east, double north, double diameter, double height, const std::string& top = "white",
                         const std::string& sides = "black") {
    return "[[object]]\nshape = \"cylinder\"\neast = \"" + metres(east) + "\"\nnorth = \"" + metres(north) + "\"\ndiameter = \"" +
           metres(diameter) + "\"\nheight = \"" + metres(height) + "\"\nmaterial = \"" + top + "\"\nsides = \"" + sides + "\"\n";
}

/// An instrument of one green band, 520 to 600 nm, quantum efficiency 50 %; `keys` are lines of its file.
inline std::string oneBand(const std::string& kind, const std::string& keys = "") {
    return written("kind = \"" + kind + "\"\n" + keys + "\n[[band]]\nname = \"green\"\nfrom = \"520 nm\"\nto = \"600 nm\"\nquantum_efficiency = \"50 %\"\n");
}

/// No air and no noise of any kind, no cos^4, no pattern: counts follow the ground alone, in 16 bits.
inline Sets bare() {
    return {"air.on=false", "effect.shot_noise=false", "effect.read_noise=false", "effect.dark_current=false",
            "effect.pattern=false", "effect.cos4=false", "instrument.bits=16"};
}

inline Sets operator+(Sets a, const Sets& b) {
    a.insert(a.end(), b.begin(), b.end());
    return a;
}

/// `place` and `instrument`: names or paths.
inline Scene sceneOf(const std::string& place, const std::string& instrument, const Sets& sets = {}, bool needs_ground = true) {
    SceneRequest request;
    request.place = place;
    request.instruments = {instrument};
    request.sets = sets;  // a later set of a key replaces an earlier one
    request.needs_ground = needs_ground;
    return loadScene(request);
}

/// A whole image.
inline Image imageOf(const Scene& scene, int threads = 0) {
    Formation formation(scene, 0);
    formation.formAll(threads);
    return formation.image();
}

/// The scene with more settings, as --set gives them.
inline Scene with(Scene scene, const Sets& sets) {
    Problems problems;
    for (const std::string& set : sets) {
        const std::size_t equals = set.find('=');
        const std::string key = set.substr(0, equals);
        const std::string text = set.substr(equals + 1);
        if (const Parameter* row = findSceneRow(key)) {
            if (const auto value = readValue(*row, text, {}, problems)) scene.settings.replace(*row, *value);
            continue;
        }
        for (InstrumentSetup& setup : scene.instruments) {
            const Parameter* row = findInstrumentRow(setup.kindOf(), key);
            if (row == nullptr) problems.push_back({{}, key, "", "a known key", ""});
            else if (const auto value = readValue(*row, text, {}, problems)) setup.settings.replace(*row, *value);
        }
    }
    if (!problems.empty()) throw InputError(problems);
    return scene;
}

/// The scene with a gain that writes the reference panel of 20 % as so many counts, and a well that nothing fills.
inline Scene exposed(const Scene& scene, double counts_of_panel = 8000.0) {
    const double signal_e = factsOfScene(scene, 0).bands[0].signal_e;
    if (signal_e > 1.9e8) throw std::logic_error("a white panel would fill the largest well: give the test's instrument a smaller detector");
    char gain[64];
    std::snprintf(gain, sizeof gain, "instrument.gain=%.9g e", signal_e / counts_of_panel);
    return with(scene, {"instrument.full_well=1000000000 e", gain});
}

/// Problems that loading a scene meets, as text; empty when it loads.
inline std::string complaintsOf(const std::string& place, const std::string& instrument, const Sets& sets) {
    try {
        (void)sceneOf(place, instrument, sets);
        return "";
    } catch (const InputError& e) {
        return e.what();
    }
}

/// Mean of counts over samples first_s .. last_s - 1 and lines first_l .. last_l - 1, at the middle of their steps.
inline double meanCount(const Image& image, int first_s, int last_s, int first_l, int last_l, std::size_t band = 0) {
    double sum = 0.0;
    for (int l = first_l; l < last_l; ++l) {
        for (int s = first_s; s < last_s; ++s) sum += image.counts[band].at(s, l) + 0.5;
    }
    return sum / ((last_s - first_s) * (last_l - first_l));
}

}  // namespace linefall::test
