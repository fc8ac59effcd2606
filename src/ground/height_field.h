#pragma once
// The terrain: heights on a square grid of posts; between four posts the surface is the bilinear patch.

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
    /// Highest post of a cell.
    [[nodiscard]] float cellMost(int column, int row) const;
    /// Lowest and highest height in the field, m.
    [[nodiscard]] double least_m() const { return least_; }
    [[nodiscard]] double most_m() const { return most_; }

    /// The first distance in [from_m, to_m] at which the ray meets the patch of one cell, or is below it already at
    /// from_m. The patch equation is solved in closed form in double precision: this is the one function that decides
    /// where a ray meets the terrain.
    [[nodiscard]] std::optional<double> intersectCell(int column, int row, const Ray& ray, double from_m,
                                                      double to_m) const;

private:
    Raster<float> posts_;
    double spacing_ = 1.0;
    double west_ = 0.0;
    double south_ = 0.0;
    double least_ = 0.0;
    double most_ = 0.0;
};

}  // namespace linefall
