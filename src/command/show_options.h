#pragma once
// What the command line says about the look of pictures.

#include <string>

#include "scene/scene.h"

namespace linefall {

/// Puts --stretch ("percent", "none", "LOW..HIGH" in counts) into the scene, so that its state says it too. Throws InputError.
void giveStretch(const std::string& text, Scene& scene);

}  // namespace linefall
