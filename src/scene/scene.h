#pragma once
// Everything that a formation needs, as plain data: a place, a flight, sun, air, and one or more instruments.
// The only reader and writer of scene files.

#include <map>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "base/motion.h"
#include "base/parameter.h"
#include "instruments/registry.h"
#include "scene/place.h"
#include "scene/show_settings.h"

namespace linefall {

/// How finely an image is made.
struct QualitySettings {
    int contributions;  ///< looks a sample
};
[[nodiscard]] const Keys<QualitySettings>& qualityKeys();

struct EarthSettings {
    double radius_m;
};
[[nodiscard]] const Keys<EarthSettings>& earthKeys();

/// One instrument of a scene: a preset and what was changed in it.
struct InstrumentSetup {
    std::string preset;  ///< name or path
    std::string title;
    std::string kind;  ///< "whisk-broom"
    std::vector<Band> bands;
    Settings settings;
    [[nodiscard]] const InstrumentKind& kindOf() const { return *findInstrumentKind(kind); }
};

/// A scene is a value: copy it, change a setting, form it again.
struct Scene {
    std::shared_ptr<const PlaceData> place;
    std::string flight;  ///< name or path of the flight, may be empty
    Settings settings;   ///< flight, sun, air, effect, noise, quality, earth, show
    std::vector<InstrumentSetup> instruments;

    [[nodiscard]] FlightSettings flightSettings() const { return flightKeys().read(settings); }
    [[nodiscard]] ShowSettings showSettings() const { return showKeys().read(settings); }
    [[nodiscard]] double earthRadius_m() const { return earthKeys().read(settings).radius_m; }
};

/// What the command line or the window asks for.
struct SceneRequest {
    std::string state;                     ///< path of a state file, or empty
    std::string place;                     ///< name or path; empty: from the state, else "island"
    std::vector<std::string> instruments;  ///< names or paths; empty: from the state, else whisk broom and push broom
    std::string flight;                    ///< name or path; empty: from the state, else the place's own or the default
    std::vector<std::string> sets;         ///< "key=value"; "A.instrument.bits=8" for the first instrument only
    std::string noise_seed;                ///< --seed; empty: as set
    std::map<std::string, std::string> givens;  ///< put in for {name} in the texts of place, flight and instrument files
    bool needs_ground = true;              ///< false: facts alone, the terrain is not made
    int threads = 0;
};

/// An image may take so much memory while it is formed: counts, radiances, kept looks.
constexpr double most_image_bytes = 8.0 * 1024 * 1024 * 1024;
/// Bytes that forming the image of an instrument takes.
[[nodiscard]] double imageBytes(const Scene& scene, const Instrument& instrument);

/// Loads everything that the request names. Throws InputError with all problems of all files and settings.
[[nodiscard]] Scene loadScene(const SceneRequest& request);

/// The same scene with a preset (name or path) as its instrument `index`, or as one more after the last. Throws InputError
/// with all problems of the preset's file, and of its flight in this scene.
[[nodiscard]] Scene withInstrument(const Scene& scene, std::size_t index, const std::string& preset);

/// All declared parameters outside the instruments.
[[nodiscard]] const std::vector<Parameter>& sceneRows();
/// A declared parameter of the scene by key, or null.
[[nodiscard]] const Parameter* findSceneRow(const std::string& key);
/// A declared parameter of an instrument kind by key ("instrument.bits"), or null.
[[nodiscard]] const Parameter* findInstrumentRow(const InstrumentKind& kind, const std::string& key);

/// Makes the instrument of a setup for the scene's flight; problems of geometry are added.
[[nodiscard]] std::unique_ptr<Instrument> makeInstrument(const Scene& scene, std::size_t index, Problems& problems);

/// The scene as a state file: opened again it gives the same scene. Paths are written for a state that lies in `folder`:
/// relative to it while that needs no more than one step up, else absolute. Relative paths in a state are looked for in the
/// state's folder first, then in the working directory.
[[nodiscard]] std::string stateText(const Scene& scene, const std::string& folder = "");

/// Names of the files of each instrument: the preset's own name; a second instrument of the same name gets a number.
[[nodiscard]] std::vector<std::string> fileStems(const Scene& scene);

/// Every problem of a scene file of any kind (state, place, instrument, flight). Empty: it is sound.
[[nodiscard]] Problems inspectFile(const std::string& path);

/// What a scene file holds: a file tells its kind by the key that only that kind must have.
enum class SceneFileKind { state, place, instrument, flight, materials };
/// The kind of a file; problems when it cannot be read as TOML.
[[nodiscard]] std::optional<SceneFileKind> kindOfFile(const std::string& path, Problems& problems);

/// Names of the scene files that come with the program, sorted, with their titles. `folder`: "places", "instruments", "flights".
struct Listed {
    std::string name, title, description;
};
[[nodiscard]] std::vector<Listed> listScenes(const std::string& folder);

/// The folder `scenes`: beside the program, where it was built from, or where it was installed.
[[nodiscard]] std::string scenesFolder();

}  // namespace linefall
