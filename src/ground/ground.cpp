#include "ground/ground.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace linefall {

namespace {

constexpr int bin_level = 3;  // objects are listed by bins of 8 x 8 cells
constexpr int far_level = 5;   // where a search from afar begins
constexpr double infinity = std::numeric_limits<double>::infinity();

int binsFor(int cells) { return (cells + (1 << bin_level) - 1) >> bin_level; }

}  // namespace

Ground::Ground(HeightField terrain, Raster<std::uint8_t> materials, std::vector<Object> objects,
               std::uint16_t beyond_material, std::vector<Paint> paints)
    : terrain_(std::move(terrain)), materials_(std::move(materials)), objects_(std::move(objects)),
      paints_(std::move(paints)), beyond_material_(beyond_material) {
    // Single precision holds half the place's width to one part in 2^24; four of those steps, and at least a centimetre.
    lift_ = std::max(0.01, 4.0 * std::max(terrain_.east_m(), terrain_.north_m()) / 16777216.0);
    placeMovers();
    placeObjects();
    buildPyramid();
    buildAbout();
    buildHorizons();
}

std::uint16_t Ground::materialAt(double east, double north) const {
    if (!terrain_.contains(east, north)) return beyond_material_;
    for (std::size_t i = paints_.size(); i-- > 0;) {
        if (const auto painted = paints_[i].at(east, north)) return *painted;
    }
    if (materials_.empty()) return beyond_material_;
    const int column = static_cast<int>((east - terrain_.west_m()) / terrain_.spacing_m());
    const int row = static_cast<int>((north - terrain_.south_m()) / terrain_.spacing_m());
    return materials_.at(std::min(column, materials_.columns() - 1), std::min(row, materials_.rows() - 1));
}

void Ground::placeObjects() {
    const int bin_columns = binsFor(terrain_.cellColumns());
    const int bin_rows = binsFor(terrain_.cellRows());
    std::vector<std::vector<std::uint32_t>> bins(static_cast<std::size_t>(bin_columns) * static_cast<std::size_t>(bin_rows));
    highest_ = std::max(0.0, terrain_.most_m());
    const double bin_size = terrain_.spacing_m() * (1 << bin_level);
    for (std::size_t id = 0; id < objects_.size(); ++id) {
        Object& o = objects_[id];
        o.base_m = terrain_.heightAt(o.east_m, o.north_m);
        o.foundation_m = 0.0;
        const double reach = o.radius_m();
        double lowest = o.base_m;
        const int steps = std::clamp(static_cast<int>(2.0 * reach / terrain_.spacing_m()) + 2, 2, 64);
        for (int i = 0; i <= steps; ++i) {
            for (int j = 0; j <= steps; ++j) {
                lowest = std::min(lowest, terrain_.heightAt(o.east_m + reach * (2.0 * i / steps - 1.0),
                                                            o.north_m + reach * (2.0 * j / steps - 1.0)));
            }
        }
        o.foundation_m = o.base_m - lowest;
        highest_ = std::max(highest_, o.top_m());
        const double wide = o.radius_m();
        const auto bin = [&](double offset, int count) {
            return std::clamp(static_cast<int>(std::floor(offset / bin_size)), 0, count - 1);
        };
        for (int row = bin(o.north_m - wide - terrain_.south_m(), bin_rows);
             row <= bin(o.north_m + wide - terrain_.south_m(), bin_rows); ++row) {
            for (int column = bin(o.east_m - wide - terrain_.west_m(), bin_columns);
                 column <= bin(o.east_m + wide - terrain_.west_m(), bin_columns); ++column) {
                bins[static_cast<std::size_t>(row) * static_cast<std::size_t>(bin_columns) + static_cast<std::size_t>(column)]
                    .push_back(static_cast<std::uint32_t>(id));
            }
        }
    }
    bin_first_.assign(1, 0);
    for (const Object& o : movers_) highest_ = std::max(highest_, std::max(0.0, terrain_.most_m()) + o.height_m);
    for (const auto& bin : bins) {
        bin_objects_.insert(bin_objects_.end(), bin.begin(), bin.end());
        bin_first_.push_back(static_cast<std::uint32_t>(bin_objects_.size()));
    }
}

std::optional<std::pair<double, double>> Ground::clip(const Ray& ray, double from_m) const {
    double enter = from_m;
    double leave = infinity;
    const double least[2] = {terrain_.west_m(), terrain_.south_m()};
    const double most[2] = {terrain_.east_m(), terrain_.north_m()};
    for (int axis = 0; axis < 2; ++axis) {
        const double o = ray.origin_m[axis];
        const double d = ray.direction[axis];
        if (d == 0.0) {
            if (o < least[axis] || o > most[axis]) return std::nullopt;
            continue;
        }
        const double a = (least[axis] - o) / d;
        const double b = (most[axis] - o) / d;
        enter = std::max(enter, std::min(a, b));
        leave = std::min(leave, std::max(a, b));
    }
    // Above everything there is nothing to find.
    const double ceiling = static_cast<double>(pyramid_.back().at(0, 0));
    if (ray.direction.z < 0.0) enter = std::max(enter, (ceiling - ray.origin_m.z) / ray.direction.z);
    else if (ray.direction.z > 0.0) leave = std::min(leave, (ceiling - ray.origin_m.z) / ray.direction.z);
    else if (ray.origin_m.z > ceiling) return std::nullopt;
    if (enter > leave) return std::nullopt;
    return std::pair{enter, leave};
}

