#pragma once
// A place file as plain data: everything but the ground itself.

#include <vector>

#include "ground/object.h"
#include "ground/paint.h"
#include "scene/place.h"
#include "scene/terrain_reader.h"

namespace linefall {

struct PlacePlan {
    PlaceData data;  ///< without ground
    TerrainPlan terrain;
    std::vector<Object> objects;
    std::vector<Place> object_places;  ///< of each object, for messages
    std::vector<Paint> paints;
    std::uint16_t beyond = 0;
};

/// Reads a place and its materials; problems are added.
void readPlace(const toml::table& file, const std::string& path, PlacePlan& plan, Problems& problems);

}  // namespace linefall
