#pragma once
// Inside the scene module: where scene files lie and how each kind is read.

#include <string>

#include "scene/scene.h"

namespace linefall {

/// The path of a scene file by name (scenes/FOLDER/NAME.toml) or path; adds a problem with the nearest name when it is neither.
[[nodiscard]] std::string resolveSceneFile(const std::string& folder, const std::string& name_or_path, Problems& problems);

/// Reads a place and its materials and, unless told not to, makes its ground; `place.ground` stays empty when there are
/// problems. The terrain's own keys are judged only when the ground is made.
void readPlace(const std::string& path, PlaceData& place, bool make_ground, int threads, Problems& problems);
/// Reads an instrument preset into a setup (layer preset).
void readInstrumentFile(const std::string& path, InstrumentSetup& setup, Problems& problems);
/// Reads a flight file into settings (layer preset).
void readFlightFile(const std::string& path, Settings& settings, Problems& problems);

}  // namespace linefall
