#pragma once
// Materials from TOML: the common list scenes/materials.toml, and a place's own.

#include "physics/material.h"
#include "scene/toml_reader.h"

namespace linefall {

/// Adds the [[material]] tables of `reader` to `materials`; a name that stands already is a problem.
void readMaterials(TableReader& reader, Materials& materials);
/// Index of a material by name; adds a problem and gives 0 for an unknown one.
[[nodiscard]] std::uint16_t materialIndex(const Materials& materials, const std::string& name, TableReader& reader,
                                          const std::string& key);

}  // namespace linefall
