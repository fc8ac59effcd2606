#pragma once
// Triangles of the ground, for showing it. Plain data, made without OpenGL.

#include <array>
#include <cstdint>
#include <functional>
#include <vector>

#include "ground/ground.h"
#include "view/tone.h"

namespace linefall {

struct MeshVertex {
    float x_m, y_m, z_m;
    std::uint8_t red, green, blue, opaque;
};

struct Mesh {
    std::vector<MeshVertex> vertices;
    std::vector<std::uint32_t> triangles;  ///< three indices each
};

/// The terrain as a square grid of `side` x `side` vertices; triangles face up. Colours are not used (the drape gives them).
[[nodiscard]] Mesh terrainMesh(const HeightField& terrain, int side);

/// The level plane at datum around the place, out to `reach_m`, fading with distance from `near` to the sky's horizon,
/// whose colours stand clockwise from north.
[[nodiscard]] Mesh seaMesh(const HeightField& terrain, double reach_m, const Colour& near, const std::vector<Colour>& horizon);

/// How bright a piece of an object is: a point, its outward normal, its material.
using SurfaceColour = std::function<Colour(const Vec3& point_m, const Vec3& normal, std::uint16_t material)>;

/// Appends one object; round shapes get `sides` sides.
void appendObject(Mesh& mesh, const Object& object, int sides, const SurfaceColour& colour);

/// The height from which the sky is shown.
inline constexpr double sky_eye_m = 1000.0;
/// The sky as a dome of unit radius: directions as vertices.
[[nodiscard]] Mesh skyMesh(const WorldLight& light);

}  // namespace linefall
