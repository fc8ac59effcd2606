#include "instruments/looks.h"

#include <algorithm>
#include <cmath>

namespace linefall {

namespace {

void keep(const GroundHit& hit, std::size_t i, LineLooks& out) {
    out.x_m[i] = static_cast<float>(hit.point_m.x);
    out.y_m[i] = static_cast<float>(hit.point_m.y);
    out.z_m[i] = static_cast<float>(hit.point_m.z);
    out.nx[i] = static_cast<float>(hit.normal.x);
    out.ny[i] = static_cast<float>(hit.normal.y);
    out.nz[i] = static_cast<float>(hit.normal.z);
    out.material[i] = hit.material;
    out.meets[i] = hit.meets;
}

/// A line of rays that go down on both sides of one vertical plane, seen in that plane: run is horizontal metres along
/// `level` a metre of descent; side the same across it.
struct Sheet {
    std::vector<Ray> rays;
    std::vector<double> run;
    Vec3 level{0.0}, across{0.0};
    double most_side = 0.0;
};

/// Finds the plane; false when the line is no sheet: a ray that does not go down, or runs that do not rise or fall.
bool makeSheet(Sheet& sheet) {
    const Vec3 first = sheet.rays.front().direction;
    const Vec3 last = sheet.rays.back().direction;
    if (first.z >= 0.0 || last.z >= 0.0) return false;
    Vec3 level = last / -last.z - first / -first.z;
    level.z = 0.0;
    const double length = glm::length(level);
    if (length <= 0.0) return false;
    sheet.level = level / length;
    sheet.across = {-sheet.level.y, sheet.level.x, 0.0};
    sheet.run.resize(sheet.rays.size());
    double before = -1e300;
    for (std::size_t s = 0; s < sheet.rays.size(); ++s) {
        const Vec3& d = sheet.rays[s].direction;
        if (d.z >= 0.0) return false;
        const double per_descent = -1.0 / d.z;
        sheet.run[s] = glm::dot(d, sheet.level) * per_descent;
        sheet.most_side = std::max(sheet.most_side, std::abs(glm::dot(d, sheet.across) * per_descent));
        if (sheet.run[s] <= before) return false;
        before = sheet.run[s];
    }
    return true;
}

/// One side of a sheet, walked away from the nadir. Where the ground along the plane, widened to the band that the rays
/// can touch, lies below a ray, it lies below every ray farther out: no search needs to look there again.
class SheetSide {
public:
    /// `side` +1: rays of rising run from `first` on; -1: of falling run. `narrow()` false: the band is too wide to pay.
    SheetSide(const Sheet& sheet, const Ground& ground, int first, int last, int side) : sheet_(sheet), ground_(ground), side_(side) {
        // A square of this side, turned anyhow, stays within half a cell of its middle.
        step_ = 0.7 * ground.terrain().spacing_m();
        const Vec3& origin = sheet.rays.front().origin_m;
        height_ = origin.z;
        double least_across = 1e300, most_across = -1e300;
        least_along_ = 1e300;
        for (int s = first; side > 0 ? s <= last : s >= last; s += side) {
            const Vec3& o = sheet.rays[static_cast<std::size_t>(s)].origin_m;
            const double across = glm::dot(o, sheet.across);
            least_across = std::min(least_across, across);
            most_across = std::max(most_across, across);
            least_along_ = std::min(least_along_, side * glm::dot(o, sheet.level));
        }
        const double wander = sheet.most_side * std::max(0.0, height_);  // how far a ray leaves the plane on its way down
        band_from_ = least_across - wander;
        band_to_ = most_across + wander;
        narrow_ = band_to_ - band_from_ <= 16.0 * step_;
    }
    [[nodiscard]] bool narrow() const { return narrow_; }

