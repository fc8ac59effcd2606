#include "physics/material.h"

#include <algorithm>
#include <cmath>

#include "base/constants.h"
#include "base/dispatch.h"

namespace linefall {

std::vector<double> bandReflectances(const Materials& materials, const Spectrum& sun, const Band& band) {
    std::vector<double> out;
    out.reserve(materials.size());
    for (const Material& material : materials) out.push_back(bandMeanUnder(material.reflectance, sun, band));
    return out;
}

LINEFALL_VECTORISED
void reflectLight(const LightOnSurface& in, std::span<const double> reflectance, const RadianceAtGround& out) {
    const double* __restrict beam = in.beam.data();
    const double* __restrict sky = in.sky.data();
    const double* __restrict share = reflectance.data();
    double* __restrict leaving = out.value.data();
    for (std::size_t i = 0; i < out.value.size(); ++i) leaving[i] = share[i] * (beam[i] + sky[i]) / constants::pi;
}

Glint glintOf(double sun_cosine, double view_cosine, double between_cosine, double wind_m_s) {
    Glint g;
    if (sun_cosine <= 0.0 || view_cosine <= 0.0) return g;
    // The facet's normal is half way between sun and view; both make the angle w with it.
    const double w_cosine = std::sqrt(std::max(0.0, 0.5 * (1.0 + between_cosine)));
    if (w_cosine <= 0.0) return g;
    g.half_cosine = w_cosine;
    g.tilt_cosine = std::min(1.0, (sun_cosine + view_cosine) / (2.0 * w_cosine));
    g.slope_variance = 0.003 + 0.00512 * wind_m_s;
    const double tilt_tangent2 = 1.0 / (g.tilt_cosine * g.tilt_cosine) - 1.0;
    const double density = std::exp(-tilt_tangent2 / g.slope_variance) / (constants::pi * g.slope_variance);
    constexpr double index = 1.34;
    const double sine2 = (1.0 - w_cosine * w_cosine) / (index * index);
    g.inside_cosine = std::sqrt(1.0 - sine2);
    const double across = (w_cosine - index * g.inside_cosine) / (w_cosine + index * g.inside_cosine);
    const double within = (index * w_cosine - g.inside_cosine) / (index * w_cosine + g.inside_cosine);
    g.fresnel = 0.5 * (across * across + within * within);
    g.factor = g.fresnel * density / (4.0 * view_cosine * g.tilt_cosine * g.tilt_cosine * g.tilt_cosine * g.tilt_cosine);
    return g;
}

}  // namespace linefall
