#include "physics/solar_spectrum.h"

#include <algorithm>
#include <cmath>

#include "base/constants.h"

namespace linefall {

namespace {

constexpr double e490_total_W_m2 = 1366.1;  // ASTM E490-00

/// How the points were made: a first guess of the sun's spectrum (from memory up to 2.6 um; beyond, a black body of
/// 5772 K with the sun's radius), then the smallest relative change of the points that gives the printed band means.
const std::vector<Spectrum::Point>& pointsE490() {
    static const std::vector<Spectrum::Point> points{
        {0.25, 64},    {0.26, 130},   {0.27, 250},   {0.28, 220},   {0.29, 520},   {0.30, 510},   {0.31, 650},
        {0.32, 750},   {0.33, 980},   {0.34, 980},   {0.35, 1000},  {0.36, 1030},  {0.37, 1180},  {0.38, 1140},
        {0.39, 1110},  {0.395, 1190}, {0.40, 1600},  {0.41, 1720},  {0.42, 1750},  {0.43, 1560},  {0.44, 1820},
        {0.45, 2040},  {0.46, 2019},  {0.47, 2009},  {0.48, 2019},  {0.49, 1923},  {0.50, 1894},  {0.51, 1889},
        {0.52, 1820},  {0.53, 1892},  {0.54, 1882},  {0.55, 1872},  {0.56, 1832},  {0.57, 1842},  {0.58, 1842},
        {0.59, 1792},  {0.60, 1767},  {0.61, 1722},  {0.62, 1692},  {0.63, 1660},  {0.64, 1628},  {0.65, 1567},
        {0.66, 1547},  {0.67, 1527},  {0.68, 1496},  {0.69, 1460},  {0.70, 1416},  {0.72, 1341},  {0.74, 1284},
        {0.76, 1239},  {0.78, 1196},  {0.80, 1145},  {0.82, 1093},  {0.84, 1019},  {0.85, 945.1}, {0.86, 983.2},
        {0.88, 960.4}, {0.90, 914.8}, {0.92, 870},   {0.95, 810},   {1.00, 745},   {1.05, 675},   {1.10, 605},
        {1.20, 490},   {1.30, 415},   {1.40, 355},   {1.50, 299.2}, {1.60, 249},   {1.70, 205.7}, {1.80, 168.1},
        {1.90, 140},   {2.00, 116.9}, {2.20, 80.06}, {2.40, 58.14}, {2.60, 43.5},  {3.00, 25.71}, {3.50, 14.84},
        {4.00, 9.138}};
    return points;
}

}  // namespace

const Spectrum& solarSpectrumE490() {
    static const Spectrum spectrum(pointsE490());
    return spectrum;
}

const Spectrum& solarSpectrum() {
    static const Spectrum spectrum = [] {
        std::vector<Spectrum::Point> points = pointsE490();
        for (Spectrum::Point& point : points) point.value *= constants::total_solar_irradiance_W_m2 / e490_total_W_m2;
        return Spectrum(std::move(points));
    }();
    return spectrum;
}

double lambertRadiance(double reflectance, double irradiance_W_m2_um, double sun_zenith_rad) {
    const double cosine = sun_zenith_rad < 0.5 * constants::pi ? std::cos(sun_zenith_rad) : 0.0;
    return reflectance * irradiance_W_m2_um * cosine / constants::pi;
}

}  // namespace linefall
