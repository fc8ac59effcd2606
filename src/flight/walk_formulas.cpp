#include "flight/walk_formulas.h"

#include "base/constants.h"

namespace linefall {

namespace {

using Scope = const WalkScope&;

// When a row holds.
bool sunUp(Scope w) { return w.sunIsUp(); }
bool airAndSun(Scope w) { return w.air() && w.sunIsUp(); }
bool air(Scope w) { return w.air(); }
bool slopeShading(Scope w) { return w.effects().slope_shading; }
bool mirrors(Scope w) { return w.has("r_g") && w.value("r_g") > 0.0; }
bool below(Scope w) { return w.air() && w.value("dtau") < 0.0; }
bool lookingUp(Scope w) { return w.value("Z") <= w.value("z"); }
bool viewAboveHorizon(Scope w) { return w.value("theta_v") < 0.5 * constants::pi; }
bool sumsHaze(Scope w) { return airAndSun(w) && w.value("zeta") != 0.0 && w.value("dtau") > 0.0; }
bool sumsHazeFromBelow(Scope w) { return airAndSun(w) && w.value("zeta") != 0.0 && below(w); }
bool several(Scope w) { return w.looks() > 1; }
bool manyLinesASweep(Scope w) { return w.has("n_l") && w.value("n_l") > 1.0; }
bool scans(Scope w) { return w.has("T_l"); }
bool stands(Scope w) { return !w.effects().sweep_motion; }
bool straight(Scope w) { return w.has("X_0"); }
bool dark(Scope w) { return w.effects().dark_current; }
bool saturates(Scope w) { return w.effects().saturation; }
bool shot(Scope w) { return w.has("n_s"); }
bool softly(Scope w) { return w.has("h"); }
bool quantised(Scope w) { return w.effects().quantisation; }
bool gainFollows(Scope w) {
    return w.effects().quantisation && w.effects().saturation && !w.formation().instrument().converter().gain_e;
}

// What depends on the pixel.
std::string saySun(Scope w) {
    const std::string& time = w.formation().sunSettings().time;
    return time.empty() ? "set by hand" : "from the date and time " + time + " and the place's latitude and longitude";
}
std::string sayBlocked(Scope w) {
    if (!w.effects().cast_shadow) return "cast shadow is switched off: the sun is taken to be in full view";
    const Why& why = w.why();
    std::string words = w.formation().sunSettings().disc ? "searched: rays to 24 points of the sun's disc, which of them get through" : "searched: a ray to the sun";
    if (!why.sun.up()) return "the sun is below the horizon";
    if (why.local_incidence_rad >= 0.5 * constants::pi) return "the surface faces away from the sun";
    if (!why.blocked_by.empty()) return words + (w.value("V_sun") > 0.0 ? "; the middle one is" : "; it is") + " blocked by " + why.blocked_by;
    return words + (w.value("V_sun") < 1.0 ? "" : "; nothing is in the way");
}
std::string saySky(Scope w) {
    return w.effects().skylight ? "searched: how much of the sky the terrain around leaves free, weighted by the surface's cosine"
                                : "skylight is switched off";
}
std::string sayMaterial(Scope w) {
    if (w.sky()) return "the look meets no ground: nothing is reflected";
    const auto& materials = w.formation().place().materials;
    const Material& material = materials[static_cast<std::size_t>(w.value("material"))];
    return "looked up: the spectrum of " + material.name + ", mean over the band under the sun's spectrum";
}
std::string sayNoGlint(Scope w) {
    if (!w.effects().glint) return "glint is switched off";
    return w.has("r_g") ? "no wave mirrors the sun here" : "no water: nothing mirrors the sun";
}
std::string sayTime(Scope w) {
    const double before = w.value("t_l") - w.value("t");
    if (before == 0.0) return "the middle of the line";
    return "from the instrument's own clockwork: " + shortText(std::abs(before), Kind::time, 3) + (before > 0.0 ? " before" : " after") + " the middle of the line";
}
std::string sayAperture(Scope w) {
    return w.formation().instrument().hasReceptors() ? "focal length over the diameter of the pupil" : "set: focal length over the diameter of the aperture";
}
std::string sayOffAxis(Scope w) {
    if (!w.effects().cos4) return "the fall of light off the axis is switched off";
    return w.formation().instrument().hasMirror() ? "the mirror brings every direction to the axis" : "how far from the axis this detector lies";
}
std::string sayPattern(Scope w) {
    return w.effects().pattern ? "drawn once for this detector, from the instrument's seed" : "the detectors' pattern is switched off";
}
std::string sayReadNoise(Scope w) { return w.effects().read_noise ? "set (standard deviation)" : "read noise is switched off"; }
std::string sayDrawnRead(Scope w) {
    return w.effects().read_noise ? "drawn by chance: a normal deviate times σ_r, from the noise's seed" : "read noise is switched off";
}
std::string sayLooks(Scope w) {
    return w.looks() > 1 ? "mean over the " + std::to_string(w.looks()) + " looks that the sample gathers; above stand the numbers of one of them" : "";
}
std::string sayStep(Scope w) {
    if (!w.effects().quantisation) return "quantisation is switched off: steps too fine to see, 65 536 over the converter's range";
    return w.formation().instrument().converter().gain_e ? "set" : "the converter's range filled by the full well";
}

}  // namespace

const std::vector<WalkFormula>& walkFormulas() {
    static const char* kasten_young = "relative air mass after Kasten and Young 1989";
    static const std::vector<WalkFormula> table{
        // sun
        {0, "A", "", "", nullptr, saySun},
        {0, "gamma_s", "", "", nullptr, saySun},
        {0, "theta_s", "90° - {gamma_s}", ""},
        {0, "d", "", "set, or from the date; 1 au without one"},
        {0, "E_1", "", "looked up: the solar spectrum, mean over the band's response"},
        {0, "E_0", "{E_1} / {d}^2", ""},
        // air, down
        {1, "m_s", "1 / (cos({theta_s}) + 0.50572 * (96.07995 - {theta_s} / 1°)^(-1.6364))", kasten_young, sunUp},
        {1, "m_s", "", "the sun is at or below the horizon: the value of the horizon is kept"},
        {1, "tau_R", "", "looked up: scattering by molecules, mean over the band (Bodhaine and others 1999)"},
        {1, "tau_A", "", "from air.aerosol_depth at 0.55 µm and air.angstrom, mean over the band"},
        {1, "tau", "{tau_R} + {tau_A}", "", air},
        {1, "tau", "", "the air is switched off: it takes nothing"},
        {1, "p_z", "", "looked up: the standard atmosphere at the height z of the ground point"},
        {1, "H", "", "set (air.aerosol_height)"},
        {1, "a_z", "exp(-{z} / {H})", "z: height of the ground point"},
        {1, "tau_z", "{tau_R} * {p_z} + {tau_A} * {a_z}", ""},
        {1, "E_b", "{E_0} * exp(-{m_s} * {tau_z})", "", airAndSun},
        {1, "E_b", "{E_0}", "the air is switched off: it takes nothing", sunUp},
        {1, "E_b", "", "the sun is below the horizon: no beam"},
        {1, "k_s", "", "looked up: light scattered once, summed over the whole sky"},
        {1, "E_s", "{E_0} * {k_s}", "", air},
        {1, "E_s", "", "the air is switched off: the sky is black"},
        // ground
        {2, "n_x", "", "of the place where the look ends"},
        {2, "n_y", "", "as n_x"},
        {2, "n_z", "", "as n_x"},
        {2, "cos i", "{n_x} * sin({theta_s}) * sin({A}) + {n_y} * sin({theta_s}) * cos({A}) + {n_z} * cos({theta_s})",
         "normal times direction to the sun", slopeShading},
        {2, "cos i", "cos({theta_s})", "slope shading is switched off: as on level ground"},
        {2, "i", "acos({cos i})", ""},
        {2, "V_sun", "", "", nullptr, sayBlocked},
        {2, "V_sky", "", "", nullptr, saySky},
        {2, "E", "{E_b} * max(0, {cos i}) * {V_sun} + {E_s} * {V_sky}", "a shadow takes the beam, not the skylight"},
        {2, "rho", "", "", nullptr, sayMaterial},
        {2, "U", "", "set (effect.glint_wind)"},
        {2, "s2", "0.003 + 0.00512 * {U}", "waves after Cox and Munk 1954"},
        {2, "cos w", "sqrt((1 - {cos Theta}) / 2)", ""},
        {2, "cos b", "min(1, (cos({theta_s}) + cos({theta_v})) / (2 * {cos w}))", ""},
        {2, "cos w'", "sqrt(1 - (1 - {cos w}^2) / 1.34^2)", "refraction into water of index 1.34"},
        {2, "F",
         "(({cos w} - 1.34 * {cos w'}) / ({cos w} + 1.34 * {cos w'}))^2 / 2 + ((1.34 * {cos w} - {cos w'}) / (1.34 * {cos w} + {cos w'}))^2 / 2",
         "Fresnel's law"},
        {2, "r_g", "{F} * exp((1 - 1 / {cos b}^2) / {s2}) / (pi * {s2}) / (4 * cos({theta_v}) * {cos b}^4)", "", mirrors},
        {2, "r_g", "", "no wave mirrors the sun here"},
        {2, "L_glint", "{E_b} * {V_sun} * {r_g}", "", mirrors},
        {2, "L_glint", "", "", nullptr, sayNoGlint},
        {2, "L_g", "{rho} * {E} / pi + {L_glint}", "a matt surface sends the same towards every side"},
        // air, up
        {3, "m_v", "1 / (cos({theta_v}) + 0.50572 * (96.07995 - {theta_v} / 1°)^(-1.6364))", kasten_young, viewAboveHorizon},
        {3, "m_v", "", "a level look, or one upwards: the value of the horizon is kept"},
        {3, "p_Z", "", "looked up: the standard atmosphere at the sensor's height Z"},
        {3, "a_Z", "exp(-{Z} / {H})", ""},
        {3, "tau_Z", "{tau_R} * {p_Z} + {tau_A} * {a_Z}", ""},
        {3, "dtau_R", "{tau_R} * ({p_z} - {p_Z})", ""},
        {3, "dtau_A", "{tau_A} * ({a_z} - {a_Z})", ""},
        {3, "dtau", "{dtau_R} + {dtau_A}", ""},
        {3, "T", "exp({m_v} * {dtau})", "the sensor is below the ground point", below},
        {3, "T", "exp(-{m_v} * {dtau})", "", air},
        {3, "T", "", "the air is switched off: it takes nothing"},
        {3, "cos Theta", "-(({X} - {x}) * sin({theta_s}) * sin({A}) + ({Y} - {y}) * sin({theta_s}) * cos({A}) + ({Z} - {z}) * cos({theta_s})) / {D}",
         "1: the light goes straight on"},
        {3, "P_R", "3 / 4 * (1 + {cos Theta}^2)", "Rayleigh 1871"},
        {3, "g_a", "", "set (air.asymmetry)"},
        {3, "P_A", "(1 - {g_a}^2) / (1 + {g_a}^2 - 2 * {g_a} * {cos Theta})^1.5", "Henyey and Greenstein 1941"},
        {3, "omega_a", "", "set (air.aerosol_albedo)"},
        {3, "zeta", "({m_s} - {m_v}) * {dtau}", "", below},
        {3, "zeta", "({m_s} + {m_v}) * {dtau}", ""},
        {3, "L_p", "{E_0} * exp(-{m_s} * {tau_Z}) * {m_v} * ({dtau_R} * {P_R} + {omega_a} * {dtau_A} * {P_A}) / (4 * pi) * (1 - exp(-{zeta})) / {zeta}",
         "light scattered once into the look", sumsHaze},
        {3, "L_p", "-{E_0} * exp(-{m_s} * {tau_Z}) * {m_v} * ({dtau_R} * {P_R} + {omega_a} * {dtau_A} * {P_A}) / (4 * pi) * (1 - exp(-{zeta})) / {zeta}",
         "light scattered once into the look", sumsHazeFromBelow},
        {3, "L_p", "", "no air, no sun, or no air between ground and sensor: no haze"},
        {3, "L_a", "{L_g} * {T} + {L_p}", "", [](Scope w) { return !w.sky(); }},
        {3, "L_a", "", "the look meets no ground: nothing is counted"},
        {3, "L", "mean({L_a})", "", several, sayLooks},
        {3, "L", "{L_a}", ""},
        // aim
        {4, "l", "", "as picked"},
        {4, "n_l", "", "set (detectors along the track)", manyLinesASweep},
        {4, "n_l", "", "one line at a time"},
        {4, "T_l", "", "one over the line rate"},
        {4, "t_l", "(floor({l} / {n_l}) + 1 / 2) * {n_l} * {T_l}", "", manyLinesASweep},
        {4, "t_l", "({l} + 1 / 2) * {T_l}", "", scans},
        {4, "t_l", "", "all lines at once: the middle of the exposure"},
        {4, "t", "{t_l}", "motion during the sweep is switched off", stands},
        {4, "t", "", "", nullptr, sayTime},
        {4, "X_0", "", "set (flight.start_east)"},
        {4, "Y_0", "", "set (flight.start_north)"},
        {4, "v_x", "", "from speed and track"},
        {4, "v_y", "", "as v_x"},
        {4, "X", "{X_0} + {v_x} * {t}", "", straight},
        {4, "X", "", "where this line of sight begins: lines of sight are parallel"},
        {4, "Y", "{Y_0} + {v_y} * {t}", "", straight},
        {4, "Y", "", "where this line of sight begins: lines of sight are parallel"},
        {4, "Z", "", "flying height"},
        {4, "e_c", "", "looked up: the nearest receptor of this band's kind on the retina, which is laid out from the instrument's seed"},
        {4, "d_c", "", "as e_c: nought where the pixel lies on its receptor"},
        {4, "x", "", "searched: where the line of sight first meets the ground"},
        {4, "y", "", "as x"},
        {4, "z", "", "as x"},
        {4, "D", "sqrt(({X} - {x})^2 + ({Y} - {y})^2 + ({Z} - {z})^2)", ""},
        {4, "theta_v", "acos(({Z} - {z}) / {D})", "", lookingUp},
        {4, "theta_v", "atan(sqrt(({X} - {x})^2 + ({Y} - {y})^2) / ({Z} - {z}))", ""},
        // optics
        {5, "N", "", "", nullptr, sayAperture},
        {5, "t_o", "", "set"},
        {5, "cos a", "", "", nullptr, sayOffAxis},
        {5, "p", "", "set, or from IFOV and focal length"},
        {5, "dlambda", "", "the area under the band's response"},
        {5, "P", "{L} * pi * {t_o} / (4 * {N}^2 + 1) * {cos a}^4 * {p}^2 * {dlambda}", ""},
        // detector
        {6, "t_d", "", "from the line rate and the scan: how long this detector gathers"},
        {6, "eta", "", "of the band, as its file gives it"},
        {6, "lambda", "", "looked up: mean wavelength of the band under the sun's spectrum"},
        {6, "E_ph", "6.62607015 * 10^-34 * 299792458 / ({lambda} * 10^-6)", "Planck's constant times the speed of light over the wavelength"},
        {6, "g", "", "", nullptr, sayPattern},
        {6, "o", "", "", nullptr, sayPattern},
        {6, "i_d", "", "set"},
        {6, "n_d", "{i_d} * {t_d}", "", dark},
        {6, "n_d", "", "dark current is switched off"},
        {6, "n_w", "", "set"},
        {6, "n_e", "min({n_w}, max(0, {P} * {t_d} * {eta} / {E_ph} * {g} + {n_d} + {o}))", "", saturates},
        {6, "n_e", "max(0, {P} * {t_d} * {eta} / {E_ph} * {g} + {n_d} + {o})", "saturation is switched off"},
        {6, "sigma_s", "sqrt({n_e})", ""},
        {6, "n_s", "", "drawn by chance: Poisson's law about n_e, from the noise's seed"},
        {6, "sigma_r", "", "", nullptr, sayReadNoise},
        {6, "e_r", "", "", nullptr, sayDrawnRead},
        {6, "n", "{n_s} + {e_r}", "", shot},
        {6, "n", "{n_e} + {e_r}", "shot noise is switched off"},
        // counts
        {7, "b", "", "set"},
        {7, "q", "{n_w} / 2^{b}", "the full well fills the converter", gainFollows},
        {7, "q", "", "", nullptr, sayStep},
        {7, "DN_max", "2^{b} - 1", "", quantised},
        {7, "DN_max", "", "quantisation is switched off: 16 bits stand for steps too fine to see"},
        {7, "h", "", "set: to what light this receptor has adapted"},
        {7, "DN", "min({DN_max}, floor(({DN_max} + 1) * max(0, {n}) / (max(0, {n}) + {h})))", "a receptor saturates softly (Naka and Rushton 1966)", softly},
        {7, "DN", "min({DN_max}, max(0, floor({n} / {q})))", "floor: down to a whole number of steps"},
    };
    return table;
}

}  // namespace linefall
