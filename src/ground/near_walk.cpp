// Looks that are known to end close by: the ground over a line's band, bounded from above, and a walk of single cells.

#include <algorithm>
#include <cmath>

#include "ground/ground.h"

namespace linefall {

namespace {

constexpr int most_cells_walked = 48;  // a ray that goes on longer searches the pyramid instead

}  // namespace

float Ground::highestAbout(double east, double north) const {
    const double x = (east - terrain_.west_m()) / terrain_.spacing_m() + 0.5;
    const double y = (north - terrain_.south_m()) / terrain_.spacing_m() + 0.5;
    if (!(x >= 0.0 && y >= 0.0 && x < about_.columns() && y < about_.rows())) return 0.0f;  // the plane beyond
    return about_.at(static_cast<int>(x), static_cast<int>(y));
}

GroundHit Ground::nearStill(const Ray& ray, double from_m) const {
    const double spacing = terrain_.spacing_m();
    const int columns = terrain_.cellColumns();
    const int rows = terrain_.cellRows();
    const double x = (ray.origin_m.x + from_m * ray.direction.x - terrain_.west_m()) / spacing;
    const double y = (ray.origin_m.y + from_m * ray.direction.y - terrain_.south_m()) / spacing;
    if (!(x >= 0.0 && y >= 0.0 && x < columns && y < rows)) return intersectStill(ray, from_m);
    int column = static_cast<int>(x);
    int row = static_cast<int>(y);
    const int step_column = ray.direction.x > 0.0 ? 1 : -1;
    const int step_row = ray.direction.y > 0.0 ? 1 : -1;
    const double column_length = ray.direction.x == 0.0 ? infinite : spacing / std::abs(ray.direction.x);
    const double row_length = ray.direction.y == 0.0 ? infinite : spacing / std::abs(ray.direction.y);
    double column_end = ray.direction.x == 0.0 ? infinite : from_m + (step_column > 0 ? column + 1 - x : x - column) * column_length;
    double row_end = ray.direction.y == 0.0 ? infinite : from_m + (step_row > 0 ? row + 1 - y : y - row) * row_length;
    const Raster<float>& highest = pyramid_.front();
    double t = from_m;
    for (int walked = 0; walked < most_cells_walked; ++walked) {
        const double exit = std::min(column_end, row_end);
        if (exit == infinite) break;  // straight down: the search from afar knows how
        const float most = highest.at(column, row);
        if (ray.origin_m.z + (ray.direction.z < 0.0 ? exit : t) * ray.direction.z <= static_cast<double>(most)) {
            if (terrain_.cellMost(column, row) != most) break;  // something stands here
            if (const auto hit = terrain_.intersectCell(column, row, ray, t, exit)) {
                GroundHit out;
                out.meets = Meets::terrain;
                out.distance_m = *hit;
                out.point_m = ray.at(*hit);
                out.normal = terrain_.normalInCell(column, row, out.point_m.x, out.point_m.y);
                out.material = paints_.empty() && !materials_.empty() ? std::uint16_t{materials_.at(column, row)}
                                                                     : materialAt(out.point_m.x, out.point_m.y);
                return out;
            }
        }
        t = exit;
        if (column_end <= row_end) {
            column += step_column;
            column_end += column_length;
            if (column < 0 || column >= columns) break;
        } else {
            row += step_row;
            row_end += row_length;
            if (row < 0 || row >= rows) break;
        }
    }
    return intersectStill(ray, t * (1.0 - 1e-12));
}

}  // namespace linefall
