// The share of the sky that a surface sees.
//
// Around each node of a coarse grid the cosine c of the zenith angle H of the terrain's horizon is kept for 16 azimuths.
// A surface with unit normal n sees the share
//     (1 / pi) sum over azimuths of integral_0^H (n_z cos t + n_h sin t) sin t dt * (2 pi / 16)
// where n_h is the normal's component along the azimuth. Where the surface itself hides the sky before the horizon does,
// the integral ends there: c is the larger of cos H and -n_h / sqrt(n_h^2 + n_z^2).
// The integral is n_z sin^2 H / 2 + n_h (H - sin H cos H) / 2.
// Left out: objects hide no sky; the horizon is searched at distances that grow by a quarter, on the coarse grid.
// The integral is that of Dozier and Frew 1990, IEEE Trans. Geosci. Remote Sens. 28(5), eq. 7b (from memory). The arc
// cosine is that of Abramowitz and Stegun 4.4.46 (error 2e-8, from memory).

#include <algorithm>
#include <array>
#include <cmath>

#include "base/constants.h"
#include "base/dispatch.h"
#include "base/threads.h"
#include "ground/ground.h"

namespace linefall {

namespace {

constexpr int azimuths = 16;
constexpr int most_nodes = 256;  // along one side

struct Directions {
    std::array<float, azimuths> east, north;
};

const Directions& directions() {
    static const Directions list = [] {
        Directions d{};
        for (std::size_t k = 0; k < azimuths; ++k) {
            const double azimuth = 2.0 * constants::pi * (static_cast<double>(k) + 0.5) / azimuths;
            d.east[k] = static_cast<float>(std::sin(azimuth));
            d.north[k] = static_cast<float>(std::cos(azimuth));
        }
        return d;
    }();
    return list;
}

/// What the nodes first .. last - 1 of a row see of the ground `distance` away: raises the steepest rise (m over m) of each.
/// The ground lies `shift` nodes further along the row, and `v` of the way from the nodes `low` to the nodes `high`.
LINEFALL_VECTORISED
void seeGround(const float* low, const float* high, float v, double shift, float distance, const float* here, int first, int last,
               float* __restrict steepest) {
    const int whole = static_cast<int>(std::floor(shift));
    for (int column = first; column < last; ++column) {
        const int i = column + whole;
        const float u = static_cast<float>(column + shift - i);
        const float a = low[i] * (1.0f - u) + low[i + 1] * u;
        const float b = high[i] * (1.0f - u) + high[i + 1] * u;
        const float rise = (a * (1.0f - v) + b * v - here[column]) / distance;
        steepest[column] = rise > steepest[column] ? rise : steepest[column];
    }
}

/// The sum over azimuths; `corners` are the horizons of four nodes, weighed by `weights`.
LINEFALL_VECTORISED
float skySum(const float* const corners[4], const float weights[4], float nx, float ny, float nz, const Directions& d) {
    std::array<float, azimuths> part;
    for (std::size_t k = 0; k < azimuths; ++k) {
        const float along = nx * d.east[k] + ny * d.north[k];
        const float terrain = weights[0] * corners[0][k] + weights[1] * corners[1][k] + weights[2] * corners[2][k] +
                              weights[3] * corners[3][k];
        const float away = along < 0.0f ? -along : 0.0f;
        const float own = away / std::sqrt(along * along + nz * nz + 1e-20f);
        float c = terrain > own ? terrain : own;
        c = c < 1.0f ? c : 1.0f;
        const float s = std::sqrt(1.0f - c * c);
        float p = -0.0012624911f;
        p = p * c + 0.0066700901f;
        p = p * c - 0.0170881256f;
        p = p * c + 0.0308918810f;
        p = p * c - 0.0501743046f;
        p = p * c + 0.0889789874f;
        p = p * c - 0.2145988016f;
        p = p * c + 1.5707963050f;
        const float horizon = std::sqrt(1.0f - c) * p;
        part[k] = nz * s * s + along * (horizon - s * c);
    }
    float sum = 0.0f;
    for (float value : part) sum += value;
    return sum;
}

}  // namespace

void Ground::buildHorizons() {
    if (terrain_.most_m() == terrain_.least_m()) return;  // level: the horizon is level everywhere
    const double width = terrain_.east_m() - terrain_.west_m();
    const double height = terrain_.north_m() - terrain_.south_m();
    horizon_spacing_m_ = std::max(terrain_.spacing_m(), std::max(width, height) / (most_nodes - 1));
    horizon_columns_ = std::max(2, static_cast<int>(std::ceil(width / horizon_spacing_m_)) + 1);
    horizon_rows_ = std::max(2, static_cast<int>(std::ceil(height / horizon_spacing_m_)) + 1);

    // A copy of the terrain at the nodes: searching it touches little memory. A look that ends on the last node reads one more.
    const int columns = horizon_columns_;
    const int rows = horizon_rows_;
    Raster<float> coarse(columns + 1, rows);
    for (int row = 0; row < rows; ++row) {
        for (int column = 0; column < columns; ++column) {
            coarse.at(column, row) = static_cast<float>(terrain_.heightAt(terrain_.west_m() + column * horizon_spacing_m_,
                                                                          terrain_.south_m() + row * horizon_spacing_m_));
        }
    }
    std::vector<double> steps;  // in nodes
    for (double step = 1.0; step < std::hypot(columns, rows); step = std::max(step + 1.0, step * 1.25)) steps.push_back(step);
    const auto across = static_cast<std::size_t>(columns);
    horizons_.assign(across * static_cast<std::size_t>(rows) * azimuths, 0.0f);
    parallelFor(rows, 0, [&](int row) {
        std::vector<float> steepest(across);
        for (std::size_t k = 0; k < azimuths; ++k) {
            std::fill(steepest.begin(), steepest.end(), 0.0f);
            for (const double step : steps) {
                const double shift = step * static_cast<double>(directions().east[k]);
                const double y = row + step * static_cast<double>(directions().north[k]);
                if (y < 0.0 || y > rows - 1) break;
                const int j = std::min(static_cast<int>(y), rows - 2);
                const int first = std::max(0, static_cast<int>(std::ceil(-shift)));
                const int last = std::min(columns, static_cast<int>(std::floor(columns - 1 - shift)) + 1);
                seeGround(coarse.row(j).data(), coarse.row(j + 1).data(), static_cast<float>(y - j), shift,
                          static_cast<float>(step * horizon_spacing_m_), coarse.row(row).data(), first, last, steepest.data());
            }
            float* out = horizons_.data() + static_cast<std::size_t>(row) * across * azimuths + k;
            for (std::size_t column = 0; column < across; ++column) {
                out[column * azimuths] = steepest[column] / std::sqrt(1.0f + steepest[column] * steepest[column]);
            }
        }
    });
}

double Ground::skyShare(const Vec3& point_m, const Vec3& normal) const {
    static constexpr std::array<float, azimuths> level{};
    const float* corners[4] = {level.data(), level.data(), level.data(), level.data()};
    float weights[4] = {1.0f, 0.0f, 0.0f, 0.0f};
    if (!horizons_.empty() && terrain_.contains(point_m.x, point_m.y)) {
        const double x = (point_m.x - terrain_.west_m()) / horizon_spacing_m_;
        const double y = (point_m.y - terrain_.south_m()) / horizon_spacing_m_;
        const int i = std::min(static_cast<int>(x), horizon_columns_ - 2);
        const int j = std::min(static_cast<int>(y), horizon_rows_ - 2);
        for (int k = 0; k < 4; ++k) {
            const int column = i + (k & 1);
            const int row = j + (k >> 1);
            corners[k] = horizons_.data() + (static_cast<std::size_t>(row) * static_cast<std::size_t>(horizon_columns_) +
                                             static_cast<std::size_t>(column)) * azimuths;
            weights[k] = static_cast<float>(((k & 1) != 0 ? x - i : 1.0 - (x - i)) * ((k >> 1) != 0 ? y - j : 1.0 - (y - j)));
        }
    }
    const float sum = skySum(corners, weights, static_cast<float>(normal.x), static_cast<float>(normal.y),
                             static_cast<float>(normal.z), directions());
    return std::clamp(static_cast<double>(sum) / azimuths, 0.0, 1.0);
}

}  // namespace linefall
