#pragma once
// Facts as JSON, for `facts` and for the file beside an image.

#include <nlohmann/json.hpp>

#include "instruments/facts.h"

namespace linefall {

[[nodiscard]] nlohmann::ordered_json factsJson(const Facts& facts, const std::string& preset, const std::string& kind);

}  // namespace linefall
