#include "view/platform_shape.h"

#include <algorithm>

namespace linefall {

namespace {

struct Piece {
    std::vector<Vec3> corners;  // platform frame: forward, starboard, down; span about 2
    float shade;                // 0 ink .. 1 paper
};

const std::vector<Piece>& aeroplane() {
    // High wings with some thickness, a body deep enough to be seen from the side, a tail.
    static const std::vector<Piece> pieces{
        {{{0.30, 0.05, -0.10}, {0.06, 1.0, -0.16}, {-0.16, 1.0, -0.16}, {-0.16, 0.05, -0.10}}, 0.12f},
        {{{0.30, -0.05, -0.10}, {0.06, -1.0, -0.16}, {-0.16, -1.0, -0.16}, {-0.16, -0.05, -0.10}}, 0.12f},
        {{{0.10, 0.05, -0.13}, {0.0, 1.0, -0.18}, {0.0, 1.0, -0.13}, {0.10, 0.05, -0.05}}, 0.0f},
        {{{0.10, -0.05, -0.13}, {0.0, -1.0, -0.18}, {0.0, -1.0, -0.13}, {0.10, -0.05, -0.05}}, 0.0f},
        {{{-0.76, 0.0, -0.05}, {-0.84, 0.36, -0.05}, {-1.0, 0.36, -0.05}, {-1.0, 0.0, -0.05}}, 0.12f},
        {{{-0.76, 0.0, -0.05}, {-0.84, -0.36, -0.05}, {-1.0, -0.36, -0.05}, {-1.0, 0.0, -0.05}}, 0.12f},
        {{{0.80, 0.0, 0.0}, {0.55, 0.11, 0.0}, {-1.0, 0.03, 0.0}, {-1.0, -0.03, 0.0}, {0.55, -0.11, 0.0}}, 0.0f},
        {{{0.80, 0.0, 0.02}, {0.55, 0.0, 0.12}, {0.0, 0.0, 0.13}, {-1.0, 0.0, 0.0}, {-1.0, 0.0, -0.06}, {0.35, 0.0, -0.12}, {0.6, 0.0, -0.05}}, 0.06f},
        {{{0.35, 0.10, 0.0}, {0.35, 0.0, 0.13}, {0.35, -0.10, 0.0}, {0.35, 0.0, -0.13}}, 0.03f},
        {{{-0.72, 0.0, -0.03}, {-0.92, 0.0, -0.40}, {-1.04, 0.0, -0.40}, {-1.0, 0.0, -0.03}}, 0.22f}};
    return pieces;
}

const std::vector<Piece>& satellite() {
    static const std::vector<Piece> pieces{
        {{{0.25, 0.35, 0.0}, {0.25, 1.0, 0.0}, {-0.25, 1.0, 0.0}, {-0.25, 0.35, 0.0}}, 0.2f},
        {{{0.25, -0.35, 0.0}, {0.25, -1.0, 0.0}, {-0.25, -1.0, 0.0}, {-0.25, -0.35, 0.0}}, 0.2f},
        {{{0.3, 0.22, -0.2}, {0.3, -0.22, -0.2}, {-0.3, -0.22, -0.2}, {-0.3, 0.22, -0.2}}, 0.0f},
        {{{0.3, 0.22, 0.25}, {0.3, -0.22, 0.25}, {-0.3, -0.22, 0.25}, {-0.3, 0.22, 0.25}}, 0.0f},
        {{{0.3, 0.22, -0.2}, {0.3, 0.22, 0.25}, {-0.3, 0.22, 0.25}, {-0.3, 0.22, -0.2}}, 0.05f},
        {{{0.3, -0.22, -0.2}, {0.3, -0.22, 0.25}, {-0.3, -0.22, 0.25}, {-0.3, -0.22, -0.2}}, 0.05f}};
    return pieces;
}

}  // namespace

std::vector<PlatformFace> platformFaces(const Camera& camera, const Pose& pose, double size) {
    const double depth = glm::dot(pose.position_m - camera.eye_m(), camera.forward());
    if (depth <= camera.near_m()) return {};
    const double half_span_m = 0.5 * size * depth * camera.opening_rad;
    struct Deep {
        PlatformFace face;
        double depth = 0.0;
    };
    std::vector<Deep> faces;
    for (const Piece& piece : pose.position_m.z > 100000.0 ? satellite() : aeroplane()) {
        Deep deep;
        deep.face.shade = static_cast<double>(piece.shade);
        for (const Vec3& corner : piece.corners) {
            deep.face.corners.push_back(pose.position_m + half_span_m * (pose.world_from_platform * corner));
            deep.depth += glm::dot(deep.face.corners.back() - camera.eye_m(), camera.forward()) / static_cast<double>(piece.corners.size());
        }
        faces.push_back(std::move(deep));
    }
    std::stable_sort(faces.begin(), faces.end(), [](const Deep& a, const Deep& b) { return a.depth > b.depth; });
    std::vector<PlatformFace> out;
    for (Deep& deep : faces) out.push_back(std::move(deep.face));
    return out;
}

}  // namespace linefall
