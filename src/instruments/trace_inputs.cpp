#include "instruments/trace_inputs.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/constants.h"
#include "physics/noise.h"
#include "physics/solar_spectrum.h"

namespace linefall {

namespace {

/// Values that the walk wrote down, one a look.
struct OfLooks {
    std::vector<double> t, x, y, z, sensor_x, sensor_y, sensor_z, cos_i, m_v, p_z, a_z;
    double m_s = 1.0, p_Z = 1.0, a_Z = 1.0;

    explicit OfLooks(const Trace& trace) {
        for (const TraceRow& row : trace.rows()) {
            if (row.symbol == "m_s") m_s = row.value;
            if (row.contribution < 0) continue;
            for (const auto& [symbol, values] : {std::pair{"t", &t}, std::pair{"x", &x}, std::pair{"y", &y}, std::pair{"z", &z}, std::pair{"X", &sensor_x},
                                                 std::pair{"Y", &sensor_y}, std::pair{"Z", &sensor_z}, std::pair{"cos i", &cos_i}, std::pair{"m_v", &m_v}}) {
                if (row.symbol == symbol) values->push_back(row.value);
            }
        }
    }
};

/// The same for every band and look: where the light comes from, and the clockwork of the scan.
void ofTheSample(const LightPath& path, const Weather& weather, const LinePart& part, OfLooks& w, Trace& trace) {
    const Derived& d = path.instrument->derived();
    trace.add("sun", "gamma_s", "elevation of the sun", weather.sun.elevation_rad, "rad");
    trace.add("aim", "l", "number of the line, from 0", part.line, "");
    trace.add("aim", "t_l", "time at the middle of the line", path.instrument->lineTime_s(part.line), "s");
    if (d.line_period_s > 0.0) {
        trace.add("aim", "T_l", "time between lines", d.line_period_s, "s");
        trace.add("aim", "n_l", "lines made in one sweep", d.lines_at_once, "");
    }
    if (!weather.air.on()) return;
    const AirSettings& air = weather.air.settings();
    trace.add("air, down", "H", "scale height of the aerosol", air.aerosol_height_m, "m");
    w.p_Z = weather.air.pressureShareAbove(path.motion->height_m());
    w.a_Z = weather.air.aerosolShareAbove(path.motion->height_m());
    trace.add("air, up", "p_Z", "share of the air's pressure above the sensor", w.p_Z, "");
    trace.add("air, up", "a_Z", "share of the aerosol above the sensor", w.a_Z, "");
    trace.add("air, up", "g_a", "mean cosine of the aerosol's scattering", air.asymmetry, "");
    trace.add("air, up", "omega_a", "share of the aerosol's extinction that is scattering", air.aerosol_albedo, "");
}

/// Where lines of sight begin: on the straight way of the platform, unless they are parallel.
void ofTheWay(const LightPath& path, const OfLooks& w, Trace& trace) {
    const Vec3 start = path.motion->positionAt(0.0), velocity = path.motion->velocity_m_s();
    if (Vec3{w.sensor_x[0], w.sensor_y[0], w.sensor_z[0]} != path.motion->positionAt(w.t[0])) return;
    trace.add("aim", "X_0", "start of the flight, east", start.x, "m");
    trace.add("aim", "Y_0", "start of the flight, north", start.y, "m");
    trace.add("aim", "v_x", "speed over ground, east", velocity.x, "m/s");
    trace.add("aim", "v_y", "speed over ground, north", velocity.y, "m/s");
}

void ofALook(const LightPath& path, const Weather& weather, const LineLooks& looks, std::size_t at, int look, OfLooks& w, Trace& trace) {
    const auto k = static_cast<std::size_t>(look);
    const Vec3 normal{static_cast<double>(looks.nx[at]), static_cast<double>(looks.ny[at]), static_cast<double>(looks.nz[at])};
    trace.add("ground", "n_x", "normal of the surface, east", normal.x, "", -1, look);
    trace.add("ground", "n_y", "normal of the surface, north", normal.y, "", -1, look);
    trace.add("ground", "n_z", "normal of the surface, up", normal.z, "", -1, look);
    trace.add("ground", "i", "local incidence of the sun", std::acos(std::clamp(w.cos_i[k], -1.0, 1.0)), "rad", -1, look);
    const Vec3 point{w.x[k], w.y[k], w.z[k]}, sensor{w.sensor_x[k], w.sensor_y[k], w.sensor_z[k]};
    const Vec3 to_sensor = glm::normalize(sensor - point);
    const double between = glm::dot(weather.sun.towards, to_sensor);
    trace.add("air, up", "cos Theta", "cosine of the scattering angle", -between, "", -1, look);
    if (weather.air.on()) {
        w.p_z.push_back(weather.air.pressureShareAbove(point.z));
        w.a_z.push_back(weather.air.aerosolShareAbove(point.z));
        trace.add("air, down", "p_z", "share of the air's pressure above the ground point", w.p_z[k], "", -1, look);
        trace.add("air, down", "a_z", "share of the aerosol above the ground point", w.a_z[k], "", -1, look);
        trace.add("air, up", "P_R", "phase function of the molecules", rayleighPhase(-between), "", -1, look);
        trace.add("air, up", "P_A", "phase function of the aerosol", henyeyGreensteinPhase(-between, weather.air.settings().asymmetry), "", -1, look);
    }
    if (!path.effects.glint || path.water[looks.material[at]] == 0) return;
    const Glint g = glintOf(weather.sun.towards.z, to_sensor.z, between, path.effects.glint_wind_m_s);
    trace.add("ground", "U", "wind over the water", path.effects.glint_wind_m_s, "m/s", -1, look);
    trace.add("ground", "r_g", "share of the beam that the water mirrors", g.factor, "sr-1", -1, look);
    if (g.factor <= 0.0) return;
    trace.add("ground", "s2", "variance of the waves' slopes", g.slope_variance, "", -1, look);
    trace.add("ground", "cos w", "cosine of half the angle between sun and sensor", g.half_cosine, "", -1, look);
    trace.add("ground", "cos b", "cosine of the tilt of the waves that mirror the sun", g.tilt_cosine, "", -1, look);
    trace.add("ground", "cos w'", "cosine of the angle of the light in the water", g.inside_cosine, "", -1, look);
    trace.add("ground", "F", "share that a wave reflects (Fresnel)", g.fresnel, "", -1, look);
}

void ofABand(const LightPath& path, const Weather& weather, const OfLooks& w, int band, Trace& trace) {
    const Band& response = path.instrument->bands()[static_cast<std::size_t>(band)];
    trace.add("sun", "E_1", "solar spectrum at 1 au, mean over the band", bandMean(solarSpectrum(), response), "W m-2 um-1", band);
    if (!weather.air.on()) return;
    const Air& air = weather.air;
    trace.add("air, down", "tau_R", "optical depth of the molecules above datum", air.rayleighDepth(band), "", band);
    trace.add("air, down", "tau_A", "optical depth of the aerosol above datum", air.aerosolDepth(band), "", band);
    const double sensor_r = air.rayleighDepth(band) * w.p_Z, sensor_a = air.aerosolDepth(band) * w.a_Z;
    trace.add("air, up", "tau_Z", "optical depth of the air above the sensor", sensor_r + sensor_a, "", band);
    std::vector<double> beam(w.z.size()), sky(w.z.size());
    air.down(band, w.z, beam, sky);
    for (std::size_t k = 0; k < w.z.size(); ++k) {
        if (!path.looksOf(band).hold(k)) continue;
        const int look = static_cast<int>(k);
        const double rayleigh = air.rayleighDepth(band) * w.p_z[k], aerosol = air.aerosolDepth(band) * w.a_z[k];
        const double layer = (rayleigh - sensor_r) + (aerosol - sensor_a);
        trace.add("air, down", "tau_z", "optical depth of the air above the ground point", rayleigh + aerosol, "", band, look);
        trace.add("air, down", "k_s", "share of the sun's light that the whole sky gives back", sky[k], "", band, look);
        trace.add("air, up", "dtau_R", "depth of the molecules between ground and sensor", rayleigh - sensor_r, "", band, look);
        trace.add("air, up", "dtau_A", "depth of the aerosol between ground and sensor", aerosol - sensor_a, "", band, look);
        trace.add("air, up", "dtau", "optical depth between ground and sensor", layer, "", band, look);
        trace.add("air, up", "zeta", "depth for the way down and the way up", (w.m_s + std::copysign(w.m_v[k], layer)) * layer, "", band, look);
    }
}

}  // namespace

void traceInputs(const LightPath& path, const Weather& weather, const LineLooks& looks, const LinePart& part, Trace& trace) {
    OfLooks w(trace);
    ofTheSample(path, weather, part, w, trace);
    ofTheWay(path, w, trace);
    for (int k = 0; k < looks.contributions; ++k) {
        ofALook(path, weather, looks, static_cast<std::size_t>(part.first * looks.contributions + k), k, w, trace);
    }
    for (int band = 0; band < static_cast<int>(path.instrument->bands().size()); ++band) ofABand(path, weather, w, band, trace);
}

void traceReadout(const LightPath& path, const LinePart& part, Trace& trace) {
    const Instrument& instrument = *path.instrument;
    for (int band = 0; band < static_cast<int>(instrument.bands().size()); ++band) {
        const std::array<double, 1> expected{trace.value("n_e", band)};
        trace.add("detector", "E_ph", "energy of one photon", photonEnergy_J(trace.value("lambda", band)), "J", band);
        trace.add("detector", "i_d", "dark current", instrument.detector().dark_current_e_s, "e/s", band);
        trace.add("counts", "b", "bits of the converter", instrument.converter().bits, "", band);
        if (!path.effects.shot_noise) continue;
        // The same draw as in the walk, without the read noise: the key decides it.
        std::array<double, 1> copy = expected, shot{};
        addNoise({copy}, {true, 0.0},
                 path.noiseKey(part.line, part.first, band),
                 {shot});
        trace.add("detector", "sigma_s", "shot noise to be expected", std::sqrt(expected[0]), "e", band);
        trace.add("detector", "n_s", "electrons that chance gives", shot[0], "e", band);
    }
    for (int band = 0; band < static_cast<int>(instrument.bands().size()); ++band) {
        const double before = path.effects.shot_noise ? trace.value("n_s", band) : trace.value("n_e", band);
        trace.add("detector", "e_r", "read noise as drawn", trace.value("n", band) - before, "e", band);
    }
}

}  // namespace linefall
