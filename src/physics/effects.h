#pragma once
// One cause at a time: a switch for every effect that is not switched in its own stage.

#include "base/parameter.h"

namespace linefall {

struct EffectSettings {
    bool cast_shadow, slope_shading, skylight, glint;
    bool perspective, relief, sweep_motion, blur, cos4;
    double glint_wind_m_s;
    bool shot_noise, read_noise, dark_current, pattern, quantisation, saturation;
};

[[nodiscard]] const Keys<EffectSettings>& effectKeys();

}  // namespace linefall
