#include "ground/height_field.h"

#include <algorithm>
#include <cmath>

namespace linefall {

namespace {

struct CellPoint {
    int column, row;
    double u, v;
};

CellPoint locate(const HeightField& field, double east, double north) {
    const double x = std::clamp((east - field.west_m()) / field.spacing_m(), 0.0, static_cast<double>(field.cellColumns()));
    const double y = std::clamp((north - field.south_m()) / field.spacing_m(), 0.0, static_cast<double>(field.cellRows()));
    const int column = std::min(static_cast<int>(x), field.cellColumns() - 1);
    const int row = std::min(static_cast<int>(y), field.cellRows() - 1);
    return {column, row, x - column, y - row};
}

}  // namespace

HeightField::HeightField(Raster<float> posts_m, double spacing_m)
    : posts_(std::move(posts_m)), spacing_(spacing_m), west_(-0.5 * spacing_m * (posts_.columns() - 1)),
      south_(-0.5 * spacing_m * (posts_.rows() - 1)) {
    const auto [least, most] = std::minmax_element(posts_.values().begin(), posts_.values().end());
    least_ = static_cast<double>(*least);
    most_ = static_cast<double>(*most);
}

double HeightField::heightAt(double east, double north) const {
    const CellPoint c = locate(*this, east, north);
    const double a = post_m(c.column, c.row);
    const double b = post_m(c.column + 1, c.row) - a;
    const double d = post_m(c.column, c.row + 1) - a;
    const double e = post_m(c.column + 1, c.row + 1) - a - b - d;
    return a + b * c.u + d * c.v + e * c.u * c.v;
}

Vec3 HeightField::normalAt(double east, double north) const {
    const CellPoint c = locate(*this, east, north);
    const double a = post_m(c.column, c.row);
    const double b = post_m(c.column + 1, c.row) - a;
    const double d = post_m(c.column, c.row + 1) - a;
    const double e = post_m(c.column + 1, c.row + 1) - a - b - d;
    return glm::normalize(Vec3{-(b + e * c.v) / spacing_, -(d + e * c.u) / spacing_, 1.0});
}

float HeightField::cellMost(int column, int row) const {
    return std::max(std::max(posts_.at(column, row), posts_.at(column + 1, row)),
                    std::max(posts_.at(column, row + 1), posts_.at(column + 1, row + 1)));
}

std::optional<double> HeightField::intersectCell(int column, int row, const Ray& ray, double from_m, double to_m) const {
    // Patch over (u, v) in [0, 1]^2: h = a + b u + d v + e u v. Along the ray u, v and z are linear in the distance s
    // from the point at from_m, so gap(s) = h - z = A s^2 + B s + C; the ray is above the ground where gap < 0.
    const double a = post_m(column, row);
    const double b = post_m(column + 1, row) - a;
    const double d = post_m(column, row + 1) - a;
    const double e = post_m(column + 1, row + 1) - a - b - d;
    const Vec3 p = ray.at(from_m);
    const double u = (p.x - west_) / spacing_ - column;
    const double v = (p.y - south_) / spacing_ - row;
    const double du = ray.direction.x / spacing_;
    const double dv = ray.direction.y / spacing_;
    const double A = e * du * dv;
    const double B = b * du + d * dv + e * (u * dv + v * du) - ray.direction.z;
    const double C = a + b * u + d * v + e * u * v - p.z;
    if (C >= 0.0) return from_m;
    const double length = to_m - from_m;
    if (A == 0.0) {
        if (B <= 0.0) return std::nullopt;
        const double s = -C / B;
        return s <= length ? std::optional(from_m + s) : std::nullopt;
    }
    const double discriminant = B * B - 4.0 * A * C;
    if (discriminant < 0.0) return std::nullopt;
    // C < 0, so with q as below the roots are q / A and C / q (numerically stable form).
    const double q = -0.5 * (B + std::copysign(std::sqrt(discriminant), B));
    double first = q / A;
    double second = C / q;
    if (first > second) std::swap(first, second);
    const double s = first >= 0.0 ? first : second;
    if (s < 0.0 || s > length) return std::nullopt;
    return from_m + s;
}

}  // namespace linefall