std::optional<Ground::Found> Ground::find(const Ray& ray, double from_m, bool any, int start_level,
                                          double to_m) const {
    const auto span = clip(ray, from_m);
    if (!span) return std::nullopt;
    const double leave = std::min(span->second, to_m);
    if (span->first > leave) return std::nullopt;
    double t = span->first;

    const double spacing = terrain_.spacing_m();
    const double west = terrain_.west_m();
    const double south = terrain_.south_m();
    const int columns = terrain_.cellColumns();
    const int rows = terrain_.cellRows();
    const double inverse_x = ray.direction.x != 0.0 ? 1.0 / ray.direction.x : infinity;
    const double inverse_y = ray.direction.y != 0.0 ? 1.0 / ray.direction.y : infinity;
    const int top = static_cast<int>(pyramid_.size()) - 1;

    const auto cellOf = [spacing](double offset, int count) {
        return std::clamp(static_cast<int>(std::floor(offset / spacing)), 0, count - 1);
    };
    int column = cellOf(ray.origin_m.x + t * ray.direction.x - west, columns);
    int row = cellOf(ray.origin_m.y + t * ray.direction.y - south, rows);
    int level = std::min(top, start_level);
    std::size_t tested_bin = std::numeric_limits<std::size_t>::max();
    const std::size_t bin_columns = static_cast<std::size_t>(binsFor(columns));
    std::optional<Found> best;

    while (true) {
        // The block of cells at this level that holds the cell (column, row), and the distance at which the ray leaves it.
        const int block_column = column >> level;
        const int block_row = row >> level;
        const int edge_column = ray.direction.x > 0.0 ? (block_column + 1) << level : block_column << level;
        const int edge_row = ray.direction.y > 0.0 ? (block_row + 1) << level : block_row << level;
        const double tx = ray.direction.x != 0.0 ? (west + edge_column * spacing - ray.origin_m.x) * inverse_x : infinity;
        const double ty = ray.direction.y != 0.0 ? (south + edge_row * spacing - ray.origin_m.y) * inverse_y : infinity;
        const double exit = std::max(t, std::min(std::min(tx, ty), leave));

        const double lowest = ray.origin_m.z + (ray.direction.z < 0.0 ? exit : t) * ray.direction.z;
        const bool clear = lowest > static_cast<double>(pyramid_[static_cast<std::size_t>(level)].at(block_column, block_row));
        if (!clear) {
            if (level <= bin_level) {  // objects of a bin are tested once, as soon as the ray may meet something in it
                const std::size_t bin = static_cast<std::size_t>(row >> bin_level) * bin_columns +
                                        static_cast<std::size_t>(column >> bin_level);
                if (bin != tested_bin) {
                    tested_bin = bin;
                    for (std::uint32_t k = bin_first_[bin]; k < bin_first_[bin + 1]; ++k) {
                        const std::uint32_t id = bin_objects_[k];
                        const auto hit = linefall::intersect(objects_[id], ray, from_m);
                        if (!hit || hit->distance_m > to_m || (best && hit->distance_m >= best->distance_m)) continue;
                        best = Found{hit->distance_m, hit->normal, static_cast<int>(id), -1, -1, hit->side};
                        if (any) return best;
                    }
                }
            }
            if (level > 0) {
                --level;
                continue;
            }
            if (const auto hit = terrain_.intersectCell(column, row, ray, t, exit)) {
                if (!best || *hit < best->distance_m) best = Found{*hit, Vec3{0.0}, -1, column, row, false};
                return best;
            }
        }
        if (best && best->distance_m <= exit) return best;
        if (exit >= leave) return best;
        // Step into the next block: one index is exact, the other follows from the distance and stays in the old block.
        if (tx <= ty) {
            column = ray.direction.x > 0.0 ? edge_column : edge_column - 1;
            if (column < 0 || column >= columns) return best;
            row = std::clamp(static_cast<int>(std::floor((ray.origin_m.y + exit * ray.direction.y - south) / spacing)),
                             block_row << level, std::min(((block_row + 1) << level) - 1, rows - 1));
        } else {
            row = ray.direction.y > 0.0 ? edge_row : edge_row - 1;
            if (row < 0 || row >= rows) return best;
            column = std::clamp(static_cast<int>(std::floor((ray.origin_m.x + exit * ray.direction.x - west) / spacing)),
                                block_column << level, std::min(((block_column + 1) << level) - 1, columns - 1));
        }
        t = exit;
        level = std::min(level + 1, top);
    }
}

