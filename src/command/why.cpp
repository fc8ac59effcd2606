#include <fmt/format.h>

#include <cmath>
#include <iostream>
#include <nlohmann/json.hpp>

#include "base/angle.h"
#include "command/command.h"
#include "command/json_text.h"
#include "flight/formation.h"

namespace linefall {

using nlohmann::ordered_json;

namespace {

ordered_json vectorJson(const Vec3& v) {
    return {v.x, v.y, v.z};
}

const char* nameOf(Meets meets) {
    switch (meets) {
        case Meets::terrain:
            return "terrain";
        case Meets::object:
            return "object";
        case Meets::beyond:
            return "beyond the place";
        case Meets::sky:
            return "sky";
    }
    return "";
}

ordered_json whyJson(const Why& w, const Instrument& instrument) {
    ordered_json out;
    out["line"] = w.line;
    out["sample"] = w.sample;
    out["time_s"] = w.time_s;
    out["position_m"] = vectorJson(w.pose.position_m);
    out["yaw_rad"] = w.attitude_rad[0];
    out["pitch_rad"] = w.attitude_rad[1];
    out["roll_rad"] = w.attitude_rad[2];
    out["look"] = vectorJson(w.look);
    out["meets"] = nameOf(w.hit.meets);
    if (w.hit.meets == Meets::sky) {
        out["ground_m"] = nullptr;
    } else {
        out["ground_m"] = vectorJson(w.hit.point_m);
        out["normal"] = vectorJson(w.hit.normal);
        out["material"] = w.material;
        out["object"] = w.object.empty() ? ordered_json(nullptr) : ordered_json(w.object);
        out["slant_range_m"] = w.slant_range_m;
        out["view_incidence_rad"] = w.view_incidence_rad;
        out["local_view_incidence_rad"] = w.local_view_incidence_rad;
        out["local_incidence_rad"] = w.local_incidence_rad;
        out["sun_share"] = w.sun_share;
        out["blocked_at_m"] = w.blocked_at_m ? vectorJson(*w.blocked_at_m) : ordered_json(nullptr);
    }
    out["sun_incidence_rad"] = w.sun_incidence_rad;
    out["sun"] = {{"azimuth_deg", degreesFromRadians(w.sun.azimuth_rad)},
                  {"elevation_deg", degreesFromRadians(w.sun.elevation_rad)},
                  {"distance_au", w.sun.distance_au}};
    for (std::size_t b = 0; b < w.counts.size(); ++b) out["counts"][instrument.bands()[b].name] = w.counts[b];
    out["trace"] = ordered_json::array();
    for (const TraceRow& row : w.trace.rows()) {
        out["trace"].push_back(
            {{"stage", row.stage},
             {"symbol", row.symbol},
             {"meaning", row.meaning},
             {"value", row.value},
             {"unit", row.unit},
             {"band",
              row.band < 0 ? ordered_json(nullptr) : ordered_json(instrument.bands()[static_cast<std::size_t>(row.band)].name)},
             {"contribution", row.contribution < 0 ? ordered_json(nullptr) : ordered_json(row.contribution)}});
    }
    return out;
}

/// A coordinate for people: a millionth of a metre is no more than a rounding error, and is written as nothing.
std::string coordinateText(double metres, int figures) {
    return shortText(std::abs(metres) < 1e-6 ? 0.0 : metres, Kind::length, figures);
}

void printWhy(const Why& w, const Instrument& instrument) {
    fmt::print("sample {}, line {}: {} s after the start\n", w.sample, w.line, figuresText(w.time_s, 6));
    if (w.hit.meets == Meets::sky) {
        fmt::print("it looks past the ground into the sky\n");
    } else {
        fmt::print("it meets {}{} ({}) {} east, {} north, {} above datum\n", nameOf(w.hit.meets),
                   w.object.empty() ? "" : " '" + w.object + "'", w.material, coordinateText(w.hit.point_m.x, 5),
                   coordinateText(w.hit.point_m.y, 5), coordinateText(w.hit.point_m.z, 4));
        fmt::print("view incidence {}, sun incidence {}, local incidence {}\n", shortText(w.view_incidence_rad, Kind::angle),
                   shortText(w.sun_incidence_rad, Kind::angle), shortText(w.local_incidence_rad, Kind::angle));
        if (w.blocked_at_m)
            fmt::print("the way to the sun is blocked at {} east, {} north, {} above datum\n",
                       coordinateText(w.blocked_at_m->x, 5), coordinateText(w.blocked_at_m->y, 5),
                       coordinateText(w.blocked_at_m->z, 4));
    }
    for (int band = -1; band < static_cast<int>(w.counts.size()); ++band) {
        fmt::print("\n{}\n",
                   band < 0 ? "the same for every band" : "band " + instrument.bands()[static_cast<std::size_t>(band)].name);
        for (const TraceRow& row : w.trace.rows()) {
            if (row.band != band || row.contribution > 0) continue;
            const std::string value = row.unit == "rad" ? figuresText(degreesFromRadians(row.value), 5) + " deg"
                                                        : figuresText(row.value, 6) + " " + row.unit;
            fmt::print("  {:<10} {:<8} {:<24} {}\n", row.stage, row.symbol, value, row.meaning);
        }
    }
}

}  // namespace

int runWhy(const WhyOptions& options) {
    SceneRequest request = options.scene;
    if (request.instruments.empty() && request.state.empty()) request.instruments = {"whisk-broom"};
    const Scene scene = loadScene(request);
    Formation formation(scene, 0);
    const Why why = formation.why(options.line, options.sample);
    if (options.json) std::cout << jsonText(whyJson(why, formation.instrument()));
    else printWhy(why, formation.instrument());
    return 0;
}

}  // namespace linefall
