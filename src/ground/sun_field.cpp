#include "ground/sun_field.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "base/dispatch.h"
#include "base/threads.h"

namespace linefall {

namespace {

constexpr int most_rows_walked = 24;  // a ray still in doubt after so many rows searches the pyramid
constexpr float nothing = -std::numeric_limits<float>::infinity();

/// A ray towards the sun as the cells of a row see it.
struct Climb {
    float across, along;  ///< shares of its run across the row and along it, from the near posts to the far ones
    float limit_m;        ///< what it gains in height over a run of one spacing
    float fall_m;         ///< what it gains over the whole row
};

/// out[i] = the height at which a ray that comes over the terrain must enter the row to clear cell i. `near` and `far`: the posts
/// where it enters and leaves. A bare patch that nowhere climbs as fast as the ray stops none; any other is cleared when all
/// four corners are, and something that stands in the cell when the ray enters above it. The climb of a bilinear patch along a
/// direction is largest in a corner. Rounding is on the safe side: 1e-6 of all that is added.
LINEFALL_VECTORISED
void clearances(const float* __restrict near, const float* __restrict far, const float* __restrict highest, int count, Climb climb,
                float* __restrict out) {
    for (int i = 0; i < count; ++i) {
        const float a = near[i], b = near[i + 1], c = far[i], d = far[i + 1];
        const float before = climb.across * (b - a), behind = climb.across * (d - c);
        const float left = climb.along * (c - a), right = climb.along * (d - b);
        const float steepest = (before > behind ? before : behind) + (left > right ? left : right);
        const float size = std::abs(before) + std::abs(behind) + std::abs(left) + std::abs(right);
        const bool steep = steepest + 1e-6f * size >= climb.limit_m;
        const float near_most = a > b ? a : b;
        const float far_most = c > d ? c : d;
        const float corners = near_most > far_most - climb.fall_m ? near_most : far_most - climb.fall_m;
        const bool bare = highest[i] == (near_most > far_most ? near_most : far_most);
        out[i] = !bare ? highest[i] : steep ? corners : nothing;
    }
}

/// bound[i] = max(bound[i] - fall, highest of `reach` cells from cells + i on); bound and cells do not overlap.
LINEFALL_VECTORISED
void carry(float* __restrict bound, const float* __restrict cells, int reach, int count, float fall) {
    for (int i = 0; i < count; ++i) {
        float highest = cells[i];
        if (reach > 1) highest = highest > cells[i + 1] ? highest : cells[i + 1];
        if (reach > 2) highest = highest > cells[i + 2] ? highest : cells[i + 2];
        const float carried = bound[i] - fall;
        bound[i] = carried > highest ? carried : highest;
    }
}

}  // namespace

SunField::SunField(const Ground& ground, const Vec3& towards, int threads) : ground_(&ground), towards_(towards) {
    const double level = std::hypot(towards.x, towards.y);
    if (towards.z <= 0.0 || level < 1e-6) return;
    along_north_ = std::abs(towards.y) >= std::abs(towards.x);
    const double forward = along_north_ ? towards.y : towards.x;
    const double sideways = along_north_ ? towards.x : towards.y;
    const Raster<float>& cells = along_north_ ? ground.highestCells() : ground.highestCellsTransposed();
    const Raster<float>& posts = along_north_ ? ground.terrain().posts() : ground.postsTransposed();
    const double spacing = ground.terrain().spacing_m();
    columns_ = cells.columns();
    rows_ = cells.rows();
    shear_ = sideways / forward;
    const double path = 1.0 / std::abs(forward);  // length of the ray (3-D) over one metre along the rows' axis
    fall_m_ = spacing * towards.z * path;
    rising_ = forward > 0.0;
    width_ = columns_ + 5;
    per_spacing_ = 1.0 / spacing;
    row_length_m_ = spacing * path;
    column_length_m_ = shear_ != 0.0 ? row_length_m_ / std::abs(shear_) : std::numeric_limits<double>::infinity();
    sideways_ = (shear_ > 0.0) == rising_ ? 1 : -1;
    for (int row = 0; row < rows_; ++row) {
        first_strip_.push_back(static_cast<int>(std::floor(-std::max(shear_ * row, shear_ * (row + 1)))) - 1);
        strip_zero_.push_back(row * width_ - first_strip_.back());
    }
    bound_ = std::make_unique_for_overwrite<float[]>(static_cast<std::size_t>(width_) * static_cast<std::size_t>(rows_));
    usable_ = true;

    // Strips are independent, so threads share them in runs of absolute strip numbers. A carried bound may be rounded by half
    // a step of single precision a row: what falls short by a whole one never is too low.
    const double largest = std::max(std::abs(ground.terrain().least_m()), ground.highest_m());
    const float fall = static_cast<float>(fall_m_ * (1.0 - 1e-6) - largest * 1.2e-7);
    const Climb climb{static_cast<float>(sideways), static_cast<float>(std::abs(forward)),
                      static_cast<float>(spacing * towards.z * (1.0 - 1e-6)), fall};
    const int least_strip = std::min(first_strip_.front(), first_strip_.back());
    const int most_strip = std::max(first_strip_.front(), first_strip_.back()) + width_;
    constexpr int run = 512;
    const int runs = (most_strip - least_strip + run - 1) / run;
    parallelFor(runs, threads, [&](int r) {
        const int run_first = least_strip + r * run;
        std::vector<float> bounds(static_cast<std::size_t>(run), nothing);
        std::vector<float> padded(static_cast<std::size_t>(run) + 4);
        for (int step = 0; step < rows_; ++step) {
            const int row = rising_ ? rows_ - 1 - step : step;
            const int first = first_strip_[static_cast<std::size_t>(row)];
            const int from = std::max(run_first, first);
            const int to = std::min(run_first + run, first + width_);
            if (from >= to) continue;
            // A strip lies over up to three cells of the row.
            const double low = std::min(shear_ * row, shear_ * (row + 1));
            const double high = std::max(shear_ * row, shear_ * (row + 1)) + 1.0;
            const int offset = static_cast<int>(std::floor(low));
            const int reach = static_cast<int>(std::ceil(high)) - offset;
            const int wanted = to - from + 3;
            const int left = from + offset;  // column of padded[0]
            const int inside = std::clamp(-left, 0, wanted);  // of padded: where the row begins and ends
            const int outside = std::clamp(columns_ - left, inside, wanted);
            std::fill(padded.begin(), padded.begin() + inside, nothing);
            if (outside > inside) {
                const int column = left + inside;
                const float* near = posts.row(rising_ ? row : row + 1).data() + column;
                const float* far = posts.row(rising_ ? row + 1 : row).data() + column;
                clearances(near, far, cells.row(row).data() + column, outside - inside, climb, padded.data() + inside);
            }
            std::fill(padded.begin() + outside, padded.begin() + wanted, nothing);
            carry(bounds.data() + (from - run_first), padded.data(), reach, to - from, fall);
            std::copy(bounds.begin() + (from - run_first), bounds.begin() + (to - run_first),
                      bound_.get() + static_cast<std::ptrdiff_t>(row) * width_ + (from - first));
        }
    });
}

/// What the quick test reads.
struct SunField::Quick {
    const float* posts;
    std::int32_t post_columns;
    double west_m, south_m, per_spacing, lift_m;
    double cells_east, cells_north;
    bool along_north, rising;
    double shear, fall_m;
    const std::int32_t* strip_zero;
    const float* bound;

