#pragma once
// The terrain: heights on a square grid of posts; between four posts the surface is the bilinear patch.

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "base/raster.h"
#include "base/vectors.h"

namespace linefall {

/// Heights in metres above datum at posts; post (0, 0) is the south-west corner, columns run east, rows run north.
/// The field is centred on the world's origin.
class HeightField {
public:
    HeightField() = default;
    /// At least 2 x 2 posts; finite heights.
    HeightField(Raster<float> posts_m, double spacing_m);

    [[nodiscard]] int columns() const { return posts_.columns(); }  ///< posts, west to east
    [[nodiscard]] int rows() const { return posts_.rows(); }        ///< posts, south to north
    [[nodiscard]] int cellColumns() const { return posts_.columns() - 1; }
    [[nodiscard]] int cellRows() const { return posts_.rows() - 1; }
    [[nodiscard]] double spacing_m() const { return spacing_; }
    [[nodiscard]] double west_m() const { return west_; }
    [[nodiscard]] double south_m() const { return south_; }
    [[nodiscard]] double east_m() const { return -west_; }
    [[nodiscard]] double north_m() const { return -south_; }
    [[nodiscard]] const Raster<float>& posts() const { return posts_; }
    [[nodiscard]] double post_m(int column, int row) const { return static_cast<double>(posts_.at(column, row)); }

    [[nodiscard]] bool contains(double east, double north) const {
        return east >= west_ && east <= -west_ && north >= south_ && north <= -south_;
    }
    /// Height of the bilinear surface; points outside are moved to the nearest edge.
    [[nodiscard]] double heightAt(double east, double north) const;
    /// Upward unit normal of the bilinear surface, same rule outside.
    [[nodiscard]] Vec3 normalAt(double east, double north) const;
    /// The same for a point known to lie in a cell.
    [[nodiscard]] Vec3 normalInCell(int column, int row, double east, double north) const {
        const Patch p = patch(column, row);
        const double u = (east - west_) * per_spacing_ - column;
        const double v = (north - south_) * per_spacing_ - row;
        const double x = -(p.b + p.e * v) * per_spacing_;
        const double y = -(p.d + p.e * u) * per_spacing_;
        const double scale = 1.0 / std::sqrt(x * x + y * y + 1.0);
        return {x * scale, y * scale, scale};
    }
    /// Highest post of a cell.
    [[nodiscard]] float cellMost(int column, int row) const {
        const float* low = posts_.row(row).data() + column;
        const float* high = low + posts_.columns();
        return std::max(std::max(low[0], low[1]), std::max(high[0], high[1]));
    }
    /// Lowest and highest height in the field, m.
    [[nodiscard]] double least_m() const { return least_; }
    [[nodiscard]] double most_m() const { return most_; }

    /// Height of a cell's patch over a point minus the point's height, m: below 0 where the point lies above the ground.
    [[nodiscard]] double gapInCell(int column, int row, const Vec3& point_m) const {
        const Patch p = patch(column, row);
        const double u = (point_m.x - west_) * per_spacing_ - column;
        const double v = (point_m.y - south_) * per_spacing_ - row;
        return p.a + p.b * u + p.d * v + p.e * u * v - point_m.z;
    }

    /// The first distance in [from_m, to_m] at which the ray meets the patch of one cell, or is below it already at
    /// from_m. The patch equation is solved in closed form in double precision: this is the one function that decides
    /// where a ray meets the terrain.
    [[nodiscard]] std::optional<double> intersectCell(int column, int row, const Ray& ray, double from_m, double to_m) const {
        // Along the ray u, v and z are linear in the distance s from the point at from_m, so
        // gap(s) = h - z = A s^2 + B s + C; the ray is above the ground where gap < 0.
        const Patch p = patch(column, row);
        const Vec3 at = ray.at(from_m);
        const double u = (at.x - west_) * per_spacing_ - column;
        const double v = (at.y - south_) * per_spacing_ - row;
        const double C = p.a + p.b * u + p.d * v + p.e * u * v - at.z;
        if (C >= 0.0) return from_m;
        const double du = ray.direction.x * per_spacing_;
        const double dv = ray.direction.y * per_spacing_;
        const double A = p.e * du * dv;
        const double B = p.b * du + p.d * dv + p.e * (u * dv + v * du) - ray.direction.z;
        const double length = to_m - from_m;
        if ((A * length + B) * length + C < 0.0) {
            // Below at both ends: it can rise above between them only over a crest inside.
            if (A >= 0.0 || B <= 0.0 || B + 2.0 * A * length >= 0.0) return std::nullopt;
        }
        const double discriminant = B * B - 4.0 * A * C;
        if (discriminant < 0.0) return std::nullopt;
        // The rising root, in the form that loses no digits for the sign of B.
        const double root = std::sqrt(discriminant);
        const double s = B >= 0.0 ? -2.0 * C / (B + root) : (root - B) / (2.0 * A);
        return from_m + std::min(s, length);
    }

private:
    /// The patch of a cell over (u, v) in [0, 1]^2: h = a + b u + d v + e u v.
    struct Patch {
        double a, b, d, e;
    };
    [[nodiscard]] Patch patch(int column, int row) const {
        const float* low = posts_.row(row).data() + column;
        const float* high = low + posts_.columns();
        const double a = static_cast<double>(low[0]);
        const double b = static_cast<double>(low[1]) - a;
        const double d = static_cast<double>(high[0]) - a;
        return {a, b, d, static_cast<double>(high[1]) - a - b - d};
    }

    Raster<float> posts_;
    double spacing_ = 1.0;
    double per_spacing_ = 1.0;  // 1 / spacing
    double west_ = 0.0;
    double south_ = 0.0;
    double least_ = 0.0;
    double most_ = 0.0;
};

}  // namespace linefall
