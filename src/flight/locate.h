#pragma once
// Where in the image a point of the world is seen: the look that passes it, for any instrument, attitude and wind.

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "flight/aim.h"

namespace linefall {

struct Located : PicturePlace {
    Ray ray;  ///< the line of sight through that place: from where it begins, to the point
};

/// Whether a point that lies in the field can be seen.
struct Seen {
    Located at;
    bool visible = true;
    std::optional<Vec3> hidden_at_m;  ///< where the line of sight ends before it reaches the point
    int object = -1;                  ///< what hides it: number of a thing (Ground::thing), or -1
    std::string hidden_by;            ///< its name or shape, or "terrain"
};

/// What lies within, east and north.
struct Box {
    Vec2 least{0.0}, most{0.0};
};

/// Looks are made at pixels' centres. Between them the place where a look meets the level plane through the point runs
/// bilinearly, and this surface is inverted: from the nearest of a coarse set of looks by secants of shrinking reach, then
/// cell by cell; where that leads nowhere, through all cells that may hold the point. Half a pixel beyond the outermost centres belongs to the field. Where lines overlap (a bow-tie, rough
/// air) a point is seen more than once: one of its places is given. Where lines do not adjoin, a point between them is
/// given its place between their centres. An image of a single line or sample is crossed by offsets within its footprint.
class Locator {
public:
    explicit Locator(std::shared_ptr<const Aim> aim);
    Locator(const Scene& scene, std::size_t instrument) : Locator(std::make_shared<const Aim>(scene, instrument)) {}

    [[nodiscard]] const Aim& aim() const { return *aim_; }
    /// Nothing outside the field, or when the point is not below the platform.
    [[nodiscard]] std::optional<Located> locate(const Vec3& point_m) const;
    /// The same, and what stands in the way. A point on a surface is not hidden by that surface: `tolerance_m` before the
    /// point the way may end.
    [[nodiscard]] std::optional<Seen> seen(const Vec3& point_m, double tolerance_m = 0.05) const;
    /// The line of sight through any place of the picture.
    [[nodiscard]] Ray rayAt(const PicturePlace& place) const;
    /// All places of the datum that coarse looks meet: what the picture shows, and some more where attitude swings.
    [[nodiscard]] Box reach() const;

private:
    struct Node {
        int column = 0, row = 0;
    };
    [[nodiscard]] Ray ray(int column, int row) const;
    [[nodiscard]] std::optional<Vec2> level(int column, int row, double height_m) const { return meetsLevel(ray(column, row), height_m); }
    [[nodiscard]] Node approach(Node from, const Vec3& point_m) const;
    [[nodiscard]] std::optional<Located> inCell(int column, int row, const Vec3& point_m) const;
    [[nodiscard]] std::optional<Located> around(const Node& node, int columns, int rows, const Vec3& point_m) const;

    [[nodiscard]] std::optional<Located> everywhere(const Vec3& point_m) const;

    std::shared_ptr<const Aim> aim_;
    int columns_ = 2, rows_ = 2;              // nodes: pixels' centres, or the two edges of a single one
    double first_sample_ = 0.5, first_line_ = 0.5;  // picture place of node 0
    int column_step_ = 1, row_step_ = 1;
    struct Coarse {
        Node node;
        Ray ray;
    };
    std::vector<Coarse> coarse_;
};

}  // namespace linefall
