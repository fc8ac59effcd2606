#include "flight/locate.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace linefall {

namespace {

constexpr int coarse_columns = 16;
constexpr int coarse_rows = 96;

/// 0, step, 2 step ... and the last.
std::vector<int> spread(int count, int step) {
    std::vector<int> out;
    for (int i = 0; i < count - 1; i += step) out.push_back(i);
    out.push_back(count - 1);
    return out;
}

}  // namespace

Locator::Locator(std::shared_ptr<const Aim> aim) : aim_(std::move(aim)) {
    if (aim_->samples() > 1) columns_ = aim_->samples();
    else first_sample_ = 0.0;
    if (aim_->lines() > 1) rows_ = aim_->lines();
    else first_line_ = 0.0;
    column_step_ = std::max(1, columns_ / coarse_columns);
    row_step_ = std::max(1, rows_ / coarse_rows);
    for (const int row : spread(rows_, row_step_)) {
        for (const int column : spread(columns_, column_step_)) coarse_.push_back({{column, row}, ray(column, row)});
    }
}

Box Locator::reach() const {
    Box box{Vec2{1e300}, Vec2{-1e300}};
    double step = 0.0;
    std::optional<Vec2> before;
    for (const Coarse& coarse : coarse_) {
        const auto met = meetsLevel(coarse.ray, 0.0);
        if (met && before) step = std::max(step, std::min(glm::length(*met - *before), 1e5));
        before = coarse.node.column == columns_ - 1 ? std::nullopt : met;
        if (!met) continue;
        box.least = {std::min(box.least.x, met->x), std::min(box.least.y, met->y)};
        box.most = {std::max(box.most.x, met->x), std::max(box.most.y, met->y)};
    }
    // Lines between the coarse ones may swing farther.
    return {box.least - Vec2{step}, box.most + Vec2{step}};
}

Ray Locator::ray(int column, int row) const {
    Offset offset;
    const Derived& d = aim_->instrument().derived();
    if (aim_->samples() == 1) offset.across = (column - 0.5) * d.sample_step_rad / d.ifov_rad;
    if (aim_->lines() == 1) offset.along = row - 0.5;
    return aim_->ray(aim_->lines() == 1 ? 0 : row, aim_->samples() == 1 ? 0 : column, offset);
}

Ray Locator::rayAt(const PicturePlace& place) const {
    const Derived& d = aim_->instrument().derived();
    return linefall::rayAt(place, aim_->samples(), aim_->lines(), d.sample_step_rad / d.ifov_rad,
                           [&](int line, int sample, const Offset& offset) { return aim_->ray(line, sample, offset); });
}

Locator::Node Locator::approach(Node from, const Vec3& point_m) const {
    const Vec2 wanted{point_m.x, point_m.y};
    Node node = from;
    int reach_columns = column_step_, reach_rows = row_step_;
    for (int turn = 0; turn < 60; ++turn) {
        const Node less{std::max(0, node.column - reach_columns), std::max(0, node.row - reach_rows)};
        const Node more{std::min(columns_ - 1, node.column + reach_columns), std::min(rows_ - 1, node.row + reach_rows)};
        const auto here = level(node.column, node.row, point_m.z);
        const auto west = level(less.column, node.row, point_m.z), east = level(more.column, node.row, point_m.z);
        const auto south = level(node.column, less.row, point_m.z), north = level(node.column, more.row, point_m.z);
        Node next = node;
        if (here && west && east && south && north) {
            const Vec2 by_column = (*east - *west) / static_cast<double>(more.column - less.column);
            const Vec2 by_row = (*north - *south) / static_cast<double>(more.row - less.row);
            const Vec2 off = wanted - *here;
            const double det = by_column.x * by_row.y - by_column.y * by_row.x;
            if (det != 0.0) {
                const auto step = [](double wish, int most) { return static_cast<int>(std::lround(std::clamp(wish, -1.0 * most, 1.0 * most))); };
                next.column += step((off.x * by_row.y - off.y * by_row.x) / det, 4 * reach_columns);
                next.row += step((by_column.x * off.y - by_column.y * off.x) / det, 4 * reach_rows);
                next = {std::clamp(next.column, 0, columns_ - 1), std::clamp(next.row, 0, rows_ - 1)};
            }
        }
        if (reach_columns == 1 && reach_rows == 1 && next.column == node.column && next.row == node.row) break;
        node = next;
        reach_columns = std::max(1, reach_columns / 2);
        reach_rows = std::max(1, reach_rows / 2);
    }
    return node;
}

