#pragma once
// Inside the scene module: where scene files lie and how each kind is read.

#include <string>

#include "scene/scene.h"
#include "scene/toml_reader.h"

namespace linefall {

/// The path of a scene file by name (scenes/FOLDER/NAME.toml) or path; adds a problem with the nearest name when it is neither.
/// `place`: where it is named, when that is known.
[[nodiscard]] std::string resolveSceneFile(const std::string& folder, const std::string& name_or_path, Problems& problems,
                                           const Place& place = {});

/// True for a path, false for a name: a path has a '/' in it or ends in .toml.
[[nodiscard]] bool isScenePath(const std::string& name_or_path);
/// A path as an absolute one; relative ones stand in `folder` when there is such a file, else in the working directory. Names
/// stay.
[[nodiscard]] std::string locatedScene(const std::string& name_or_path, const std::string& folder);

/// Makes the ground of a sound plan (scene/place_reader.h); `plan.data.ground` stays empty when there are problems.
void makeGround(struct PlacePlan& plan, int threads, Problems& problems);
/// Reads an instrument preset into a setup (layer preset).
void readInstrument(const toml::table& file, const std::string& path, InstrumentSetup& setup, Problems& problems);
/// Reads a flight into settings.
void readFlight(const toml::table& file, const std::string& path, Layer layer, Settings& settings, Problems& problems);

/// Loads a state that was parsed already; as loadScene.
[[nodiscard]] Scene loadState(const toml::table& state, const std::string& path, const SceneRequest& request);
/// As inspectFile, for a parsed file or for a text that is said to come from `path`. `make_ground` false: heights are not
/// made, pictures not read.
[[nodiscard]] Problems inspectTable(const toml::table& file, const std::string& path, bool make_ground);
[[nodiscard]] Problems inspectText(const std::string& text, const std::string& path, bool make_ground);

/// One "key=value" of --set; "A." or "B." in front of an instrument key names the first or second instrument.
void giveSet(const std::string& text, int index, Scene& scene, Problems& problems);
/// What a declared row cannot say: seeds are whole numbers, a time is RFC 3339.
void checkTexts(const Settings& settings, Problems& problems);
/// What can be judged only when every value is sound: geometry, and the memory of the images. Problems stand at the
/// setting that caused them where one is known.
void checkGeometry(const Scene& scene, bool images_too, Problems& problems);

}  // namespace linefall
