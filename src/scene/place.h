#pragma once
// A place: what is flown over, and where on Earth it lies.

#include <map>
#include <memory>
#include <string>

#include "ground/ground.h"
#include "physics/material.h"
#include "physics/sun.h"

namespace linefall {

struct PlaceData {
    std::string name;           ///< as asked for: "island", or a path
    std::string title;          ///< "The island"
    std::string description;    ///< one or two sentences
    SunSite site;               ///< latitude, longitude, altitude of the datum
    double utc_offset_s = 0.0;  ///< of the local clock
    Materials materials;
    std::shared_ptr<const Ground> ground;
};

/// Loads a place by name (scenes/places/NAME.toml) or path (a .toml file). Throws InputError with all problems.
/// `make_ground` false: the terrain is not made and `ground` is null.
/// `givens`: put in for {name} in its texts (scene/givens.h).
[[nodiscard]] std::shared_ptr<const PlaceData> loadPlace(const std::string& name_or_path, bool make_ground = true, int threads = 0,
                                                         const std::map<std::string, std::string>& givens = {});

}  // namespace linefall