std::optional<Located> Locator::inCell(int column, int row, const Vec3& point_m) const {
    const Ray rays[4] = {ray(column, row), ray(column + 1, row), ray(column, row + 1), ray(column + 1, row + 1)};
    Vec2 at[4];
    for (int k = 0; k < 4; ++k) {
        const auto met = meetsLevel(rays[k], point_m.z);
        if (!met) return std::nullopt;
        at[k] = *met;
    }
    const auto inside = placeInQuad({at[0], at[1], at[2], at[3]}, {point_m.x, point_m.y});
    if (!inside) return std::nullopt;
    // Half a pixel beyond the outermost centres is field; a single pixel ends at its edges.
    constexpr double rounding = 1e-9;
    const double beyond_columns = aim_->samples() > 1 ? 0.5 : 0.0, beyond_rows = aim_->lines() > 1 ? 0.5 : 0.0;
    const double u = inside->x, v = inside->y;
    if (u < -rounding - (column == 0 ? beyond_columns : 0.0) || u > 1.0 + rounding + (column == columns_ - 2 ? beyond_columns : 0.0)) return std::nullopt;
    if (v < -rounding - (row == 0 ? beyond_rows : 0.0) || v > 1.0 + rounding + (row == rows_ - 2 ? beyond_rows : 0.0)) return std::nullopt;
    Located found;
    found.sample = first_sample_ + column + u;
    found.line = first_line_ + row + v;
    const Vec3 origin = (1.0 - v) * ((1.0 - u) * rays[0].origin_m + u * rays[1].origin_m) + v * ((1.0 - u) * rays[2].origin_m + u * rays[3].origin_m);
    const double time_s = (1.0 - v) * ((1.0 - u) * rays[0].time_s + u * rays[1].time_s) + v * ((1.0 - u) * rays[2].time_s + u * rays[3].time_s);
    found.ray = {origin, glm::normalize(point_m - origin), time_s};
    return found;
}

std::optional<Located> Locator::around(const Node& node, int columns, int rows, const Vec3& point_m) const {
    const int most = std::max(columns, rows);
    for (int ring = 0; ring <= most; ++ring) {
        for (int dr = -std::min(ring, rows); dr <= std::min(ring, rows); ++dr) {
            for (int dc = -std::min(ring, columns); dc <= std::min(ring, columns); ++dc) {
                if (std::max(std::abs(dr), std::abs(dc)) != ring) continue;
                const int column = node.column + dc, row = node.row + dr;
                if (column < 0 || column > columns_ - 2 || row < 0 || row > rows_ - 2) continue;
                if (auto found = inCell(column, row, point_m)) return found;
            }
        }
    }
    return std::nullopt;
}

std::optional<Located> Locator::locate(const Vec3& point_m) const {
    // Nearest coarse looks first; others follow when the way from there leads astray, as over a fold of rough air.
    struct Start {
        double off;
        const Coarse* from;
    };
    constexpr std::size_t starts = 5;
    std::vector<Start> best;
    for (const Coarse& coarse : coarse_) {
        const auto met = meetsLevel(coarse.ray, point_m.z);
        if (!met) continue;
        const double off = glm::dot(*met - Vec2{point_m.x, point_m.y}, *met - Vec2{point_m.x, point_m.y});
        if (best.size() == starts && off >= best.back().off) continue;
        best.insert(std::upper_bound(best.begin(), best.end(), off, [](double o, const Start& s) { return o < s.off; }), Start{off, &coarse});
        if (best.size() > starts) best.pop_back();
    }
    // Within a sweep of several lines, and at its border, lines may run backwards: a wider band of them is searched.
    const int lines_at_once = aim_->instrument().hasMirror() ? std::min(aim_->instrument().derived().lines_at_once, 256) : 1;
    std::vector<Node> tried;
    for (const Start& start : best) {
        const Node node = approach(start.from->node, point_m);
        if (std::any_of(tried.begin(), tried.end(), [&](const Node& t) { return t.column == node.column && t.row == node.row; })) continue;
        tried.push_back(node);
        if (auto found = around(node, 3, lines_at_once > 1 ? lines_at_once + 3 : 3, point_m)) return found;
    }
    return everywhere(point_m);
}

std::optional<Located> Locator::everywhere(const Vec3& point_m) const {
    // Blocks of pixels between coarse looks, in order, where the corners enclose the point with room to spare.
    const std::vector<int> columns = spread(columns_, column_step_), rows = spread(rows_, row_step_);
    for (std::size_t r = 0; r + 1 < rows.size(); ++r) {
        for (std::size_t c = 0; c + 1 < columns.size(); ++c) {
            Vec2 least{1e300}, most{-1e300};
            bool down = true;
            for (const std::size_t at : {r * columns.size() + c, r * columns.size() + c + 1, (r + 1) * columns.size() + c, (r + 1) * columns.size() + c + 1}) {
                const auto met = meetsLevel(coarse_[at].ray, point_m.z);
                down = down && met;
                if (!met) continue;
                least = {std::min(least.x, met->x), std::min(least.y, met->y)};
                most = {std::max(most.x, met->x), std::max(most.y, met->y)};
            }
            const double room = 0.25 * (most.x - least.x + most.y - least.y);
            if (!down || point_m.x < least.x - room || point_m.x > most.x + room || point_m.y < least.y - room || point_m.y > most.y + room) continue;
            for (int row = rows[r]; row < rows[r + 1]; ++row) {
                for (int column = columns[c]; column < columns[c + 1]; ++column) {
                    if (auto found = inCell(column, row, point_m)) return found;
                }
            }
        }
    }
    return std::nullopt;
}

std::optional<Seen> Locator::seen(const Vec3& point_m, double tolerance_m) const {
    const auto at = locate(point_m);
    if (!at) return std::nullopt;
    Seen out;
    out.at = *at;
    const GroundHit hit = aim_->ground().intersect(at->ray);
    if (hit.meets == Meets::sky || hit.distance_m >= glm::length(point_m - at->ray.origin_m) - tolerance_m) return out;
    out.visible = false;
    out.hidden_at_m = hit.point_m;
    out.object = hit.object;
    if (hit.object >= 0) {
        const Object& object = aim_->ground().thing(hit.object);
        out.hidden_by = object.name.empty() ? std::string(nameOf(object.shape)) : object.name;
    } else {
        out.hidden_by = "terrain";
    }
    return out;
}

}  // namespace linefall