    /// True when a ray from a point surely meets nothing: it starts over the place, above the terrain, and clears the bound of
    /// its row. No branch, so that a loop over it becomes vector code.
    [[nodiscard]] LINEFALL_INLINE bool clear(double x_m, double y_m, double z_m) const {
        const double far_east = (x_m - west_m) * per_spacing;
        const double far_north = (y_m - south_m) * per_spacing;
        const bool inside = (far_east >= 0.0) & (far_north >= 0.0) & (far_east < cells_east) & (far_north < cells_north);
        const double east = inside ? far_east : 0.0;
        const double north = inside ? far_north : 0.0;
        const std::int32_t cell_east = static_cast<std::int32_t>(east);
        const std::int32_t cell_north = static_cast<std::int32_t>(north);
        const std::int32_t at = cell_north * post_columns + cell_east;
        const double a = static_cast<double>(posts[at]);
        const double b = static_cast<double>(posts[at + 1]) - a;
        const double d = static_cast<double>(posts[at + post_columns]) - a;
        const double e = static_cast<double>(posts[at + post_columns + 1]) - a - b - d;
        const double u = east - cell_east;
        const double v = north - cell_north;
        const double above = z_m - (a + b * u + d * v + e * u * v);

        const double across = along_north ? east : north;
        const double along = along_north ? north : east;
        const std::int32_t row = along_north ? cell_north : cell_east;
        const double sheared = across - shear * along;
        const std::int32_t strip = static_cast<std::int32_t>(sheared) - (sheared < 0.0 ? 1 : 0);  // a floor, or one less
        const double in_row = rising ? along - row : row + 1 - along;  // share of the row that the ray has come through
        const double bound_m = static_cast<double>(bound[strip_zero[row] + strip]) + 1e-3;
        return inside & (above > 0.0) & (z_m - in_row * fall_m > bound_m);
    }
};

SunField::Quick SunField::quick() const {
    const HeightField& t = ground_->terrain();
    return {t.posts().values().data(), t.columns(), t.west_m(), t.south_m(), per_spacing_, ground_->lift_m(),
            static_cast<double>(t.cellColumns()), static_cast<double>(t.cellRows()), along_north_, rising_, shear_, fall_m_,
            strip_zero_.data(), bound_.get()};
}

LINEFALL_VECTORISED
void SunField::findClear(const Quick& quick, const SurfacePoints& points, std::size_t first, std::size_t count,
                         std::uint8_t* __restrict clear) {
    const Quick q = quick;
    const float* __restrict x = points.x_m.data() + first;
    const float* __restrict y = points.y_m.data() + first;
    const float* __restrict z = points.z_m.data() + first;
    const float* __restrict nx = points.nx.data() + first;
    const float* __restrict ny = points.ny.data() + first;
    const float* __restrict nz = points.nz.data() + first;
    for (std::size_t i = 0; i < count; ++i) {
        clear[i] = q.clear(static_cast<double>(x[i]) + q.lift_m * static_cast<double>(nx[i]),
                           static_cast<double>(y[i]) + q.lift_m * static_cast<double>(ny[i]),
                           static_cast<double>(z[i]) + q.lift_m * static_cast<double>(nz[i])) ? 1 : 0;
    }
}

void SunField::look(const SurfacePoints& points, std::span<std::uint8_t> seen) const {
    std::array<std::uint8_t, 256> clear;
    for (std::size_t first = 0; first < seen.size(); first += clear.size()) {
        const std::size_t count = std::min(clear.size(), seen.size() - first);
        if (usable_) findClear(quick(), points, first, count, clear.data());
        else clear.fill(0);
        for (std::size_t i = 0; i < count; ++i) {
            const std::size_t at = first + i;
            if (seen[at] == 0) continue;
            seen[at] = clear[i] != 0 || !stopped(Vec3(points.x_m[at], points.y_m[at], points.z_m[at]) +
                                                 ground_->lift_m() * Vec3(points.nx[at], points.ny[at], points.nz[at]));
        }
    }
}

bool SunField::blocked(const Vec3& point_m, const Vec3& normal) const {
    const Vec3 start = point_m + ground_->lift_m() * normal;
    return !(usable_ && quick().clear(start.x, start.y, start.z)) && stopped(start);
}

bool SunField::stopped(const Vec3& start) const {
    const HeightField& terrain = ground_->terrain();
    const double east = (start.x - terrain.west_m()) * per_spacing_;
    const double north = (start.y - terrain.south_m()) * per_spacing_;
    const double across = along_north_ ? east : north;
    const double along = along_north_ ? north : east;
    if (!usable_ || across < 0.0 || across >= columns_ || along < 0.0 || along >= rows_) {
        return ground_->blockedWithin({start, towards_}, std::numeric_limits<double>::infinity());
    }
    const double sheared = across - shear_ * along;
    const int strip = static_cast<int>(sheared) - (sheared < 0.0 ? 1 : 0);
    const Raster<float>& cells = along_north_ ? ground_->highestCells() : ground_->highestCellsTransposed();
    const Ray ray{start, towards_};
    const bool bare = ground_->objects().empty();
    int row = static_cast<int>(along);
    int column = static_cast<int>(across);
    double row_end = (rising_ ? row + 1 - along : along - row) * row_length_m_;
    double column_end = shear_ == 0.0 ? std::numeric_limits<double>::infinity()
                                      : (sideways_ > 0 ? column + 1 - across : across - column) * column_length_m_;
    double t = 0.0;
    for (int walked = 0; walked < most_rows_walked; ++walked) {
        while (true) {  // the cells of this row, one after the other
            const double exit = std::min(row_end, column_end);
            const float highest = cells.at(column, row);
            if (start.z + t * towards_.z <= static_cast<double>(highest)) {
                const int c = along_north_ ? column : row;
                const int r = along_north_ ? row : column;
                if (!bare && terrain.cellMost(c, r) != highest) {  // something stands here
                    if (ground_->blockedWithin({ray.at(t), towards_}, exit - t)) return true;
                } else if (terrain.intersectCell(c, r, ray, t, exit)) {
                    return true;
                }
            }
            t = exit;
            if (row_end <= column_end) break;
            column += sideways_;
            column_end += column_length_m_;
            if (column < 0 || column >= columns_) return false;
        }
        row += rising_ ? 1 : -1;
        row_end += row_length_m_;
        if (row < 0 || row >= rows_) return false;
        const int kept = strip - first_strip_[static_cast<std::size_t>(row)];
        if (kept < 0 || kept >= width_) break;
        const float bound = bound_[static_cast<std::size_t>(row) * static_cast<std::size_t>(width_) + static_cast<std::size_t>(kept)];
        if (start.z + t * towards_.z > static_cast<double>(bound) + 1e-3) return false;
    }
    return ground_->blockedWithin({ray.at(t), towards_}, std::numeric_limits<double>::infinity());
}

}  // namespace linefall
