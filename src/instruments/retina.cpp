#include "instruments/retina.h"

#include <algorithm>
#include <cmath>

#include "base/constants.h"
#include "base/random.h"

namespace linefall {

namespace {

constexpr double turn = 2.0 * constants::pi;
const double row = std::sqrt(0.75);  // distance of rows of a hexagonal lattice, in spacings
/// Beyond the picture's corner, so that its outer pixels find the nearest of each kind.
constexpr double margin_spacings = 12.0;

double reachOf(const RetinaPlan& plan) {
    const double reach = std::max({plan.reach, plan.foveola, plan.rod_free});
    return reach + margin_spacings * (1.0 + reach / plan.doubling);
}

int around(double radius, double spacing) { return radius <= 0.0 ? 1 : std::max(3, static_cast<int>(std::lround(turn * radius / spacing))); }

}  // namespace

Retina::Retina(const RetinaPlan& plan) : plan_(plan), growth_(1.0 + row / plan.doubling) {
    const double reach = reachOf(plan);
    int cone = 0, rod = 0;
    for (int ring = 0;; ++ring) {
        const double r = plan.doubling * (std::pow(growth_, ring) - 1.0);
        if (r > reach) break;
        radii_.push_back(r);
        const int count = around(r, spacing(r));
        for (Mosaic* mosaic : {&cones_, &l_, &m_, &s_, &rods_}) mosaic->emplace_back();
        for (const bool rods : {false, true}) {
            if (rods && r < plan.rod_free) continue;
            // The last index is past every receptor's: it holds the ring's turn.
            const auto phase = keyedWords(plan.seed, RandomUse::receptor, static_cast<std::uint32_t>(ring), 0xffffffffu, rods ? 1 : 0);
            std::vector<std::pair<double, int>> kind_at;
            for (int i = 0; i < count; ++i) {
                const auto words = keyedWords(plan.seed, RandomUse::receptor, static_cast<std::uint32_t>(ring), static_cast<std::uint32_t>(i), rods ? 1 : 0);
                const double shift = (uniformFromWord(words[0]) - 0.5) / 3.0;
                double angle = turn * (uniformFromWord(phase[0]) + i + shift) / count;
                angle -= turn * std::floor(angle / turn);
                int kind = 0;
                if (!rods) {
                    const bool is_s = r >= plan.foveola && uniformFromWord(words[1]) < plan.s_share;
                    kind = is_s ? 2 : uniformFromWord(words[2]) < plan.l_share ? 0 : 1;
                }
                kind_at.emplace_back(angle, kind);
            }
            std::sort(kind_at.begin(), kind_at.end());
            for (const auto& [angle, kind] : kind_at) {
                const auto put = [at = angle](Mosaic& mosaic, int id) {
                    mosaic.back().angle.push_back(at);
                    mosaic.back().id.push_back(id);
                };
                if (rods) {
                    put(rods_, rod++);
                } else {
                    put(kind == 0 ? l_ : kind == 1 ? m_ : s_, cone);
                    put(cones_, cone++);
                }
            }
        }
    }
    most_ = std::max(cone, rod);
}

double Retina::countOf(const RetinaPlan& plan) {
    // The sum over rings is close to the integral of 2 pi e / (row s^2) over the eccentricity, for cones and again for rods.
    const double u = reachOf(plan) / plan.doubling;
    return 2.0 * turn * plan.doubling * plan.doubling / row * (std::log1p(u) + 1.0 / (1.0 + u) - 1.0);
}

const Retina::Mosaic* Retina::mosaicOf(const std::string& kind) const {
    if (kind == "L") return &l_;
    if (kind == "M") return &m_;
    if (kind == "S") return &s_;
    return kind == "rod" ? &rods_ : &cones_;
}

std::optional<Receptor> Retina::nearest(const std::string& kind, double x, double y) const {
    const Mosaic& mosaic = *mosaicOf(kind);
    const int rings = static_cast<int>(mosaic.size());
    const double r = std::hypot(x, y);
    double angle = std::atan2(y, x);
    if (angle < 0.0) angle += turn;
    const int home = std::clamp(static_cast<int>(std::lround(std::log1p(r / plan_.doubling) / std::log(growth_))), 0, rings - 1);
    std::optional<Receptor> best;
    double best_squared = 1e300;
    const auto search = [&](int ring) {  // false: the ring is farther off than the best
        const double at = radius(ring);
        if ((at - r) * (at - r) >= best_squared) return false;
        const Members& members = mosaic[static_cast<std::size_t>(ring)];
        const int count = static_cast<int>(members.angle.size());
        if (count == 0) return true;
        const int after = static_cast<int>(std::lower_bound(members.angle.begin(), members.angle.end(), angle) - members.angle.begin());
        for (const int i : {after % count, (after + count - 1) % count}) {
            const auto k = static_cast<std::size_t>(i);
            const double px = at * std::cos(members.angle[k]), py = at * std::sin(members.angle[k]);
            const double squared = (px - x) * (px - x) + (py - y) * (py - y);
            if (squared < best_squared) {
                best_squared = squared;
                best = Receptor{members.id[k], px, py};
            }
        }
        return true;
    };
    bool inwards = true, outwards = true;
    for (int step = 0; inwards || outwards; ++step) {
        if (outwards) outwards = home + step < rings && search(home + step);
        if (step > 0 && inwards) inwards = home - step >= 0 && search(home - step);
    }
    return best;
}

int Retina::count(const std::string& kind, double within) const {
    const Mosaic& mosaic = *mosaicOf(kind);
    std::size_t count = 0;
    for (std::size_t ring = 0; ring < mosaic.size() && radius(static_cast<int>(ring)) <= within; ++ring) count += mosaic[ring].angle.size();
    return static_cast<int>(count);
}

}  // namespace linefall
