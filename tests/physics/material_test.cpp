#include "physics/material.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <map>
#include <regex>
#include <sstream>

#include "base/angle.h"
#include "base/quantity.h"
#include "physics/solar_spectrum.h"
#include "scene/place.h"
#include "support/folders.h"

using namespace linefall;

namespace {

struct Row {
    std::string name;
    std::vector<double> band_means, point_values;
};

std::vector<double> numbersIn(const std::string& line) {
    std::vector<double> out;
    static const std::regex number("[0-9]+\\.?[0-9]*");
    const std::string list = line.substr(line.find('='));
    for (std::sregex_iterator it(list.begin(), list.end(), number), end; it != end; ++it) out.push_back(std::stod(it->str()));
    return out;
}

/// The published table, read as text (the TOML library belongs to the scene module alone).
std::vector<Row> publishedRows() {
    std::ifstream file(testsFolder() + "/references/materials.toml");
    std::vector<Row> rows;
    for (std::string line; std::getline(file, line);) {
        if (line.rfind("name", 0) == 0) rows.push_back({line.substr(line.find('"') + 1, line.rfind('"') - line.find('"') - 1), {}, {}});
        if (line.rfind("band_means", 0) == 0) rows.back().band_means = numbersIn(line);
        if (line.rfind("point_values", 0) == 0) rows.back().point_values = numbersIn(line);
    }
    return rows;
}

const Materials& common() {
    static const Materials materials = loadPlace("slopes", false)->materials;
    return materials;
}

const Material& named(const std::string& name) {
    for (const Material& m : common()) {
        if (m.name == name) return m;
    }
    throw std::runtime_error("no material " + name);
}

Band box(double from_um, double to_um) { return {"", from_um, to_um, 0.0, 0.5}; }

const std::vector<Band> bands{box(0.45, 0.52), box(0.52, 0.60), box(0.63, 0.69), box(0.76, 0.90), box(1.55, 1.75), box(2.08, 2.35)};
const std::vector<double> points_um{0.48, 0.56, 0.665, 0.842, 1.65, 2.2};

double ndvi(const std::string& name) {
    const double red = bandMean(named(name).reflectance, bands[2]);
    const double infrared = bandMean(named(name).reflectance, bands[3]);
    return (infrared - red) / (infrared + red);
}

}  // namespace

TEST_CASE("materials meet the published band means and points within 0.003", "[material]") {
    // ECOSTRESS/ASTER spectral library; Baldridge et al. 2009, Meerdink et al. 2019 (tests/references/materials.toml).
    const std::vector<Row> rows = publishedRows();
    REQUIRE(rows.size() == 10);
    for (const Row& row : rows) {
        INFO(row.name);
        const Spectrum& reflectance = named(row.name).reflectance;
        REQUIRE(row.band_means.size() == 6);
        for (std::size_t b = 0; b < 6; ++b) {
            INFO("band " << b);
            CHECK(bandMean(reflectance, bands[b]) == Approx(row.band_means[b]).epsilon(0.0).margin(0.003));
        }
        if (row.name == "water") continue;  // band means from memory only
        REQUIRE(row.point_values.size() == 6);
        for (std::size_t p = 0; p < 6; ++p) {
            INFO("point " << points_um[p]);
            CHECK(reflectance.at(points_um[p]) == Approx(row.point_values[p]).epsilon(0.0).margin(0.003));
        }
    }
}

TEST_CASE("vegetation indices follow: grass 0.81, conifer 0.83, dry grass 0.14, loam 0.30, concrete 0, snow -0.04", "[material]") {
    // optical.md, Ground reflectance. The margin is what +-0.003 in both bands allows.
    CHECK(ndvi("green-grass") == Approx(0.81).epsilon(0.0).margin(0.015));
    CHECK(ndvi("conifer") == Approx(0.83).epsilon(0.0).margin(0.015));
    CHECK(ndvi("dry-grass") == Approx(0.14).epsilon(0.0).margin(0.01));
    CHECK(ndvi("black-loam") == Approx(0.30).epsilon(0.0).margin(0.02));
    CHECK(ndvi("concrete") == Approx(0.004).epsilon(0.0).margin(0.008));
    CHECK(ndvi("medium-snow") == Approx(-0.04).epsilon(0.0).margin(0.005));
}

TEST_CASE("every material reflects between nothing and all, and says where its spectrum comes from", "[material]") {
    for (const Material& m : common()) {
        INFO(m.name);
        CHECK(m.source.size() > 10);
        for (const Spectrum::Point& p : m.reflectance.points()) {
            CHECK(p.value >= 0.0);
            CHECK(p.value <= 1.0);
        }
    }
}

