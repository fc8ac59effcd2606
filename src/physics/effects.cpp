#include "physics/effects.h"

namespace linefall {

const Keys<EffectSettings>& effectKeys() {
    using E = EffectSettings;
    static const Keys<E> keys = [] {
        Keys<E> k("effect.");
        k.flag("cast_shadow", &E::cast_shadow, true, "things between a point and the sun take its beam away")
            .flag("slope_shading", &E::slope_shading, true, "a tilted surface gathers the beam by the cosine of its own incidence")
            .flag("skylight", &E::skylight, true, "light scattered by the air reaches the ground from the sky")
            .flag("glint", &E::glint, false, "water mirrors the sun as a rough sea does")
            .number("glint_wind", Kind::speed, &E::glint_wind_m_s, 4.0, 0.0, 20.0, "wind that roughens the sea, for glint")
            .flag("perspective", &E::perspective, true, "lines of sight spread from one point; off: all run parallel to the platform's downward axis, one nadir spacing apart")
            .flag("relief", &E::relief, true, "what stands above or below datum is displaced in the image; off: every look meets the ground straight over its point of datum")
            .flag("sweep_motion", &E::sweep_motion, true, "the platform moves while the mirror sweeps a line")
            .flag("blur", &E::blur, true, "a sample gathers light over its footprint, its optics and its dwell; off: from one point")
            .flag("cos4", &E::cos4, true, "frame and push broom lose light away from the axis")
            .flag("shot_noise", &E::shot_noise, true, "light arrives in photons: Poisson noise")
            .flag("read_noise", &E::read_noise, true, "the amplifier adds noise of its own")
            .flag("dark_current", &E::dark_current, true, "warm detectors gather electrons without light")
            .flag("pattern", &E::pattern, true, "every detector has its own gain and offset, and some are dead")
            .flag("quantisation", &E::quantisation, true, "counts have the instrument's bits; off: 16 bits, steps too fine to see")
            .flag("saturation", &E::saturation, true, "a full well clips; the largest count of the converter always does");
        return k;
    }();
    return keys;
}

}  // namespace linefall
