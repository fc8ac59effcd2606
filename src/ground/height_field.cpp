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
    : posts_(std::move(posts_m)), spacing_(spacing_m), per_spacing_(1.0 / spacing_m), west_(-0.5 * spacing_m * (posts_.columns() - 1)),
      south_(-0.5 * spacing_m * (posts_.rows() - 1)) {
    const auto [least, most] = std::minmax_element(posts_.values().begin(), posts_.values().end());
    least_ = static_cast<double>(*least);
    most_ = static_cast<double>(*most);
}

double HeightField::heightAt(double east, double north) const {
    const CellPoint c = locate(*this, east, north);
    const Patch p = patch(c.column, c.row);
    return p.a + p.b * c.u + p.d * c.v + p.e * c.u * c.v;
}

Vec3 HeightField::normalAt(double east, double north) const {
    const CellPoint c = locate(*this, east, north);
    return normalInCell(c.column, c.row, west_ + (c.column + c.u) * spacing_, south_ + (c.row + c.v) * spacing_);
}

}  // namespace linefall
