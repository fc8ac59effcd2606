// The share of the sky that a surface sees.
//
// Around each node of a coarse grid the zenith angle H of the terrain's horizon is kept for 16 azimuths. A surface with
// unit normal n sees the share
//     (1 / pi) sum over azimuths of integral_0^H' (n_z cos t + n_h sin t) sin t dt * (2 pi / 16)
// where n_h is the normal's component along the azimuth and H' the smaller of H and the angle at which the surface hides
// the sky itself. The integral is n_z sin^2 H' / 2 + n_h (H' / 2 - sin 2H' / 4).
// Left out: objects hide no sky; the horizon is searched at distances that grow by a quarter.
// The integral is that of Dozier and Frew 1990, IEEE Trans. Geosci. Remote Sens. 28(5), eq. 7b (from memory).

#include <algorithm>
#include <array>
#include <cmath>

#include "base/constants.h"
#include "base/threads.h"
#include "ground/ground.h"

namespace linefall {

namespace {

constexpr int azimuths = 16;
constexpr int most_nodes = 256;  // along one side

struct Direction {
    double east, north;
};

const std::array<Direction, azimuths>& directions() {
    static const std::array<Direction, azimuths> list = [] {
        std::array<Direction, azimuths> d{};
        for (int k = 0; k < azimuths; ++k) {
            const double azimuth = 2.0 * constants::pi * (k + 0.5) / azimuths;
            d[static_cast<std::size_t>(k)] = {std::sin(azimuth), std::cos(azimuth)};
        }
        return d;
    }();
    return list;
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
                const Direction& d = directions()[static_cast<std::size_t>(k)];
                float steepest = 0.0f;
                for (double step = 1.0; ; step = std::max(step + 1.0, step * 1.25)) {
                    const double x = column + step * d.east;
                    const double y = row + step * d.north;
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
                horizons_[node * azimuths + static_cast<std::size_t>(k)] = std::atan2(1.0f, steepest);
            }
        }
    });
}

double Ground::skyShare(const Vec3& point_m, const Vec3& normal) const {
    const float* corner[4] = {nullptr, nullptr, nullptr, nullptr};
    double weight[4] = {0.0, 0.0, 0.0, 0.0};
    const bool known = !horizons_.empty() && terrain_.contains(point_m.x, point_m.y);
    if (known) {
        const double x = (point_m.x - terrain_.west_m()) / horizon_spacing_m_;
        const double y = (point_m.y - terrain_.south_m()) / horizon_spacing_m_;
        const int i = std::min(static_cast<int>(x), horizon_columns_ - 2);
        const int j = std::min(static_cast<int>(y), horizon_rows_ - 2);
        const double u = x - i;
        const double v = y - j;
        for (int k = 0; k < 4; ++k) {
            const int column = i + (k & 1);
            const int row = j + (k >> 1);
            corner[k] = horizons_.data() + (static_cast<std::size_t>(row) * static_cast<std::size_t>(horizon_columns_) +
                                            static_cast<std::size_t>(column)) * azimuths;
            weight[k] = ((k & 1) != 0 ? u : 1.0 - u) * ((k >> 1) != 0 ? v : 1.0 - v);
        }
    }
    double sum = 0.0;
    for (int k = 0; k < azimuths; ++k) {
        const Direction& d = directions()[static_cast<std::size_t>(k)];
        const double along = normal.x * d.east + normal.y * d.north;
        double horizon = 0.5 * constants::pi;
        if (known) {
            horizon = 0.0;
            for (int c = 0; c < 4; ++c) horizon += weight[c] * static_cast<double>(corner[c][k]);
        }
        if (along < 0.0) horizon = std::min(horizon, std::atan2(std::max(0.0, normal.z), -along));
        const double s = std::sin(horizon);
        sum += 0.5 * (normal.z * s * s + along * (horizon - s * std::cos(horizon)));
    }
    return std::clamp(sum * 2.0 / azimuths, 0.0, 1.0);
}

}  // namespace linefall
