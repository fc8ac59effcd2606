#include "view/mesh.h"

#include <algorithm>
#include <cmath>

#include "base/angle.h"

namespace linefall {

namespace {

MeshVertex vertexAt(const Vec3& p, const Colour& c) {
    return {static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(p.z), c[0], c[1], c[2], c[3]};
}

std::uint32_t count(const Mesh& mesh) { return static_cast<std::uint32_t>(mesh.vertices.size()); }

Colour mixed(const Colour& a, const Colour& b, double share) {
    Colour out{0, 0, 0, 255};
    for (std::size_t i = 0; i < 3; ++i) {
        out[i] = static_cast<std::uint8_t>(std::lround(a[i] + share * (static_cast<double>(b[i]) - a[i])));
    }
    return out;
}

/// Two triangles between rows of a grid whose row `r`, column `c` is vertex first + r * columns + c.
void appendGrid(Mesh& mesh, std::uint32_t first, int columns, int rows) {
    for (int r = 0; r + 1 < rows; ++r) {
        for (int c = 0; c + 1 < columns; ++c) {
            const std::uint32_t a = first + static_cast<std::uint32_t>(r * columns + c);
            const std::uint32_t b = a + static_cast<std::uint32_t>(columns);
            for (const std::uint32_t i : {a, a + 1, b + 1, a, b + 1, b}) mesh.triangles.push_back(i);
        }
    }
}

}  // namespace

Mesh terrainMesh(const HeightField& terrain, int side) {
    Mesh mesh;
    mesh.vertices.reserve(static_cast<std::size_t>(side) * static_cast<std::size_t>(side));
    for (int r = 0; r < side; ++r) {
        const double north = terrain.south_m() + (terrain.north_m() - terrain.south_m()) * r / (side - 1);
        for (int c = 0; c < side; ++c) {
            const double east = terrain.west_m() + (terrain.east_m() - terrain.west_m()) * c / (side - 1);
            mesh.vertices.push_back(vertexAt({east, north, terrain.heightAt(east, north)}, {255, 255, 255, 255}));
        }
    }
    appendGrid(mesh, 0, side, side);
    return mesh;
}

Mesh seaMesh(const HeightField& terrain, double reach_m, const Colour& near, const std::vector<Colour>& horizon) {
    Mesh mesh;
    constexpr int around = 16;  // vertices along each side of the square
    constexpr int rings = 14;
    const double half_east = terrain.east_m();
    const double half_north = terrain.north_m();
    for (int ring = 0; ring < rings; ++ring) {
        const double share = static_cast<double>(ring) / (rings - 1);
        const double factor = std::pow(reach_m / std::min(half_east, half_north), share);
        const double fade = std::pow(share, 2.2);
        for (int i = 0; i <= 4 * around; ++i) {
            const int k = i % (4 * around);
            const double along = 2.0 * (k % around) / around - 1.0;
            const Vec2 corner = k < around       ? Vec2{along, -1.0}
                                : k < 2 * around ? Vec2{1.0, along}
                                : k < 3 * around ? Vec2{-along, 1.0}
                                                 : Vec2{-1.0, -along};
            // From the square of the place towards a circle, so that the horizon is even.
            const Vec2 round = corner / glm::length(corner);
            const Vec2 place = glm::mix(corner, 1.25 * round, share) * factor;
            const double turn = wrappedToTurn(std::atan2(place.x, place.y)) / (2.0 * constants::pi) * static_cast<double>(horizon.size());
            const std::size_t before = static_cast<std::size_t>(turn) % horizon.size();
            const Colour far = mixed(horizon[before], horizon[(before + 1) % horizon.size()], turn - std::floor(turn));
            mesh.vertices.push_back(vertexAt({place.x * half_east, place.y * half_north, 0.0}, mixed(near, far, fade)));
        }
    }
    appendGrid(mesh, 0, 4 * around + 1, rings);
    return mesh;
}

Mesh skyMesh(const WorldLight& light) {
    Mesh mesh;
    constexpr int columns = 49;
    constexpr int rows = 15;
    for (int r = 0; r < rows; ++r) {
        const double share = static_cast<double>(r) / (rows - 1);
        const double elevation = radiansFromDegrees(-6.0 + 96.0 * share * share);  // closer rows near the horizon
        for (int c = 0; c < columns; ++c) {
            const double azimuth = 2.0 * constants::pi * c / (columns - 1);
            const Vec3 direction{std::cos(elevation) * std::sin(azimuth), std::cos(elevation) * std::cos(azimuth), std::sin(elevation)};
            mesh.vertices.push_back(vertexAt(direction, colourOf(skyRadianceRgb(light, sky_eye_m, direction), light.white)));
        }
    }
    appendGrid(mesh, 0, columns, rows);
    return mesh;
}

namespace {

/// Adds flat faces of an object, each with its own colour.
struct FaceMaker {
    Mesh& mesh;
    const Object& object;
    const SurfaceColour& colour;