GroundHit Ground::intersectStill(const Ray& ray, double from_m) const {
    GroundHit hit;
    // The level plane beyond the place lies at datum; a ray from above that meets it outside ends there.
    double plane = infinity;
    if (ray.direction.z < 0.0) {
        const double t = -ray.origin_m.z / ray.direction.z;
        const Vec3 p = ray.at(t);
        if (t >= from_m && !terrain_.contains(p.x, p.y)) plane = t;
    }
    const auto found = find(ray, from_m, false, from_m > 0.0 ? 0 : far_level);
    if (found && found->distance_m <= plane) {
        hit.distance_m = found->distance_m;
        hit.point_m = ray.at(found->distance_m);
        if (found->object >= 0) {
            const Object& object = objects_[static_cast<std::size_t>(found->object)];
            hit.meets = Meets::object;
            hit.normal = found->normal;
            hit.object = found->object;
            hit.material = found->side ? object.side_material : object.top_material;
        } else {
            hit.meets = Meets::terrain;
            hit.normal = terrain_.normalAt(hit.point_m.x, hit.point_m.y);
            hit.material = materialAt(hit.point_m.x, hit.point_m.y);
        }
    } else if (plane < infinity) {
        hit.meets = Meets::beyond;
        hit.distance_m = plane;
        hit.point_m = ray.at(plane);
        hit.point_m.z = 0.0;
        hit.material = beyond_material_;
    } else if (terrain_.least_m() < 0.0) {
        // Where the place's edge lies below datum, the ground beyond stands over it as a rim that is met from within.
        double leave = infinity;
        Vec3 inward{0.0};
        for (int axis = 0; axis < 2; ++axis) {
            const double d = ray.direction[axis];
            if (d == 0.0) continue;
            const double edge = axis == 0 ? terrain_.east_m() : terrain_.north_m();
            const double t = (std::copysign(edge, d) - ray.origin_m[axis]) / d;
            if (t >= leave) continue;
            leave = t;
            inward = Vec3{0.0};
            inward[axis] = -std::copysign(1.0, d);
        }
        const double across = leave * (1.0 - 1e-9);  // a point short of the rim lies within the place
        if (leave < infinity && leave > from_m && ray.at(leave).z < 0.0 && terrain_.contains(ray.at(across).x, ray.at(across).y)) {
            hit.meets = Meets::beyond;
            hit.distance_m = leave;
            hit.point_m = ray.at(leave);
            hit.normal = inward;
            hit.material = beyond_material_;
        }
    }
    return hit;
}

bool Ground::blocked(const Vec3& point_m, const Vec3& normal, const Vec3& towards, double time_s) const {
    return find({point_m + lift_ * normal, towards}, 0.0, true, 0).has_value() || blockedByMover(point_m, normal, towards, time_s);
}

bool Ground::blockedWithin(const Ray& ray, double length_m) const {
    return find(ray, 0.0, true, 0, length_m).has_value();
}

std::optional<GroundHit> Ground::blocking(const Vec3& point_m, const Vec3& normal, const Vec3& towards, double time_s) const {
    const Ray ray{point_m + lift_ * normal, towards, time_s};
    GroundHit hit;
    if (const auto found = find(ray, 0.0, false, 0)) {
        hit.meets = found->object >= 0 ? Meets::object : Meets::terrain;
        hit.object = found->object;
        hit.distance_m = found->distance_m;
        hit.point_m = ray.at(found->distance_m);
        hit.normal = found->object >= 0 ? found->normal : terrain_.normalAt(hit.point_m.x, hit.point_m.y);
    }
    if (!movers_.empty()) hit = orMover(ray, 0.0, hit);
    return hit.meets == Meets::sky ? std::nullopt : std::optional(hit);
}

double Ground::surfaceAt(double east, double north) const {
    if (!terrain_.contains(east, north)) return 0.0;
    double height = terrain_.heightAt(east, north);
    const double bin_size = terrain_.spacing_m() * (1 << bin_level);
    const int column = std::min(static_cast<int>((east - terrain_.west_m()) / bin_size), binsFor(terrain_.cellColumns()) - 1);
    const int row = std::min(static_cast<int>((north - terrain_.south_m()) / bin_size), binsFor(terrain_.cellRows()) - 1);
    const std::size_t bin = static_cast<std::size_t>(row) * static_cast<std::size_t>(binsFor(terrain_.cellColumns())) +
                            static_cast<std::size_t>(column);
    for (std::uint32_t k = bin_first_[bin]; k < bin_first_[bin + 1]; ++k) {
        if (const auto over = objects_[bin_objects_[k]].surfaceOver(east, north)) height = std::max(height, *over);
    }
    return height;
}

}  // namespace linefall
