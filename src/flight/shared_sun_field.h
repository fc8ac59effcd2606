#pragma once
// One sun field for all that look at the same ground under the same sun.

#include <memory>

#include "ground/sun_field.h"

namespace linefall {

/// Instruments that fly together share the last field made, as long as one of them holds it.
[[nodiscard]] std::shared_ptr<const SunField> sharedSunField(const std::shared_ptr<const Ground>& ground, const Vec3& towards);

/// The same field where somebody holds it already, else nothing.
[[nodiscard]] std::shared_ptr<const SunField> heldSunField(const std::shared_ptr<const Ground>& ground, const Vec3& towards);

}  // namespace linefall