    [[nodiscard]] Vec3 world(double along, double across, double above) const {
        const double s = std::sin(object.heading_rad), c = std::cos(object.heading_rad);
        return {object.east_m + along * s + across * c, object.north_m + along * c - across * s, object.base_m + above};
    }
    void face(std::initializer_list<Vec3> corners, std::uint16_t material) {
        const Vec3* p = corners.begin();
        Vec3 normal = glm::cross(p[1] - p[0], p[2] - p[0]);
        if (glm::length(normal) <= 0.0) return;
        normal = glm::normalize(normal);
        Vec3 middle{0.0};
        double highest = p[0].z;
        for (const Vec3& corner : corners) {
            middle += corner;
            highest = std::max(highest, corner.z);
        }
        middle /= static_cast<double>(corners.size());
        if (middle.z < object.base_m + 0.4 * object.height_m) middle.z = 0.5 * (middle.z + highest);  // feet stand in the ground
        const Colour c = colour(middle, normal, material);
        const std::uint32_t first = count(mesh);
        for (const Vec3& corner : corners) mesh.vertices.push_back(vertexAt(corner, c));
        for (std::uint32_t i = 1; i + 1 < corners.size(); ++i) {
            for (const std::uint32_t k : {first, first + i, first + i + 1}) mesh.triangles.push_back(k);
        }
    }
    void sides(double half_length, double half_width, double foot, double top) {
        const double l = half_length, w = half_width;
        face({world(l, w, foot), world(l, -w, foot), world(l, -w, top), world(l, w, top)}, object.side_material);
        face({world(-l, -w, foot), world(-l, w, foot), world(-l, w, top), world(-l, -w, top)}, object.side_material);
        face({world(-l, w, foot), world(l, w, foot), world(l, w, top), world(-l, w, top)}, object.side_material);
        face({world(l, -w, foot), world(-l, -w, foot), world(-l, -w, top), world(l, -w, top)}, object.side_material);
    }
};

void appendRound(FaceMaker& make, int sides, double foot) {
    const Object& o = make.object;
    const double radius = 0.5 * o.length_m;
    const double turn = 2.0 * constants::pi / sides;
    const auto rim = [&](int i, double share, double above) {
        // Counter-clockwise seen from above in (along, across) means minus the angle.
        return make.world(share * radius * std::cos(-turn * i), share * radius * std::sin(-turn * i), above);
    };
    for (int i = 0; i < sides; ++i) {
        if (o.shape == Shape::cone) {
            make.face({rim(i, 1.0, foot), rim(i + 1, 1.0, foot), rim(i + 1, 1.0, 0.0), rim(i, 1.0, 0.0)}, o.side_material);
            make.face({rim(i, 1.0, 0.0), rim(i + 1, 1.0, 0.0), make.world(0, 0, o.height_m)}, o.top_material);
        } else if (o.shape == Shape::cylinder) {
            make.face({rim(i, 1.0, foot), rim(i + 1, 1.0, foot), rim(i + 1, 1.0, o.height_m), rim(i, 1.0, o.height_m)}, o.side_material);
            make.face({rim(i, 1.0, o.height_m), rim(i + 1, 1.0, o.height_m), make.world(0, 0, o.height_m)}, o.top_material);
        } else {  // dome: two bands and a cap
            const double a = std::cos(radiansFromDegrees(40.0)), h = o.height_m * std::sin(radiansFromDegrees(40.0));
            make.face({rim(i, 1.0, foot), rim(i + 1, 1.0, foot), rim(i + 1, a, h), rim(i, a, h)}, o.top_material);
            make.face({rim(i, a, h), rim(i + 1, a, h), make.world(0, 0, o.height_m)}, o.top_material);
        }
    }
}

}  // namespace

void appendObject(Mesh& mesh, const Object& object, int sides, const SurfaceColour& colour) {
    FaceMaker make{mesh, object, colour};
    const double l = 0.5 * object.length_m, w = 0.5 * object.width_m, h = object.height_m;
    const double foot = -object.foundation_m;
    switch (object.shape) {
        case Shape::box:
        case Shape::wall:
            make.sides(l, w, foot, h);
            make.face({make.world(l, w, h), make.world(l, -w, h), make.world(-l, -w, h), make.world(-l, w, h)}, object.top_material);
            break;
        case Shape::gable: {
            const double eaves = object.eaves_share * h;
            make.sides(l, w, foot, eaves);
            make.face({make.world(l, w, eaves), make.world(l, -w, eaves), make.world(l, 0, h)}, object.side_material);
            make.face({make.world(-l, -w, eaves), make.world(-l, w, eaves), make.world(-l, 0, h)}, object.side_material);
            make.face({make.world(-l, w, eaves), make.world(l, w, eaves), make.world(l, 0, h), make.world(-l, 0, h)}, object.top_material);
            make.face({make.world(l, -w, eaves), make.world(-l, -w, eaves), make.world(-l, 0, h), make.world(l, 0, h)}, object.top_material);
            break;
        }
        case Shape::pyramid: {
            make.sides(l, w, foot, 0.0);
            const Vec3 apex = make.world(0, 0, h);
            make.face({make.world(l, w, 0), make.world(l, -w, 0), apex}, object.top_material);
            make.face({make.world(-l, -w, 0), make.world(-l, w, 0), apex}, object.top_material);
            make.face({make.world(-l, w, 0), make.world(l, w, 0), apex}, object.top_material);
            make.face({make.world(l, -w, 0), make.world(-l, -w, 0), apex}, object.top_material);
            break;
        }
        default: appendRound(make, sides, foot); break;
    }
}

}  // namespace linefall
