#include "flight/light_stops.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/angle.h"
#include "base/constants.h"

namespace linefall {

const std::array<Stop, stop_count>& lightStops() {
    static const std::array<Stop, stop_count> stops{{
        {"sun", "Light leaves the sun: how much arrives above the air, and from where?", {"sun"}},
        {"air, down", "The air takes part of the beam and gives some back from the whole sky.", {"air, down"}},
        {"ground", "The surface gathers light by its tilt, is lit or in shadow, and sends a share back.", {"ground", "material"}},
        {"air, up", "On the way up some of that light is lost, and haze that never saw the ground is added.", {"air, up"}},
        {"aim", "Height, scan, relief and attitude decide where this sample looks.", {"aim"}},
        {"optics", "The lens or mirror gathers a cone of light on one detector.", {"optics"}},
        {"detector", "During the dwell time light frees electrons, and chance adds noise.", {"detector", "noise"}},
        {"counts", "The converter writes electrons down as a whole number: counts (DN).", {"counts"}},
    }};
    return stops;
}

namespace {

/// Mean over the contributions of a symbol; false when the trace has none.
bool find(const Trace& trace, const std::string& symbol, int band, double& value) {
    double sum = 0.0;
    int count = 0;
    for (const TraceRow& row : trace.rows()) {
        if (row.symbol != symbol || (row.band != band && row.band != -1)) continue;
        sum += row.value;
        ++count;
    }
    if (count == 0) return false;
    value = sum / count;
    return true;
}

std::string percent(double share) { return figuresText(100.0 * share, std::abs(share) < 0.1 ? 2 : 3) + " %"; }

}  // namespace

std::string printedUnit(const std::string& unit) {
    std::string out;
    for (std::size_t i = 0; i < unit.size(); ++i) {
        if (unit.compare(i, 2, "um") == 0) {
            out += "µm";
            ++i;
        } else if (unit[i] == '-' && i + 1 < unit.size()) {
            out += "⁻";
        } else if (unit[i] >= '0' && unit[i] <= '9') {
            static const char* raised[] = {"⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"};
            out += raised[unit[i] - '0'];
        } else {
            out += unit[i];
        }
    }
    return out;
}

std::string printedValue(double value, const std::string& unit) {
    if (unit == "rad") return shortText(value, Kind::angle, 3);
    if (unit == "m") return shortText(value, Kind::length, 4);
    if (unit == "s") return shortText(value, Kind::time, 4);
    if (unit == "counts") return std::to_string(std::lround(value));
    if (unit == "W" && value > 0.0) {
        static const std::array<std::pair<double, const char*>, 6> prefixes{
            {{1.0, "W"}, {1e-3, "mW"}, {1e-6, "µW"}, {1e-9, "nW"}, {1e-12, "pW"}, {1e-15, "fW"}}};
        for (const auto& prefix : prefixes) {
            if (value >= prefix.first || prefix.first == 1e-15) return figuresText(value / prefix.first, 3) + " " + prefix.second;
        }
    }
    if (unit == "e" && std::abs(value) >= 1000.0) {
        std::string digits = std::to_string(std::llround(value));
        for (int at = static_cast<int>(digits.size()) - 3; at > (value < 0 ? 1 : 0); at -= 3) digits.insert(static_cast<std::size_t>(at), "\u2009");
        return digits + " e";
    }
    const std::string number = std::abs(value) < 1e-12 ? "0" : figuresText(value, std::abs(value) >= 1000.0 ? 4 : 3);
    return unit.empty() ? number : number + " " + printedUnit(unit);
}

Telling tellingOf(int stop, const Why& why, const std::vector<Band>& bands, const BandChoice& shown) {
    const int band = shown.green;
    const std::string name = bands.empty() ? "" : bands[static_cast<std::size_t>(band)].name;
    const bool ground = why.hit.meets != Meets::sky;
    double a = 0.0, b = 0.0, c = 0.0;
    switch (stop) {
        case 0:
            if (find(why.trace, "E_0", band, a)) return {printedValue(a, ""), "W m⁻² µm⁻¹, " + name, "W m⁻² µm⁻¹"};
            break;
        case 1:
            if (find(why.trace, "E_b", band, a) && find(why.trace, "E_0", band, b) && b > 0.0) return {percent(a / b), "of the beam arrives", "of the beam"};
            break;
        case 2:
            if (!ground) return {"sky", "no ground is met", "no ground"};
            if (find(why.trace, "rho", band, a)) {
                const bool beam = find(why.trace, "V_sun", band, b) && b > 0.0 && find(why.trace, "cos i", band, c) && c > 0.0;
                const char* unlit = !why.sun.up() ? "of skylight, no sun" : why.local_incidence_rad >= 0.5 * constants::pi ? "of skylight, faces away" : "of skylight, in shadow";
                return {percent(a), beam ? "of the light goes on" : unlit, beam ? "goes on" : "of skylight"};
            }
            break;
        case 3:
            if (find(why.trace, "L_p", band, a) && find(why.trace, "L", band, c) && c > 0.0) return {percent(a / c), "of what arrives is haze", "is haze"};
            break;
        case 4:
            if (ground) return {shortText(why.slant_range_m, Kind::length, 3), figuresText(degreesFromRadians(why.view_incidence_rad), 2) + "° off the vertical", "slant range"};
            return {figuresText(degreesFromRadians(std::acos(std::clamp(-why.look.z, -1.0, 1.0))), 2) + "°", "off the vertical", "off vertical"};
        case 5:
            if (find(why.trace, "P", band, a)) return {printedValue(a, "W"), "on one detector", "on a detector"};
            break;
        case 6:
            if (find(why.trace, "n", band, a)) return {printedValue(std::round(a), "e"), "read out, noise included", "noise included"};
            break;
        default: {
            std::string all;
            for (const int i : {shown.red, shown.green, shown.blue}) {
                if (static_cast<std::size_t>(i) < why.counts.size()) all += (all.empty() ? "" : " · ") + std::to_string(why.counts[static_cast<std::size_t>(i)]);
                if (shown.grey()) break;
            }
            return {all, shown.grey() ? name : "red, green, blue", shown.grey() ? name : "R, G, B"};
        }
    }
    return {"–", "", ""};
}

}  // namespace linefall