    /// The distance along a ray before which it can meet nothing. Rays must come in the order of the walk.
    double from(int sample) {
        const auto s = static_cast<std::size_t>(sample);
        const double run = side_ * sheet_.run[s];
        if (run <= 0.0) return 0.0;
        // Clear of step k while the descent at its far end keeps the ray above the highest surface there.
        while ((reached_ + 1) * step_ < run * (height_ - highest(reached_))) ++reached_;
        if (reached_ == 0) return 0.0;
        const Ray& ray = sheet_.rays[s];
        const double along = side_ * glm::dot(ray.origin_m, sheet_.level);
        const double descent = (least_along_ + reached_ * step_ - along) / run;
        return std::max(0.0, descent / -ray.direction.z * (1.0 - 1e-12));
    }

private:
    double highest(int k) {
        if (k != known_) {
            known_ = k;
            float most = 0.0f;
            const Vec3 middle = side_ * (least_along_ + (k + 0.5) * step_) * sheet_.level;
            for (double band = band_from_;; band += step_) {
                const Vec3 p = middle + std::min(band, band_to_) * sheet_.across;
                most = std::max(most, ground_.highestAbout(p.x, p.y));
                if (band >= band_to_) break;
            }
            highest_ = static_cast<double>(most);
        }
        return highest_;
    }

