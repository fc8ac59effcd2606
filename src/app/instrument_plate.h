#pragma once
// The plates over the flight that show an instrument at work: where they stand.

#include <utility>
#include <vector>

#include "app/ui.h"

namespace linefall {

struct Desk;

/// Each craft whose instrument is shown in a view of the flight, and the place of its plate.
[[nodiscard]] std::vector<std::pair<int, Rect>> instrumentPlates(const Desk& desk, const Rect& view);

}  // namespace linefall
