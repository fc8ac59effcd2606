#include "ground/height_field.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <utility>

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
    // Lane by lane: the same two numbers as one by one, and the compiler can use vectors.
    constexpr std::size_t lanes = 16;
    std::array<float, lanes> least, most;
    least.fill(posts_.values().front());
    most = least;
    const std::span<const float> values = std::as_const(posts_).values();
    const std::size_t whole = values.size() / lanes * lanes;
    for (std::size_t i = 0; i < whole; i += lanes) {
        for (std::size_t k = 0; k < lanes; ++k) {
            least[k] = values[i + k] < least[k] ? values[i + k] : least[k];
            most[k] = values[i + k] > most[k] ? values[i + k] : most[k];
        }
    }
    for (std::size_t i = whole; i < values.size(); ++i) {
        least[0] = std::min(least[0], values[i]);
        most[0] = std::max(most[0], values[i]);
    }
    least_ = static_cast<double>(*std::min_element(least.begin(), least.end()));
    most_ = static_cast<double>(*std::max_element(most.begin(), most.end()));
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