    const Sheet& sheet_;
    const Ground& ground_;
    int side_;
    double step_ = 1.0, height_ = 0.0, least_along_ = 0.0, band_from_ = 0.0, band_to_ = 0.0;
    bool narrow_ = false;
    int reached_ = 0;
    int known_ = -1;
    double highest_ = 0.0;
};

/// Looks of a line whose rays form a sheet; false when they do not.
bool lookBackSheet(Sheet& sheet, const Ground& ground, LineLooks& out) {
    if (!makeSheet(sheet)) return false;
    const int samples = static_cast<int>(sheet.rays.size());
    const int nadir = static_cast<int>(std::lower_bound(sheet.run.begin(), sheet.run.end(), 0.0) - sheet.run.begin());
    SheetSide rising(sheet, ground, nadir, samples - 1, 1);
    SheetSide falling(sheet, ground, nadir - 1, 0, -1);
    if (!rising.narrow() || !falling.narrow()) return false;
    const auto keepFrom = [&](SheetSide& side, int s) {
        const Ray& ray = sheet.rays[static_cast<std::size_t>(s)];
        const double from = side.from(s);
        keep(from > 0.0 ? ground.intersectNear(ray, from) : ground.intersect(ray), static_cast<std::size_t>(s), out);
    };
    for (int s = nadir; s < samples; ++s) keepFrom(rising, s);
    for (int s = nadir - 1; s >= 0; --s) keepFrom(falling, s);
    return true;
}

}  // namespace

void LineLooks::resize(int sample_count, int contribution_count) {
    samples = sample_count;
    contributions = contribution_count;
    const std::size_t n = static_cast<std::size_t>(sample_count) * static_cast<std::size_t>(contribution_count);
    for (std::vector<float>* v : {&x_m, &y_m, &z_m, &nx, &ny, &nz, &sky_share}) v->resize(n);
    material.resize(n);
    meets.resize(n);
}

LookManner lookManner(const FlightSettings& flight, const EffectSettings& effects) {
    return {effects.relief ? flight.lean : 0.0, effects.sweep_motion, effects.perspective};
}

Ray leaned(const Ray& ray, double lean) {
    if (lean == 1.0 || ray.direction.z >= 0.0) return ray;
    const double to_datum = -ray.origin_m.z / ray.direction.z;
    const Vec3 at_datum = ray.at(to_datum);
    const Vec3 direction = lean == 0.0 ? Vec3{0.0, 0.0, -1.0}
                                       : glm::normalize(Vec3{lean * ray.direction.x, lean * ray.direction.y, ray.direction.z});
    // Start at the same height as before, so that distances stay those of a ray from flying height.
    return {at_datum + direction * (ray.origin_m.z / direction.z), direction, ray.time_s};
}

Vec3 parallelOrigin(const Instrument& instrument, const Pose& pose, const Offset& of_band, int line, int sample) {
    const Offset offset = instrument.placed(line, sample, of_band);
    const Derived& d = instrument.derived();
    const GroundCell cell = instrument.field(0.0, false).value_or(FieldPoint{}).cell;
    double turned = 0.0;  // in samples: how far a mirror has turned since the middle of the dwell
    if (offset.dwell_share != 0.0 && instrument.hasMirror()) {
        const auto angle = [&](double share) {
            const Vec3 towards = instrument.look(line, sample, {0.0, 0.0, share}).direction;
            return std::atan2(towards.y, towards.z);
        };
        turned = (angle(-0.5) - angle(0.5)) / d.sample_step_rad * offset.dwell_share;
    }
    const double starboard = (0.5 * d.samples - sample - 0.5 - turned) * cell.spacing_across_m - offset.across * cell.across_m;
    const double forward = (line % d.lines_at_once - 0.5 * (d.lines_at_once - 1) + offset.along) * cell.along_m;
    const Vec3 origin = pose.position_m + pose.world_from_platform * Vec3{forward, starboard, 0.0};
    const Vec3& down = pose.world_from_platform[2];
    return down.z < 0.0 ? origin + down * ((pose.position_m.z - origin.z) / down.z) : origin;
}

Ray lookRay(const Instrument& instrument, const Motion& motion, const Offset& offset, const LookManner& manner, int line,
            int sample) {
    if (!manner.perspective) {
        const double time = manner.sweep_motion ? instrument.lookTime_s(line, sample, offset.dwell_share) : instrument.lineTime_s(line);
        const Pose pose = motion.at(time);
        return leaned({parallelOrigin(instrument, pose, offset, line, sample), pose.world_from_platform[2], time}, manner.lean);
    }
    const PlatformLook look = instrument.look(line, sample, offset);
    const double time = manner.sweep_motion ? look.time_s : instrument.lineTime_s(line);
    const Pose pose = motion.at(time);
    return leaned({pose.position_m, pose.world_from_platform * look.direction, time}, manner.lean);
}

void raysOfLine(const Instrument& instrument, const Motion& motion, std::span<const Offset> offsets, const LookManner& manner,
                int line, std::vector<Ray>& rays) {
    rays.resize(static_cast<std::size_t>(instrument.samples()) * offsets.size());
    const std::span<const Vec3> centres = instrument.centreDirections(line);
    const bool steady = motion.steady();
    const double line_s = instrument.lineTime_s(line);
    Mat3 world_from_platform = motion.at(line_s).world_from_platform;
    double posed_s = line_s;
    std::size_t i = 0;
    for (int sample = 0; sample < instrument.samples(); ++sample) {
        for (const Offset& offset : offsets) {
            if (!manner.perspective) {
                rays[i++] = lookRay(instrument, motion, offset, manner, line, sample);
                continue;
            }
            const bool kept = !centres.empty() && offset.across == 0.0 && offset.along == 0.0 && offset.dwell_share == 0.0;
            const PlatformLook look = kept ? PlatformLook{centres[static_cast<std::size_t>(sample)], instrument.lookTime_s(line, sample, 0.0)}
                                           : instrument.look(line, sample, offset);
            const double time = manner.sweep_motion ? look.time_s : line_s;
            if (!steady && time != posed_s) {  // looks of the same time share the platform's attitude
                world_from_platform = motion.at(time).world_from_platform;
                posed_s = time;
            }
            rays[i++] = leaned({motion.positionAt(time), world_from_platform * look.direction, time}, manner.lean);
        }
    }
}

void seeSky(const Ground& ground, LineLooks& looks) {
    for (std::size_t i = 0; i < looks.meets.size(); ++i) {
        looks.sky_share[i] = looks.meets[i] == Meets::sky
                                 ? 0.0f
                                 : static_cast<float>(ground.skyShare(Vec3(looks.x_m[i], looks.y_m[i], looks.z_m[i]),
                                                                      Vec3(looks.nx[i], looks.ny[i], looks.nz[i])));
    }
}

void lookBack(const Instrument& instrument, const Motion& motion, const Ground& ground, std::span<const Offset> offsets,
              const LookManner& manner, int line, LineLooks& out) {
    const int n = static_cast<int>(offsets.size());
    out.resize(instrument.samples(), n);
    if (n == 1) {
        thread_local Sheet sheet;
        sheet.most_side = 0.0;
        raysOfLine(instrument, motion, offsets, manner, line, sheet.rays);
        // Parallel lines of sight are no fan from one height.
        if (manner.perspective && lookBackSheet(sheet, ground, out)) return;
        for (std::size_t s = 0; s < sheet.rays.size(); ++s) keep(ground.intersect(sheet.rays[s]), s, out);
        return;
    }
    std::size_t i = 0;
    for (int sample = 0; sample < instrument.samples(); ++sample) {
        for (const Offset& offset : offsets) {
            keep(ground.intersect(lookRay(instrument, motion, offset, manner, line, sample)), i++, out);
        }
    }
}

}  // namespace linefall
