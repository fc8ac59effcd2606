#pragma once
// Lines and words that belong to points of the world, over a picture of it: projected, cut at the eye, left out where land
// stands before them.

#include <string>
#include <vector>

#include "figure/page.h"
#include "ground/ground.h"
#include "view/camera.h"

namespace linefall {

class WorldMarks {
public:
    /// `view`: where on the page the picture lies; only x, y, width and height count.
    WorldMarks(Page& page, const Plot& view, const Camera& camera, const Ground& ground) : page_(page), view_(view), camera_(camera), ground_(ground) {}

    [[nodiscard]] std::optional<Vec2> at(const Vec3& point_m) const;
    [[nodiscard]] bool inView(const Vec3& point_m) const;
    /// Nothing stands before the point; points on the ground count as seen.
    [[nodiscard]] bool visible(const Vec3& point_m) const;
    /// A line through the points; its hidden parts are left out, to about two pixels.
    void line(const std::vector<Vec3>& points, const Stroke& stroke);
    /// An arc about `centre` from one direction to another (unit vectors), with words beside its middle.
    void arc(const Vec3& centre, const Vec3& from, const Vec3& to, double radius_m, const Stroke& stroke, const std::string& words);
    void dot(const Vec3& point_m, double radius, Ink ink);
    void cross(const Vec3& point_m, Ink ink);
    /// Words beside a point, moved out of each other's way; drawn by labels(). `below`: rather under it than over it.
    void label(const Vec3& point_m, const std::string& words, Ink ink, Weight weight = Weight::regular, bool below = false);
    void labels();

private:
    struct Label {
        Vec2 at;
        std::string words;
        Ink ink;
        Weight weight;
        bool below = false;
    };
    Page& page_;
    Plot view_;
    Camera camera_;
    const Ground& ground_;
    std::vector<Label> labels_;
};

}  // namespace linefall