TEST_CASE("broadband albedo of surfaces without a published spectrum lies near the tabulated one", "[material]") {
    // pvlib's table (optical.md): sand 0.40, sea 0.06, soil 0.17, fresh snow 0.75. A table of one number a surface: +-30 %.
    const Band all = box(0.3, 2.5);
    const auto albedo = [&](const std::string& name) { return bandMeanUnder(named(name).reflectance, solarSpectrum(), all); };
    CHECK(albedo("medium-snow") == Approx(0.75).epsilon(0.3));
    // The table's sea mirrors the sky as well; ours is the light that comes out of the water.
    CHECK(albedo("water") < 0.06);
    CHECK(albedo("water") > 0.01);
    for (const Material& m : common()) {
        if (m.name == "sand") CHECK(albedo("sand") == Approx(0.40).epsilon(0.3));
    }
}

TEST_CASE("a Lambertian surface sends the same radiance everywhere: rho E / pi", "[material]") {
    std::vector<double> beam{700.0, 0.0}, sky{100.0, 100.0}, out(2);
    const std::vector<double> reflectance{0.25, 0.25};
    reflectLight({beam, sky}, reflectance, {out});
    CHECK(out[0] == Approx(0.25 * 800.0 / constants::pi).epsilon(1e-14));
    CHECK(out[1] == Approx(0.25 * 100.0 / constants::pi).epsilon(1e-14));
    // Closure: the radiance times the cosine, gathered over the hemisphere, is reflectance times irradiance.
    double exitance = 0.0;
    const int n = 2000;
    for (int i = 0; i < n; ++i) {
        const double t = 0.5 * constants::pi * (i + 0.5) / n;
        exitance += out[0] * std::cos(t) * std::sin(t) * 2.0 * constants::pi * 0.5 * constants::pi / n;
    }
    CHECK(exitance == Approx(0.25 * 800.0).epsilon(1e-6));
}

TEST_CASE("a band's reflectance is weighted by the sunlight in it", "[material]") {
    const Material step{"step", "", Spectrum({{0.5, 0.0}, {0.6, 1.0}}), false, ""};
    const Spectrum rising({{0.5, 0.0}, {0.6, 2.0}});
    const auto means = bandReflectances({step}, rising, box(0.5, 0.6));
    CHECK(means[0] == Approx(2.0 / 3.0).epsilon(1e-5));  // integral of u^2 by integral of u
    CHECK(bandReflectances({step}, Spectrum::constant(3.0), box(0.5, 0.6))[0] == Approx(0.5).epsilon(1e-5));
}

TEST_CASE("glint is brightest in the mirror's direction, wider and fainter in wind, and gives back no more than Fresnel's share",
          "[material][glint]") {
    const double zenith = radiansFromDegrees(30.0);
    const Vec3 sun{std::sin(zenith), 0.0, std::cos(zenith)};
    const auto towards = [](double z, double a) { return Vec3{std::sin(z) * std::cos(a), std::sin(z) * std::sin(a), std::cos(z)}; };
    const auto glint = [&](const Vec3& view, double wind) { return glintFactor(sun.z, view.z, glm::dot(sun, view), wind); };
    const Vec3 mirror{-sun.x, 0.0, sun.z};
    CHECK(glint(mirror, 4.0) > glint(towards(zenith + 0.2, constants::pi), 4.0) * 1.05);
    CHECK(glint(mirror, 4.0) > 2.0 * glint(towards(zenith - 0.3, constants::pi), 4.0));
    CHECK(glint(mirror, 2.0) > glint(mirror, 10.0));
    CHECK(glint(towards(zenith, 0.0), 4.0) < 1e-3 * glint(mirror, 4.0));  // back towards the sun: hardly any
    CHECK(glint(towards(zenith, 0.0), 15.0) > glint(towards(zenith, 0.0), 4.0));
    CHECK(glintFactor(-0.1, 0.5, 0.0, 4.0) == 0.0);
    CHECK(glintFactor(0.5, -0.1, 0.0, 4.0) == 0.0);
    // A smooth sea under a high sun: the light of all directions is Fresnel's share of the beam on level water, which is
    // 2.1 % at normal incidence for n = 1.34 ((n - 1) / (n + 1))^2, and 2.2 % at 30 degrees.
    double exitance = 0.0;
    const int n = 400;
    for (int i = 0; i < n; ++i) {
        for (int j = 0; j < n; ++j) {
            const double z = 0.5 * constants::pi * (i + 0.5) / n;
            const double a = 2.0 * constants::pi * (j + 0.5) / n;
            exitance += glint(towards(z, a), 0.0) * std::cos(z) * std::sin(z) * (0.5 * constants::pi / n) * (2.0 * constants::pi / n);
        }
    }
    CHECK(exitance / sun.z == Approx(0.0217).epsilon(0.03));
}
