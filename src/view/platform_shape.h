#pragma once
// The shape of the platform as it is drawn: larger than it is, so that it is seen.

#include <vector>

#include "base/motion.h"
#include "view/camera.h"

namespace linefall {

/// A flat face; corners in the world.
struct PlatformFace {
    std::vector<Vec3> corners;
    double shade = 0.0;  ///< 0 ink .. 1 paper
};

/// The faces of an aeroplane, or of a satellite above 100 km, from far to near; `size`: from wing tip to wing tip as a share
/// of the view's height. None when it stands behind the eye.
[[nodiscard]] std::vector<PlatformFace> platformFaces(const Camera& camera, const Pose& pose, double size = 0.1296);

}  // namespace linefall
