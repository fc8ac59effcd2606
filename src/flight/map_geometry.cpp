#include "flight/map_geometry.h"

#include <algorithm>
#include <cmath>

#include "base/constants.h"
#include "base/quantity.h"
#include "flight/map_strips.h"

namespace linefall {

namespace {

constexpr int block_lines = 16;
constexpr int finest = 8191;  // the place within a footprint is kept in 13 bits

/// Claims cells for pixels.
class Claims {
public:
    explicit Claims(MapGeometry& map) : map_(map), columns_(map.frame().columns), rows_(map.frame().rows) {}

    /// Corners in the map's picture: aft left, aft right, fore left, fore right. A patch that is turned over claims nothing.
    void claim(const Quad& quad, MapGeometry::Cell cell) {
        if (!(quad.turn() > 0.0)) return;  // also when a corner is nowhere
        const double least_x = std::min({quad.a.x, quad.b.x, quad.c.x, quad.d.x}), most_x = std::max({quad.a.x, quad.b.x, quad.c.x, quad.d.x});
        const double least_y = std::min({quad.a.y, quad.b.y, quad.c.y, quad.d.y}), most_y = std::max({quad.a.y, quad.b.y, quad.c.y, quad.d.y});
        if (!(most_x >= 0.0 && least_x <= columns_ && most_y >= 0.0 && least_y <= rows_)) return;
        const int first_column = std::max(0, static_cast<int>(std::ceil(least_x - 0.5 - edge))), last_column = std::min(columns_ - 1, static_cast<int>(std::floor(std::min(most_x, 1.0 * columns_) - 0.5 + edge)));
        const int first_row = std::max(0, static_cast<int>(std::ceil(least_y - 0.5 - edge))), last_row = std::min(rows_ - 1, static_cast<int>(std::floor(std::min(most_y, 1.0 * rows_) - 0.5 + edge)));
        const Vec2 e = quad.b - quad.a, f = quad.c - quad.a, g = quad.a - quad.b - quad.c + quad.d;
        for (int row = first_row; row <= last_row; ++row) {
            for (int column = first_column; column <= last_column; ++column) {
                // Newton's method from the middle: a footprint is nearly a parallelogram, so three steps are plenty.
                const Vec2 a = quad.a - Vec2{column + 0.5, row + 0.5};
                double u = 0.5, v = 0.5;
                for (int i = 0; i < 4; ++i) {
                    const Vec2 off = a + u * e + v * f + u * v * g;
                    const Vec2 by_u = e + v * g, by_v = f + u * g;
                    const double per_det = 1.0 / (by_u.x * by_v.y - by_u.y * by_v.x);
                    u -= (off.x * by_v.y - off.y * by_v.x) * per_det;
                    v -= (by_u.x * off.y - by_u.y * off.x) * per_det;
                }
                if (!(u >= -edge && u <= 1.0 + edge && v >= -edge && v <= 1.0 + edge)) continue;
                cell.u = static_cast<int>(std::clamp(u, 0.0, 1.0) * finest + 0.5);
                cell.v = static_cast<int>(std::clamp(v, 0.0, 1.0) * finest + 0.5);
                map_.claim(column, row, MapGeometry::packed(cell));
            }
        }
    }

private:
    static constexpr double edge = 1e-6;  // both sides hold their border, so that no rounding opens it
    MapGeometry& map_;
    int columns_, rows_;
};

/// All that is seen less than 75 degrees off the vertical, in whole cells.
MapFrame wholeFrame(const Aim& aim, double cell_m) {
    constexpr int most_columns = 33;
    const double least_descent = std::cos(75.0 / 180.0 * constants::pi);
    Vec2 least{1e300}, most{-1e300};
    const int last = aim.samples() - 1, steps = std::min(last, most_columns - 1);
    for (int line = 0; line < aim.lines(); ++line) {
        for (int i = 0; i <= steps; ++i) {
            const int sample = steps == 0 ? 0 : static_cast<int>(static_cast<long long>(last) * i / steps);
            for (const Offset& corner : {Offset{-0.5, -0.5, 0.0}, Offset{0.5, -0.5, 0.0}, Offset{-0.5, 0.5, 0.0}, Offset{0.5, 0.5, 0.0}}) {
                const Ray ray = aim.ray(line, sample, corner);
                const auto met = ray.direction.z < -least_descent ? meetsLevel(ray, 0.0) : std::nullopt;
                if (!met) continue;
                least = {std::min(least.x, met->x), std::min(least.y, met->y)};
                most = {std::max(most.x, met->x), std::max(most.y, met->y)};
            }
        }
    }
    if (least.x > most.x) least = most = Vec2{0.0};
    MapFrame frame;
    frame.cell_m = cell_m;
    frame.west_m = std::floor(least.x / cell_m) * cell_m;
    frame.north_m = std::ceil(most.y / cell_m) * cell_m;
    frame.columns = std::max(1, static_cast<int>(std::min(1e9, std::ceil((most.x - frame.west_m) / cell_m))));
    frame.rows = std::max(1, static_cast<int>(std::min(1e9, std::ceil((frame.north_m - least.y) / cell_m))));
    return frame;
}

MapFrame frameFor(const Aim& aim, const MapPictureRequest& request) {
    const auto cells = [](const MapFrame& f) { return static_cast<double>(f.columns) * f.rows; };
    double cell_m = request.cell_m > 0.0 ? request.cell_m : aim.instrument().field(0.0, false).value_or(FieldPoint{}).cell.spacing_across_m;
    MapFrame frame = request.frame ? *request.frame : wholeFrame(aim, cell_m);
    if (!request.frame && request.cell_m <= 0.0 && cells(frame) > request.most_cells) {
        cell_m *= std::sqrt(cells(frame) / request.most_cells) * 1.01;
        frame = wholeFrame(aim, cell_m);
    }
    if (frame.columns < 1 || frame.rows < 1 || !(frame.cell_m > 0.0) || cells(frame) > request.most_cells) {
        throw InputError(Problem{{"", 0, 0}, "map", std::to_string(frame.columns) + " x " + std::to_string(frame.rows) + " cells of " + shortText(frame.cell_m, Kind::length, 4),
                                 "1 to " + std::to_string(request.most_cells) + " cells: larger cells or a smaller extent", ""});
    }
    return frame;
}

/// Footprints of the lines first .. last - 1, and for bilinear the patches between centres up to line `last`.
void claimBlock(const Aim& aim, const MapPictureRequest& request, const MetGround& met, MapGeometry& map, int first, int last) {
    const int from = std::max(0, first - 1), to = std::min(aim.lines(), last + 1);
    std::vector<Strip> strips(static_cast<std::size_t>(to - from));
    for (int line = from; line < to; ++line) layStrip(aim, map.frame(), line, strips[static_cast<std::size_t>(line - from)]);
    for (std::size_t i = 0; i + 1 < strips.size(); ++i) measureSeam(strips[i], strips[i + 1]);
    for (std::size_t i = 0; i + 1 < strips.size(); ++i) closeSeam(strips[i], strips[i + 1]);
    Claims claims(map);
    const bool raised = request.level == MapLevel::ground;
    for (int line = first; line < last; ++line) {
        const auto at = static_cast<std::size_t>(line - from);
        const Strip& datum = strips[at];
        const Strip* before = at > 0 ? &strips[at - 1] : nullptr;
        const Strip* next = at + 1 < strips.size() ? &strips[at + 1] : nullptr;
        const Strip here = raised ? raisedStrip(met, map.frame(), line, before, datum, next) : datum;
        MapGeometry::Cell cell;
        cell.line = line;
        for (std::size_t s = 0; s < here.centre.size(); ++s) {
            cell.sample = static_cast<int>(s);
            if (isThere(here.centre[s])) claims.claim({here.aft_left[s], here.aft_right[s], here.fore_left[s], here.fore_right[s]}, cell);
        }
        if (request.resampling != Resampling::bilinear || next == nullptr || !datum.samples_join) continue;
        cell.among_centres = true;
        const auto centre = [&](int l, std::size_t s) {
            if (!raised) return strips[static_cast<std::size_t>(l - from)].centre[s];
            const MetGround::Point& p = met.points.at(static_cast<int>(s), l);
            return map.frame().placeOf({static_cast<double>(p.x), static_cast<double>(p.y)});
        };
        for (std::size_t s = 0; s + 1 < datum.centre.size(); ++s) {
            if (datum.joins_next[s] == 0 || datum.joins_next[s + 1] == 0) continue;
            if (raised && !goesOn(met, map.frame(), datum, line, static_cast<int>(s))) continue;
            cell.sample = static_cast<int>(s);
            claims.claim({centre(line, s), centre(line, s + 1), centre(line + 1, s), centre(line + 1, s + 1)}, cell);
        }
    }
}

}  // namespace

std::optional<PicturePlace> MapGeometry::source(int column, int row) const {
    const Cell c = cell(column, row);
    if (!c.filled) return std::nullopt;
    const double shift = c.among_centres ? 0.5 : 0.0;
    return PicturePlace{c.sample + shift + static_cast<double>(c.u) / finest, c.line + shift + static_cast<double>(c.v) / finest};
}

std::shared_ptr<const MapGeometry> mapGeometry(const Aim& aim, const MapPictureRequest& request, const Cancel* cancel) {
    auto map = std::make_shared<MapGeometry>(frameFor(aim, request), request.resampling, request.level, aim.samples(), aim.lines());
    MetGround met;
    if (request.level == MapLevel::ground && !meetGround(aim, request.threads, cancel, met)) return nullptr;
    const int blocks = (aim.lines() + block_lines - 1) / block_lines;
    const bool done = parallelFor(blocks, request.threads, [&](int block) {
        claimBlock(aim, request, met, *map, block * block_lines, std::min(aim.lines(), (block + 1) * block_lines));
    }, cancel);
    return done ? map : nullptr;
}

}  // namespace linefall
