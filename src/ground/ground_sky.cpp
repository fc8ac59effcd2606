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

    // A copy of the terrain at the nodes: searching it touches little memory.
    Raster<float> coarse(horizon_columns_, horizon_rows_);
    for (int row = 0; row < horizon_rows_; ++row) {
        for (int column = 0; column < horizon_columns_; ++column) {
            coarse.at(column, row) = static_cast<float>(terrain_.heightAt(terrain_.west_m() + column * horizon_spacing_m_,
                                                                          terrain_.south_m() + row * horizon_spacing_m_));
        }
    }
    horizons_.assign(coarse.size() * azimuths, 0.0f);
    parallelFor(horizon_rows_, 0, [&](int row) {
        for (int column = 0; column < horizon_columns_; ++column) {
            const float here = coarse.at(column, row);
            const std::size_t node = static_cast<std::size_t>(row) * static_cast<std::size_t>(horizon_columns_) +
                                     static_cast<std::size_t>(column);
            for (int k = 0; k < azimuths; ++k) {
                const double east = static_cast<double>(directions().east[static_cast<std::size_t>(k)]);
                const double north = static_cast<double>(directions().north[static_cast<std::size_t>(k)]);
                float steepest = 0.0f;
                for (double step = 1.0; ; step = std::max(step + 1.0, step * 1.25)) {
                    const double x = column + step * east;
                    const double y = row + step * north;
                    if (x < 0.0 || y < 0.0 || x > horizon_columns_ - 1 || y > horizon_rows_ - 1) break;
                    const int i = std::min(static_cast<int>(x), horizon_columns_ - 2);
                    const int j = std::min(static_cast<int>(y), horizon_rows_ - 2);
                    const float u = static_cast<float>(x - i);
                    const float v = static_cast<float>(y - j);
                    const float low = coarse.at(i, j) * (1.0f - u) + coarse.at(i + 1, j) * u;
                    const float high = coarse.at(i, j + 1) * (1.0f - u) + coarse.at(i + 1, j + 1) * u;
                    const float rise = low * (1.0f - v) + high * v - here;
                    steepest = std::max(steepest, rise / static_cast<float>(step * horizon_spacing_m_));
                }
                horizons_[node * azimuths + static_cast<std::size_t>(k)] = steepest / std::sqrt(1.0f + steepest * steepest);
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
