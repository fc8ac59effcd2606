#pragma once
// A drawing as SVG 1.1: text stays text, rasters are embedded, and what it shows is said in words.

#include <string>

#include "figure/drawing.h"

namespace linefall {

/// Well-formed XML for any text: what XML cannot hold becomes the replacement character.
[[nodiscard]] std::string svgText(const Drawing& drawing);

/// A text as it stands in XML, between tags or in an attribute.
[[nodiscard]] std::string xmlText(const std::string& text);

/// Bytes as base64 (RFC 4648, section 4).
[[nodiscard]] std::string base64(const std::string& bytes);

}  // namespace linefall
