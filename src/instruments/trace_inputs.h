#pragma once
// What the formulas of the walk ask for beside the numbers that the walk itself writes down: depths of the air, normals,
// phases, settings. All of it is read from the very objects that the walk used; the walk's own numbers stand in light_walk.cpp.

#include "base/trace.h"
#include "instruments/light_walk.h"

namespace linefall {

/// Adds inputs of stages 1 to 5 and of the aim, for the first sample of the part. The trace holds walkToSensor's rows.
void traceInputs(const LightPath& path, const Weather& weather, const LineLooks& looks, const LinePart& part, Trace& trace);
/// Adds inputs of stages 6 to 9; the trace holds walkToCounts' rows.
void traceReadout(const LightPath& path, const LinePart& part, Trace& trace);

}  // namespace linefall
