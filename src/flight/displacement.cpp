#include "flight/displacement.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <tuple>

#include "base/constants.h"

namespace linefall {

namespace {

constexpr std::size_t most_candidates = 4000;

double pixelsBetween(const PicturePlace& a, const PicturePlace& b) { return std::hypot(a.sample - b.sample, a.line - b.line); }

std::string nameOfObject(const Object& object) { return object.name.empty() ? std::string(nameOf(object.shape)) : object.name; }

/// Where a map at datum shows a point: its line of sight goes on to the datum, or back to it from below.
Vec2 onMap(const Located& at, const Vec3& point_m) {
    const Vec3 p = point_m - at.ray.direction * (point_m.z / at.ray.direction.z);
    return {p.x, p.y};
}

std::optional<Displacement> displaced(const TwoPictures& pictures, const Vec3& point_m) {
    const auto seen = pictures.with.seen(point_m);
    if (!seen) return std::nullopt;
    const auto home = pictures.without.locate(point_m);
    if (!home) return std::nullopt;
    Displacement out;
    out.true_m = point_m;
    out.seen = seen->at;
    out.home = *home;
    out.map_m = onMap(seen->at, point_m);
    out.vector_m = out.map_m - Vec2{point_m.x, point_m.y};
    out.visible = seen->visible;
    return out;
}

/// The largest first, each some way from those before it, no more than `most`.
void takeLargest(std::vector<Displacement> found, int most, double apart, std::vector<Displacement>& out) {
    std::stable_sort(found.begin(), found.end(), [](const Displacement& a, const Displacement& b) { return a.pixels() > b.pixels(); });
    int taken = 0;
    for (Displacement& d : found) {
        if (taken == most) break;
        if (std::any_of(out.begin(), out.end(), [&](const Displacement& o) { return pixelsBetween(o.seen, d.seen) < apart; })) continue;
        out.push_back(std::move(d));
        ++taken;
    }
}

/// The summit of a square of the terrain, a post as high as all about it and higher than some of the square; else its middle.
struct Summit {
    Vec3 point_m{0.0};
    bool high = false;
};
Summit summitOf(const HeightField& terrain, const Vec2& from, const Vec2& to) {
    const auto post = [&](double offset, int count) { return std::clamp(static_cast<int>(std::lround(offset / terrain.spacing_m())), 0, count - 1); };
    const int first_column = post(from.x - terrain.west_m(), terrain.columns()), last_column = post(to.x - terrain.west_m(), terrain.columns());
    const int first_row = post(from.y - terrain.south_m(), terrain.rows()), last_row = post(to.y - terrain.south_m(), terrain.rows());
    int column = first_column, row = first_row;
    double least = terrain.post_m(column, row);
    for (int r = first_row; r <= last_row; ++r) {
        for (int c = first_column; c <= last_column; ++c) {
            least = std::min(least, terrain.post_m(c, r));
            if (terrain.post_m(c, r) > terrain.post_m(column, row)) std::tie(column, row) = std::pair{c, r};
        }
    }
    const double top = terrain.post_m(column, row);
    bool highest = top > least;
    for (int dr = -1; dr <= 1; ++dr) {
        for (int dc = -1; dc <= 1; ++dc) {
            const int c = column + dc, r = row + dr;
            if (c >= 0 && c < terrain.columns() && r >= 0 && r < terrain.rows() && terrain.post_m(c, r) > top) highest = false;
        }
    }
    if (highest) return {{terrain.west_m() + column * terrain.spacing_m(), terrain.south_m() + row * terrain.spacing_m(), top}, true};
    const Vec2 middle = 0.5 * (from + to);
    return {{middle.x, middle.y, terrain.heightAt(middle.x, middle.y)}, false};
}

std::vector<Displacement> ofTerrain(const TwoPictures& pictures, const DisplacementRequest& request) {
    const HeightField& terrain = pictures.with.aim().ground().terrain();
    const Box reach = pictures.with.reach();
    const Vec2 from{std::max(reach.least.x, terrain.west_m()), std::max(reach.least.y, terrain.south_m())};
    const Vec2 to{std::min(reach.most.x, terrain.east_m()), std::min(reach.most.y, terrain.north_m())};
    std::vector<Displacement> out;
    const double side = std::max(to.x - from.x, to.y - from.y) / std::max(1, request.squares);
    if (!(to.x > from.x) || !(to.y > from.y)) return out;
    const int columns = static_cast<int>(std::ceil((to.x - from.x) / side)), rows = static_cast<int>(std::ceil((to.y - from.y) / side));
    for (int row = 0; row < rows; ++row) {
        for (int column = 0; column < columns; ++column) {
            const Vec2 corner = from + side * Vec2{static_cast<double>(column), static_cast<double>(row)};
            const Summit summit = summitOf(terrain, corner, {std::min(to.x, corner.x + side), std::min(to.y, corner.y + side)});
            auto d = displaced(pictures, summit.point_m);
            if (!d || d->pixels() < request.least_pixels) continue;
            d->name = summit.high ? "high point" : "ground";
            out.push_back(std::move(*d));
        }
    }
    return out;
}

std::vector<Displacement> ofObjects(const TwoPictures& pictures, const DisplacementRequest& request) {
    const std::span<const Object> objects = pictures.with.aim().ground().objects();
    std::vector<int> order(objects.size());
    std::iota(order.begin(), order.end(), 0);
    if (order.size() > most_candidates) {
        std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
            return objects[static_cast<std::size_t>(a)].height_m > objects[static_cast<std::size_t>(b)].height_m;
        });
        order.resize(most_candidates);
    }
    const Box reach = pictures.with.reach();
    std::vector<Displacement> out;
    for (const int id : order) {
        const Object& object = objects[static_cast<std::size_t>(id)];
        if (object.east_m < reach.least.x || object.east_m > reach.most.x || object.north_m < reach.least.y || object.north_m > reach.most.y) continue;
        auto d = displaced(pictures, {object.east_m, object.north_m, object.top_m()});
        if (!d || d->pixels() < request.least_pixels) continue;
        d->object = id;
        d->name = nameOfObject(object);
        out.push_back(std::move(*d));
    }
    return out;
}

}  // namespace

