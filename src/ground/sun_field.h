#pragma once
// One direction of the sun over the whole ground: an upper bound of the height below which a point may lie in shadow.
// With it most points need no more than a walk through their own row of cells.

#include <cstdint>
#include <memory>
#include <span>
#include <vector>

#include "ground/ground.h"

namespace linefall {

/// Points on surfaces as kept looks hold them: world frame, m; unit normals. All spans have the same length.
struct SurfacePoints {
    std::span<const float> x_m, y_m, z_m, nx, ny, nz;
};

/// Answers Ground::blocked for one direction, always the same as it does, and several times faster; but of things that stand
/// still alone. For those that move Ground::blockedByMover is asked beside it.
///
/// Method: along the axis in which the direction moves faster, the ground is cut into rows of cells, and into strips one
/// cell wide that run along the direction. Going away from the sun, row by row, each strip carries
///     bound = max(highest surface of its stopping cells in this row, bound of the next row towards the sun - fall of the
///             ray over a row).
/// A cell stops a ray that comes over the terrain only if something stands in it or its patch climbs, somewhere, as fast as
/// the ray does: over any other the ray gains height. So a ray that starts above the terrain and enters a row above the bound
/// meets nothing. Any other ray is walked exactly, row by row, until one of the two is known. Cost of building: one pass
/// over the cells.
class SunField {
public:
    /// `towards`: unit vector to the sun. `threads` as for parallelFor.
    SunField(const Ground& ground, const Vec3& towards, int threads = 0);

    [[nodiscard]] bool blocked(const Vec3& point_m, const Vec3& normal) const;
    /// The same for many points at once: where `seen` is not 0 it becomes 1 when nothing blocks the sun, and 0 otherwise.
    void look(const SurfacePoints& points, std::span<std::uint8_t> seen) const;
    [[nodiscard]] const Vec3& towards() const { return towards_; }

private:
    struct Quick;
    [[nodiscard]] Quick quick() const;
    static void findClear(const Quick& quick, const SurfacePoints& points, std::size_t first, std::size_t count, std::uint8_t* clear);
    /// The exact answer for a ray from a point, where the quick test leaves it open.
    [[nodiscard]] bool stopped(const Vec3& start) const;

    const Ground* ground_;
    Vec3 towards_;
    bool usable_ = false;
    bool along_north_ = true;  ///< rows are numbered along the north; otherwise along the east
    int columns_ = 0, rows_ = 0;
    int width_ = 0;            ///< strips kept a row: those over its cells, and one beside them
    double shear_ = 0.0;       ///< cells sideways a row
    double fall_m_ = 0.0;      ///< height that a ray gains over one row
    bool rising_ = true;       ///< the sun lies towards growing rows
    double per_spacing_ = 1.0;     ///< 1 / spacing of the posts
    double row_length_m_ = 0.0;    ///< length of the ray over one row
    double column_length_m_ = 0.0; ///< over one column; infinite when it runs along the rows' axis
    int sideways_ = 1;             ///< step in columns
    std::vector<int> first_strip_;  ///< of each row
    std::vector<std::int32_t> strip_zero_;  ///< of each row: where the bound of strip 0 stands, or would stand
    std::unique_ptr<float[]> bound_;        ///< of each row and strip, for a ray that enters the row
};

}  // namespace linefall
