#include <iostream>
#include <nlohmann/json.hpp>

#include "base/angle.h"
#include "command/command.h"
#include "command/json_text.h"
#include "flight/formation.h"
#include "flight/walk_text.h"

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
        if (w.moving) out["moving"] = {{"speed_m_s", w.moving->speed_m_s}, {"track_deg", degreesFromRadians(w.moving->track_rad)}};
        out["slant_range_m"] = w.slant_range_m;
        out["view_incidence_rad"] = w.view_incidence_rad;
        out["local_view_incidence_rad"] = w.local_view_incidence_rad;
        out["local_incidence_rad"] = w.local_incidence_rad;
        out["sun_share"] = w.sun_share;
        out["blocked_at_m"] = w.blocked_at_m ? vectorJson(*w.blocked_at_m) : ordered_json(nullptr);
    }
    if (w.hit.meets != Meets::sky) out["blocked_by"] = w.blocked_by.empty() ? ordered_json(nullptr) : ordered_json(w.blocked_by);
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

/// The bands that were asked for: one by name, all, or the one shown as green.
std::vector<int> bandsOf(const std::string& asked, const std::vector<Band>& bands) {
    std::vector<int> all;
    std::string names = "all";
    for (std::size_t b = 0; b < bands.size(); ++b) {
        if (bands[b].name == asked) return {static_cast<int>(b)};
        all.push_back(static_cast<int>(b));
        names += ", " + bands[b].name;
    }
    if (asked == "all") return all;
    if (asked.empty()) return {chooseBands(bands, "true colour").green};
    throw InputError(Problem{{"", 0, 0}, "--band", "'" + asked + "'", "one of " + names, ""});
}

}  // namespace

int runWhy(const WhyOptions& options) {
    SceneRequest request = options.scene;
    if (request.instruments.empty() && request.state.empty()) request.instruments = {"whisk-broom"};
    const Scene scene = loadScene(request);
    Formation formation(scene, 0);
    const Why why = formation.why(options.line, options.sample);
    if (options.json) {
        std::cout << jsonText(whyJson(why, formation.instrument()));
        return 0;
    }
    const std::vector<Band>& bands = formation.instrument().bands();
    const std::vector<int> asked = bandsOf(options.band, bands);
    std::cout << walkText({scene.place->title, scene.instruments.front().title}, why, formation, asked);
    if (asked.size() < bands.size()) std::cout << "the walk of the other bands: --band all, or --band and a name\n";
    return 0;
}

}  // namespace linefall
