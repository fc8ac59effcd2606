#pragma once
// Lines in the world, drawn on the flight's picture: projected, cut at the eye, cased, hidden where land stands before them.

#include <optional>
#include <string>
#include <vector>

#include "app/ui.h"
#include "base/motion.h"
#include "ground/ground.h"
#include "view/camera.h"

namespace linefall {

class Sketch {
public:
    Sketch(Ui& ui, const Rect& view, const Camera& camera, const Ground& ground)
        : ui_(ui), view_(view), camera_(camera), ground_(ground) {}

    [[nodiscard]] std::optional<ImVec2> at(const Vec3& point_m) const;
    /// A line through points; `over_ground`: pieces behind land are left out.
    void line(const std::vector<Vec3>& points, ImU32 colour, float width, float dash = 0.0f, bool over_ground = false) const;
    /// The same over ground with what is in sight known from before: `seen` is filled up for points that are new.
    void line(const std::vector<Vec3>& points, ImU32 colour, float width, float dash, std::vector<char>& seen) const;
    /// A filled fan from a point to a row of points.
    void fan(const Vec3& from, const std::vector<Vec3>& points, ImU32 colour) const;
    /// Words beside a point; they are drawn by drawLabels(), over all lines, where they cover no other words: they move out of
    /// the way of earlier ones, a fine line leads from far ones back to their point, and where no room is left they are left out.
    void label(const Vec3& point_m, float dx, float dy, ImU32 colour, const std::string& words, bool strong = false);
    void drawLabels() const;
    /// Labels keep off what is drawn about a point.
    void keepFree(const Vec3& point_m, float half_width, float half_height);
    void keepFree(const Rect& place) { free_.push_back(place); }
    void cross(const Vec3& point_m, ImU32 colour) const;
    void dot(const Vec3& point_m, float radius, ImU32 colour) const;
    void ring(const Vec3& point_m, float radius, ImU32 colour) const;
    /// An arrow head on the way from one point to another, at a share of that part of the way that is in view.
    void head(const Vec3& from, const Vec3& to, double share, ImU32 colour) const;
    /// A thin line without a casing, for what is only hinted at.
    void faintLine(const Vec3& from, const Vec3& to, ImU32 colour) const;
    /// A filled convex shape.
    void patch(const std::vector<Vec3>& corners, ImU32 colour) const;
    /// An arc about a point from one direction to another.
    void arc(const Vec3& centre, const Vec3& from, const Vec3& to, double radius_m, ImU32 colour, const std::string& words);
    [[nodiscard]] bool visible(const Vec3& point_m) const;
    [[nodiscard]] const Camera& camera() const { return camera_; }
    [[nodiscard]] Ui& ui() const { return ui_; }
    /// Words and places of the labels, for the report.
    [[nodiscard]] std::vector<std::pair<std::string, Rect>> labels() const;
    [[nodiscard]] ImU32 casing() const;

private:
    Ui& ui_;
    Rect view_;
    struct Label {
        Rect place;
        ImFont* font;
        ImU32 colour;
        std::string words;
        ImVec2 point;  ///< on the page
    };
    std::vector<Rect> free_;     ///< kept free of labels
    std::vector<Label> labels_;  ///< placed so far; a new one moves out of their way
    const Camera& camera_;
    const Ground& ground_;
};

/// The platform: an aeroplane, or a satellite above 100 km, drawn as large as can be read.
void drawPlatform(const Sketch& sketch, const Pose& pose);

}  // namespace linefall
