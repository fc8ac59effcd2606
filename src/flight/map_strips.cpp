#include "flight/map_strips.h"

#include <array>
#include <cmath>
#include <limits>

namespace linefall {

namespace {

const Vec2 nowhere{std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::quiet_NaN()};
/// Cosine of 80 degrees off the vertical: a footprint is then 33 times as long as at the nadir.
constexpr double least_descent = 0.17364817766693033;
/// A gap of this share of a footprint is a seam that is closed.
constexpr double seam_share = 0.25;

/// Where the looks of a line, displaced by each offset, meet the datum on the map; one list an offset.
template <std::size_t N>
void datumPlaces(const Aim& aim, const MapFrame& frame, const std::array<Offset, N>& offsets, int line, const std::array<std::vector<Vec2>*, N>& out) {
    thread_local std::vector<Ray> rays;
    raysOfLine(aim.instrument(), aim.motion(), offsets, aim.manner(), line, rays);
    const std::size_t samples = rays.size() / N;
    for (std::vector<Vec2>* list : out) list->resize(samples);
    for (std::size_t s = 0; s < samples; ++s) {
        for (std::size_t k = 0; k < N; ++k) {
            const Ray& ray = rays[s * N + k];
            const auto met = ray.direction.z < -least_descent ? meetsLevel(ray, 0.0) : std::nullopt;
            (*out[k])[s] = met ? frame.placeOf(*met) : nowhere;
        }
    }
}

/// Corners between neighbours from points in the middle of each sample's edge; the outermost by going on.
void cornersBetween(const std::vector<Vec2>& middles, std::vector<Vec2>& left, std::vector<Vec2>& right) {
    const std::size_t n = middles.size();
    left.resize(n);
    right.resize(n);
    for (std::size_t s = 0; s + 1 < n; ++s) right[s] = left[s + 1] = 0.5 * (middles[s] + middles[s + 1]);
    left[0] = 1.5 * middles[0] - 0.5 * middles[1];
    right[n - 1] = 1.5 * middles[n - 1] - 0.5 * middles[n - 2];
    // Beside a look that ends nowhere a footprint goes half of its other neighbour's step.
    for (std::size_t s = 0; s < n; ++s) {
        if (!isThere(middles[s])) continue;
        if (!isThere(left[s]) && isThere(right[s])) left[s] = 2.0 * middles[s] - right[s];
        if (!isThere(right[s]) && isThere(left[s])) right[s] = 2.0 * middles[s] - left[s];
    }
}

/// Share of a footprint's length that lies open between its fore edge and the next line's aft edge; negative: overlap.
double gapShare(const Vec2& aft, const Vec2& fore, const Vec2& next_aft) {
    const Vec2 length = fore - aft;
    return glm::dot(next_aft - fore, length) / glm::dot(length, length);
}

}  // namespace

void layStrip(const Aim& aim, const MapFrame& frame, int line, Strip& strip) {
    const Derived& d = aim.instrument().derived();
    strip.samples_join = d.sample_step_rad <= (1.0 + seam_share) * d.ifov_rad;
    if (strip.samples_join && d.samples > 1) {
        thread_local std::vector<Vec2> aft, fore;
        datumPlaces<3>(aim, frame, {Offset{}, Offset{0.0, -0.5, 0.0}, Offset{0.0, 0.5, 0.0}}, line, {&strip.centre, &aft, &fore});
        cornersBetween(aft, strip.aft_left, strip.aft_right);
        cornersBetween(fore, strip.fore_left, strip.fore_right);
    } else {
        datumPlaces<5>(aim, frame, {Offset{}, Offset{-0.5, -0.5, 0.0}, Offset{0.5, -0.5, 0.0}, Offset{-0.5, 0.5, 0.0}, Offset{0.5, 0.5, 0.0}}, line,
                       {&strip.centre, &strip.aft_left, &strip.aft_right, &strip.fore_left, &strip.fore_right});
    }
    for (std::vector<char>* flags : {&strip.joins_next, &strip.seam_left, &strip.seam_right}) flags->assign(strip.centre.size(), 0);
}

void measureSeam(Strip& line, const Strip& next) {
    for (std::size_t s = 0; s < line.centre.size(); ++s) {
        const double left = gapShare(line.aft_left[s], line.fore_left[s], next.aft_left[s]);
        const double right = gapShare(line.aft_right[s], line.fore_right[s], next.aft_right[s]);
        line.joins_next[s] = left < seam_share && right < seam_share ? 1 : 0;
        line.seam_left[s] = left > 0.0 && left < seam_share ? 1 : 0;
        line.seam_right[s] = right > 0.0 && right < seam_share ? 1 : 0;
    }
}

void closeSeam(Strip& line, Strip& next) {
    for (std::size_t s = 0; s < line.centre.size(); ++s) {
        if (line.seam_left[s] != 0) line.fore_left[s] = next.aft_left[s] = 0.5 * (line.fore_left[s] + next.aft_left[s]);
        if (line.seam_right[s] != 0) line.fore_right[s] = next.aft_right[s] = 0.5 * (line.fore_right[s] + next.aft_right[s]);
    }
}

bool meetGround(const Aim& aim, int threads, const Cancel* cancel, MetGround& met) {
    met.points = Raster<MetGround::Point>(aim.samples(), aim.lines());
    return parallelFor(aim.lines(), threads, [&](int line) {
        LineLooks looks;
        const Offset centre;
        lookBack(aim.instrument(), aim.motion(), aim.ground(), std::span(&centre, 1), aim.manner(), line, looks);
        for (int s = 0; s < aim.samples(); ++s) {
            const auto i = static_cast<std::size_t>(s);
            if (looks.meets[i] != Meets::sky) met.points.at(s, line) = {looks.x_m[i], looks.y_m[i], looks.z_m[i], true};
        }
    }, cancel);
}

namespace {

Vec2 placeOf(const MapFrame& frame, const MetGround::Point& p) {
    return frame.placeOf({static_cast<double>(p.x), static_cast<double>(p.y)});
}

/// True when the surface goes on from one place to another: seen no farther apart than four times as at datum, and not
/// stepping up or down by more than twice that.
bool goesOn(const MapFrame& frame, const MetGround::Point& a, const MetGround::Point& b, double at_datum_cells) {
    if (!a.there || !b.there) return false;
    return glm::length(placeOf(frame, a) - placeOf(frame, b)) < 4.0 * at_datum_cells &&
           std::abs(static_cast<double>(a.z - b.z)) < 2.0 * at_datum_cells * frame.cell_m;
}

}  // namespace

Strip raisedStrip(const MetGround& met, const MapFrame& frame, int line, const Strip* before, const Strip& here, const Strip* next) {
    Strip out = here;
    const int n = met.points.columns();
    for (int s = 0; s < n; ++s) {
        const auto i = static_cast<std::size_t>(s);
        const MetGround::Point& p = met.points.at(s, line);
        out.centre[i] = p.there && isThere(here.centre[i]) ? placeOf(frame, p) : nowhere;
        const auto corner = [&](int aside, int ahead, const Vec2& at_datum) {
            const Vec2 own = out.centre[i] + at_datum - here.centre[i];
            const int s2 = s + aside, l2 = line + ahead;
            const Strip* other = ahead > 0 ? next : before;
            if (s2 < 0 || s2 >= n || other == nullptr || !here.samples_join) return own;
            const Strip& earlier = ahead > 0 ? here : *before;
            if (earlier.joins_next[i] == 0 || earlier.joins_next[static_cast<std::size_t>(s2)] == 0) return own;
            const double step = glm::length(here.centre[static_cast<std::size_t>(s2)] - here.centre[i]) + glm::length(other->centre[i] - here.centre[i]);
            const MetGround::Point &a = met.points.at(s2, line), &b = met.points.at(s, l2), &c = met.points.at(s2, l2);
            if (!goesOn(frame, p, a, step) || !goesOn(frame, p, b, step) || !goesOn(frame, p, c, step) || !goesOn(frame, a, b, step) ||
                !goesOn(frame, a, c, step) || !goesOn(frame, b, c, step)) return own;
            return 0.25 * (out.centre[i] + placeOf(frame, a) + placeOf(frame, b) + placeOf(frame, c));
        };
        out.aft_left[i] = corner(-1, -1, here.aft_left[i]);
        out.aft_right[i] = corner(1, -1, here.aft_right[i]);
        out.fore_left[i] = corner(-1, 1, here.fore_left[i]);
        out.fore_right[i] = corner(1, 1, here.fore_right[i]);
    }
    return out;
}

bool goesOn(const MetGround& met, const MapFrame& frame, const Strip& here, int line, int sample) {
    const auto i = static_cast<std::size_t>(sample);
    const double step = glm::length(here.centre[i + 1] - here.centre[i]) + glm::length(here.fore_left[i] - here.aft_left[i]);
    const MetGround::Point &a = met.points.at(sample, line), &b = met.points.at(sample + 1, line), &c = met.points.at(sample, line + 1),
                           &d = met.points.at(sample + 1, line + 1);
    return goesOn(frame, a, b, step) && goesOn(frame, a, c, step) && goesOn(frame, a, d, step) && goesOn(frame, b, c, step) &&
           goesOn(frame, b, d, step) && goesOn(frame, c, d, step);
}

}  // namespace linefall