double Displacement::pixels() const { return pixelsBetween(seen, home); }

TwoPictures picturesBy(const Scene& scene, std::size_t instrument, Cause cause) {
    return {Locator(scene, instrument), Locator(switched(scene, cause, false), instrument)};
}

std::vector<Displacement> displacements(const TwoPictures& pictures, const DisplacementRequest& request) {
    const double apart = request.apart * std::max(pictures.with.aim().samples(), pictures.with.aim().lines());
    std::vector<Displacement> out;
    takeLargest(ofObjects(pictures, request), request.most_objects, apart, out);
    takeLargest(ofTerrain(pictures, request), request.most_points, apart, out);
    std::stable_sort(out.begin(), out.end(), [](const Displacement& a, const Displacement& b) { return a.pixels() > b.pixels(); });
    return out;
}

namespace {

/// The outline of an object's footprint, east and north: 24 points of a circle, or sides in four steps.
std::vector<Vec2> outlineOf(const Object& o) {
    std::vector<Vec2> ring;
    const Vec2 middle{o.east_m, o.north_m};
    if (o.shape == Shape::cone || o.shape == Shape::cylinder || o.shape == Shape::dome) {
        constexpr int points = 24;
        for (int i = 0; i < points; ++i) {
            const double turn = 2.0 * constants::pi * i / points;
            ring.push_back(middle + 0.5 * o.length_m * Vec2{std::sin(turn), std::cos(turn)});
        }
        return ring;
    }
    const Vec2 along = 0.5 * o.length_m * Vec2{std::sin(o.heading_rad), std::cos(o.heading_rad)};
    const Vec2 across = 0.5 * o.width_m * Vec2{std::cos(o.heading_rad), -std::sin(o.heading_rad)};
    const Vec2 corners[4] = {middle + along + across, middle - along + across, middle - along - across, middle + along - across};
    for (int side = 0; side < 4; ++side) {
        for (int i = 0; i < 4; ++i) ring.push_back(corners[side] + 0.25 * i * (corners[(side + 1) % 4] - corners[side]));
    }
    return ring;
}

/// The outline of its top: the footprint raised to it, of a gabled roof to the eaves; of a spire or dome its highest point.
std::vector<Vec3> topOf(const Object& o, const std::vector<Vec2>& footprint) {
    if (o.shape == Shape::pyramid || o.shape == Shape::cone || o.shape == Shape::dome) return {{o.east_m, o.north_m, o.top_m()}};
    std::vector<Vec3> ring;
    const double height = o.shape == Shape::gable ? o.base_m + o.eaves_share * o.height_m : o.top_m();
    for (const Vec2& p : footprint) ring.push_back({p.x, p.y, height});
    return ring;
}

/// False, and no points, when a part of the ring lies outside the field.
bool locateRing(const Locator& locator, const std::vector<Vec3>& ring, std::vector<PicturePlace>& in_picture, std::vector<Vec2>* on_map) {
    for (const Vec3& point : ring) {
        const auto at = locator.locate(point);
        if (!at) {
            in_picture.clear();
            if (on_map != nullptr) on_map->clear();
            return false;
        }
        in_picture.push_back(*at);
        if (on_map != nullptr) on_map->push_back(onMap(*at, point));
    }
    return true;
}

}  // namespace

std::vector<Ghost> ghostOutlines(const TwoPictures& pictures, std::span<const int> objects) {
    std::vector<Ghost> out;
    for (const int id : objects) {
        const Object& object = pictures.with.aim().ground().objects()[static_cast<std::size_t>(id)];
        Ghost ghost;
        ghost.object = id;
        ghost.name = nameOfObject(object);
        ghost.truth_m = outlineOf(object);
        const std::vector<Vec3> top = topOf(object, ghost.truth_m);
        std::vector<Vec3> foot;
        for (const Vec2& p : ghost.truth_m) foot.push_back({p.x, p.y, object.base_m});
        locateRing(pictures.without, top.size() == 1 ? foot : top, ghost.truth, nullptr);
        locateRing(pictures.with, foot, ghost.foot, &ghost.foot_map_m);
        locateRing(pictures.with, top, ghost.top, &ghost.top_map_m);
        out.push_back(std::move(ghost));
    }
    return out;
}

}  // namespace linefall
