#include "instruments/light_walk.h"

#include <algorithm>
#include <cmath>

#include "base/dispatch.h"
#include "instruments/light_walk_parts.h"
#include "instruments/trace_inputs.h"
#include "physics/terrain.h"

namespace linefall {

namespace {

/// Contributions worked on at a time, so that all working arrays stay in the processor's nearest memories.
constexpr int contributions_at_once = 256;

/// Working arrays of a stretch of a line, one value a contribution.
struct Work {
    std::vector<double> sensor_x, sensor_y, sensor_z, height, incidence_cosine, sun_share, sky_share, air_mass;
    std::vector<double> scattering_cosine, glint, ground;
    std::vector<double> beam, sky, surface_beam, surface_sky, reflectance, leaving, transmission, haze, arriving;
    AirColumns air;

    void resize(std::size_t n) {
        for (std::vector<double>* v : {&sensor_x, &sensor_y, &sensor_z, &height, &incidence_cosine, &sun_share, &sky_share,
                                       &air_mass, &scattering_cosine, &glint, &ground, &beam, &sky, &surface_beam, &surface_sky,
                                       &reflectance, &leaving, &transmission, &haze, &arriving}) {
            v->resize(n);
        }
    }
};

Work& work() {
    thread_local Work arrays;
    return arrays;
}

/// Where the light is gathered: the platform, or without perspective the place of the wide lens over the ground point.
Vec3 sensorAt(const LightPath& path, double time_s, int line, int sample, const Offset& offset) {
    if (path.manner.perspective) return path.motion->positionAt(time_s);
    return parallelOrigin(*path.instrument, path.motion->at(time_s), offset, line, sample);
}

/// Zenith cosines become relative air masses: linear between 8192 nodes over the cosines from 0.2 to 1 (relative error
/// below 2e-7), exact below.
void viewAirMasses(std::span<double> cosines) {
    constexpr int nodes = 8192;
    constexpr double least = 0.2;
    static const std::vector<double> table = [] {
        std::vector<double> t;
        for (int i = 0; i <= nodes + 1; ++i) t.push_back(relativeAirMass(std::acos(std::min(1.0, least + (1.0 - least) * i / nodes))));
        return t;
    }();
    for (double& value : cosines) {
        if (value < least) {
            value = relativeAirMass(std::acos(std::max(value, -1.0)));
            continue;
        }
        const double place = std::min((value - least) * (nodes / (1.0 - least)), static_cast<double>(nodes));
        const auto i = static_cast<std::size_t>(place);
        const double share = place - static_cast<double>(i);
        value = table[i] + share * (table[i + 1] - table[i]);
    }
}

/// What lines of sight and the sun make of each other: reads the looks from `at` on, and where the sensor was.
LINEFALL_VECTORISED
void seeAngles(const LineLooks& looks, std::size_t at, std::size_t count, const Vec3& sun, Work& w) {
    const float* __restrict x = looks.x_m.data() + at;
    const float* __restrict y = looks.y_m.data() + at;
    const float* __restrict z = looks.z_m.data() + at;
    const float* __restrict nx = looks.nx.data() + at;
    const float* __restrict ny = looks.ny.data() + at;
    const float* __restrict nz = looks.nz.data() + at;
    const double* __restrict sensor_x = w.sensor_x.data();
    const double* __restrict sensor_y = w.sensor_y.data();
    const double* __restrict sensor_z = w.sensor_z.data();
    double* __restrict height = w.height.data();
    double* __restrict view_cosine = w.air_mass.data();  // one pass later it is the air mass
    double* __restrict scattering = w.scattering_cosine.data();
    double* __restrict incidence = w.incidence_cosine.data();
    for (std::size_t i = 0; i < count; ++i) {
        const Vec3 point{static_cast<double>(x[i]), static_cast<double>(y[i]), static_cast<double>(z[i])};
        const Vec3 span = Vec3{sensor_x[i], sensor_y[i], sensor_z[i]} - point;
        const double scale = 1.0 / std::sqrt(span.x * span.x + span.y * span.y + span.z * span.z);
        height[i] = point.z;
        view_cosine[i] = span.z * scale;
        scattering[i] = -(sun.x * (span.x * scale) + sun.y * (span.y * scale) + sun.z * (span.z * scale));
        incidence[i] = static_cast<double>(nx[i]) * sun.x + static_cast<double>(ny[i]) * sun.y + static_cast<double>(nz[i]) * sun.z;
    }
}

/// What does not depend on the band.
void prepare(const LightPath& path, const Weather& weather, const LineLooks& looks, std::span<const std::uint8_t> seen,
             const LinePart& part, Work& w) {
    const std::size_t n = static_cast<std::size_t>(looks.contributions);
    const std::size_t start = static_cast<std::size_t>(part.first) * n;
    const std::size_t count = static_cast<std::size_t>(part.count) * n;
    const double level_cosine = weather.sun.towards.z;
    w.resize(count);
    std::size_t i = 0;
    for (int s = part.first; s < part.first + part.count; ++s) {
        for (std::size_t k = 0; k < n; ++k, ++i) {
            const Vec3 sensor = sensorAt(path, contributionTime(path, part.line, s, path.offsets[k]), part.line, s, path.offsets[k]);
            w.sensor_x[i] = sensor.x;
            w.sensor_y[i] = sensor.y;
            w.sensor_z[i] = sensor.z;
        }
    }
    seeAngles(looks, start, count, weather.sun.towards, w);
    if (path.effects.glint) {
        for (i = 0; i < count; ++i) {
            w.glint[i] = path.water[looks.material[start + i]] != 0
                             ? glintFactor(level_cosine, w.air_mass[i], -w.scattering_cosine[i], path.effects.glint_wind_m_s)
                             : 0.0;
        }
    } else {
        std::fill(w.glint.begin(), w.glint.end(), 0.0);
    }
    viewAirMasses(w.air_mass);
    weather.air.lookUp(w.height, w.air_mass, w.scattering_cosine, w.air);

    if (!path.effects.slope_shading) std::fill(w.incidence_cosine.begin(), w.incidence_cosine.end(), level_cosine);
    const double per_point = 1.0 / static_cast<double>(weather.sun_points.size());
    for (i = 0; i < count; ++i) {
        w.sun_share[i] = path.effects.cast_shadow ? seen[i] * per_point : 1.0;
        w.sky_share[i] = path.effects.skylight ? static_cast<double>(looks.sky_share[start + i]) : 0.0;
        w.ground[i] = looks.meets[start + i] == Meets::sky ? 0.0 : 1.0;
    }
}

void traceAim(const LightPath& path, const Weather& weather, const LineLooks& looks, const LinePart& part, Trace& trace) {
    const std::size_t n = static_cast<std::size_t>(looks.contributions);
    for (std::size_t k = 0; k < n; ++k) {
        const std::size_t at = static_cast<std::size_t>(part.first) * n + k;
        const int c = static_cast<int>(k);
        const double time = contributionTime(path, part.line, part.first, path.offsets[k]);
        const Vec3 sensor = sensorAt(path, time, part.line, part.first, path.offsets[k]);
        const Vec3 point = pointOf(looks, at);
        const Vec3 to_sensor = glm::normalize(sensor - point);
        trace.add("aim", "t", "time since the flight began", time, "s", -1, c);
        trace.add("aim", "X", "sensor, east", sensor.x, "m", -1, c);
        trace.add("aim", "Y", "sensor, north", sensor.y, "m", -1, c);
        trace.add("aim", "Z", "sensor, above datum", sensor.z, "m", -1, c);
        trace.add("aim", "x", "ground point, east", point.x, "m", -1, c);
        trace.add("aim", "y", "ground point, north", point.y, "m", -1, c);
        trace.add("aim", "z", "ground point, above datum", point.z, "m", -1, c);
        trace.add("aim", "D", "slant range", glm::length(sensor - point), "m", -1, c);
        trace.add("aim", "theta_v", "view incidence, on level ground", std::acos(std::clamp(to_sensor.z, -1.0, 1.0)), "rad", -1, c);
        trace.add("aim", "w", "weight of this contribution", 1.0 / static_cast<double>(path.looksOf(std::max(0, path.offsets[k].band)).count()), "", -1, c);
    }
    for (int band = 0; path.instrument->hasReceptors() && band < static_cast<int>(path.instrument->bands().size()); ++band) {
        if (const std::optional<ReceptorRead> read = path.instrument->receptorOf(part.line, part.first, band)) {
            trace.add("aim", "e_c", "angle of the receptor from the middle of the fovea", read->eccentricity_rad, "rad", band);
            trace.add("aim", "d_c", "how far the receptor lies from the pixel's own place, in pixels", read->away_pitch, "", band);
        }
    }
    trace.add("sun", "A", "azimuth of the sun, clockwise from north", weather.sun.azimuth_rad, "rad");
    trace.add("sun", "theta_s", "solar zenith angle", weather.sun.zenith_rad(), "rad");
    trace.add("sun", "d", "distance of the sun", weather.sun.distance_au, "au");
    trace.add("air, down", "m_s", "relative air mass towards the sun", weather.air.sunAirMass(), "");
}

void traceBand(const LightPath& path, const Weather& weather, const LineLooks& looks, const LinePart& part, const Work& w,
               int band, double irradiance, Trace& trace) {
    trace.add("sun", "E_0", "irradiance above the air, facing the sun", irradiance, "W m-2 um-1", band);
    trace.add("air, down", "tau", "optical depth of the air above datum", weather.air.opticalDepth(band), "", band);
    for (std::size_t k = 0; k < path.offsets.size(); ++k) {
        const int c = static_cast<int>(k);
        const std::size_t at = static_cast<std::size_t>(part.first) * path.offsets.size() + k;
        const bool mine = path.looksOf(band).hold(k);
        if (mine) {
            trace.add("air, down", "E_b", "beam at the ground, facing the sun", w.beam[k], "W m-2 um-1", band, c);
            trace.add("air, down", "E_s", "skylight on level open ground", w.sky[k], "W m-2 um-1", band, c);
        }
        if (band == 0) {
            trace.add("ground", "cos i", "cosine of the local incidence", w.incidence_cosine[k], "", -1, c);
            trace.add("ground", "V_sun", "share of the sun in view", w.sun_share[k], "", -1, c);
            trace.add("ground", "V_sky", "share of the sky in view", w.sky_share[k], "", -1, c);
            trace.add("ground", "material", "number of the material", looks.material[at], "", -1, c);
            trace.add("air, up", "m_v", "relative air mass towards the sensor", w.air_mass[k], "", -1, c);
        }
        if (!mine) continue;
        trace.add("ground", "E", "irradiance on the surface", w.surface_beam[k] + w.surface_sky[k], "W m-2 um-1", band, c);
        trace.add("ground", "rho", "reflectance", w.reflectance[k], "", band, c);
        trace.add("ground", "L_glint", "radiance of the sun's glint", w.beam[k] * w.sun_share[k] * w.glint[k], "W m-2 sr-1 um-1", band, c);
        trace.add("ground", "L_g", "radiance leaving the ground", w.leaving[k], "W m-2 sr-1 um-1", band, c);
        trace.add("air, up", "T", "transmission of the air to the sensor", w.transmission[k], "", band, c);
        trace.add("air, up", "L_p", "path radiance: haze added on the way", w.haze[k] * irradiance, "W m-2 sr-1 um-1", band, c);
        const bool ground = looks.meets[at] != Meets::sky;
        trace.add("air, up", "L_a", "radiance that arrives along this look", ground ? w.leaving[k] * w.transmission[k] + w.haze[k] * irradiance : 0.0,
                  "W m-2 sr-1 um-1", band, c);
    }
}

/// From shares of the irradiance above the air to irradiances.
LINEFALL_VECTORISED
void lightUp(double irradiance, Work& w) {
    double* __restrict beam = w.beam.data();
    double* __restrict sky = w.sky.data();
    for (std::size_t i = 0; i < w.beam.size(); ++i) {
        beam[i] *= irradiance;
        sky[i] *= irradiance;
    }
}

/// What of the ground's radiance reaches the sensor, and the haze; nothing comes from the sky.
LINEFALL_VECTORISED
void arrive(double irradiance, Work& w) {
    const double* __restrict leaving = w.leaving.data();
    const double* __restrict transmission = w.transmission.data();
    const double* __restrict haze = w.haze.data();
    const double* __restrict ground = w.ground.data();
    double* __restrict arriving = w.arriving.data();
    for (std::size_t i = 0; i < w.arriving.size(); ++i) {
        arriving[i] = (leaving[i] * transmission[i] + haze[i] * irradiance) * ground[i];
    }
}

/// Stages 1 to 5 of a stretch of a line. `radiance`: of the first band from the stretch on, the next band `stride` values later.
void walkStretch(const LightPath& path, const Weather& weather, const LineLooks& looks, std::span<const std::uint8_t> seen,
                 const LinePart& part, std::span<float> radiance, std::size_t stride, Trace* trace) {
    Work& w = work();
    prepare(path, weather, looks, seen, part, w);
    if (trace != nullptr) traceAim(path, weather, looks, part, *trace);
    const std::size_t n = static_cast<std::size_t>(looks.contributions);
    const std::size_t start = static_cast<std::size_t>(part.first) * n;
    const int bands = static_cast<int>(path.instrument->bands().size());

    for (int band = 0; band < bands; ++band) {
        const double irradiance = weather.sun.irradiance_W_m2_um[static_cast<std::size_t>(band)];
        weather.air.down(band, w.air, w.beam, w.sky);
        lightUp(irradiance, w);
        tiltLight({w.beam, w.sky}, {w.incidence_cosine, w.sun_share, w.sky_share}, {w.surface_beam, w.surface_sky});

        const std::vector<double>& by_material = path.reflectances[static_cast<std::size_t>(band)];
        for (std::size_t i = 0; i < w.reflectance.size(); ++i) {
            w.reflectance[i] = by_material[looks.material[start + i]] * w.ground[i];  // a look into the sky meets no material
        }
        reflectLight({w.surface_beam, w.surface_sky}, w.reflectance, {w.leaving});
        if (path.effects.glint) {
            for (std::size_t i = 0; i < w.leaving.size(); ++i) w.leaving[i] += w.beam[i] * w.sun_share[i] * w.glint[i];
        }

        weather.air.up(band, path.motion->height_m(), w.air, w.transmission, w.haze);
        arrive(irradiance, w);
        float* out = radiance.data() + static_cast<std::size_t>(band) * stride;
        const LightPath::Looks looks_of_band = path.looksOf(band);
        const double weight = 1.0 / static_cast<double>(looks_of_band.count());
        for (std::size_t s = 0; s < static_cast<std::size_t>(part.count); ++s) {
            double sum = w.arriving[s * n + looks_of_band.first];
            for (std::size_t i = s * n + looks_of_band.first + 1; i < s * n + looks_of_band.end; ++i) sum += w.arriving[i];
            out[s] = static_cast<float>(sum * weight);
        }
        if (trace != nullptr) {
            traceBand(path, weather, looks, part, w, band, irradiance, *trace);
            trace->add("air, up", "L", "radiance at the sensor", static_cast<double>(out[0]),
                       "W m-2 sr-1 um-1", band);
        }
    }
    if (trace != nullptr) traceInputs(path, weather, looks, part, *trace);
}

}  // namespace

void walkToSensor(const LightPath& path, const Weather& weather, const LineLooks& looks, std::span<const std::uint8_t> seen,
                  const LinePart& part, std::span<float> radiance, Trace* trace) {
    const int at_once = std::max(1, contributions_at_once / looks.contributions);
    for (int done = 0; done < part.count; done += at_once) {
        const LinePart stretch{part.line, part.first + done, std::min(at_once, part.count - done)};
        walkStretch(path, weather, looks, seen.subspan(static_cast<std::size_t>(done) * static_cast<std::size_t>(looks.contributions)),
                    stretch, radiance.subspan(static_cast<std::size_t>(done)), static_cast<std::size_t>(part.count), trace);
    }
}

}  // namespace linefall
