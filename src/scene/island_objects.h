#pragma once
// Everything people built: they level the ground, cover it, and put up things of stated height.

#include <vector>

#include "ground/object.h"
#include "scene/island_map.h"
#include "scene/landscape.h"

namespace linefall::island {

/// Materials of buildings, looked up once.
struct BuildingMaterials {
    std::uint16_t red_roof, brown_roof, grey_roof, white_wall, concrete, rock, salt, gravel, asphalt, soil;
    explicit BuildingMaterials(const MaterialByName& material);
};

/// Town, harbour, quarry, saltworks, silos, lighthouse, airstrip and roads, in that order of precedence.
void buildPlaces(const Plan& plan, Map& map, const MaterialByName& material, std::vector<Object>& objects);

void buildTown(const Plan& plan, Map& map, const BuildingMaterials& of, std::vector<Object>& objects);    // island_town.cpp
void buildQuarry(const Plan& plan, Map& map, const BuildingMaterials& of, std::vector<Object>& objects);  // island_quarry.cpp
void buildSaltworks(const Plan& plan, Map& map, const BuildingMaterials& of,
                    std::vector<Object>& objects);  // island_saltworks.cpp

[[nodiscard]] Object thing(Shape shape, const char* name, float east, float north, double length_m, double width_m,
                           double height_m, double heading_rad, std::uint16_t top, std::uint16_t side);

}  // namespace linefall::island
