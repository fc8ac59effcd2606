#include <fmt/format.h>

#include <cmath>
#include <iostream>

#include "base/angle.h"
#include "command/command.h"
#include "command/facts_json.h"
#include "command/json_text.h"
#include "flight/scene_facts.h"

namespace linefall {

using nlohmann::ordered_json;

namespace {

ordered_json finite(double value) {
    return std::isfinite(value) ? ordered_json(value) : ordered_json(nullptr);
}

void addField(ordered_json& out, const FieldFacts& f) {
    out["gsd_nadir_across_m"] = f.nadir.cell.across_m;
    out["gsd_nadir_along_m"] = f.nadir.cell.along_m;
    out["gsd_edge_across_m"] = f.edge.cell.across_m;
    out["gsd_edge_along_m"] = f.edge.cell.along_m;
    out["spacing_across_m"] = f.nadir.cell.spacing_across_m;
    out["spacing_across_edge_m"] = f.edge.cell.spacing_across_m;
    out["spacing_along_m"] = f.spacing_along_m;
    out["overlap_nadir_m"] = f.overlap_nadir_m;
    out["overlap_edge_m"] = f.overlap_edge_m;
    out["swath_m"] = f.swath_m;
}

void printFacts(const Facts& f, const InstrumentSetup& setup) {
    const auto row = [](const std::string& name, const std::string& value, const std::string& note = "") {
        fmt::print("  {:<24}{:<36}{}\n", name, value, note);
    };
    const Derived& d = f.derived;
    fmt::print("{} ({})\n", setup.title, setup.preset);
    row("samples", std::to_string(d.samples), "in " + std::to_string(d.lines) + " lines");
    row("IFOV", shortText(d.ifov_rad, Kind::angle), fmt::format("{} mrad", figuresText(d.ifov_rad * 1e3, 4)));
    row("FOV", shortText(d.fov_rad, Kind::angle, 4));
    if (d.line_period_s > 0.0) {
        row("line rate", shortText(d.line_rate_Hz, Kind::frequency, 4),
            "one line in " + shortText(d.line_period_s, Kind::time, 4));
    }
    row("dwell time", shortText(d.dwell_s, Kind::time, 4), "duty cycle " + shortText(d.duty_cycle, Kind::ratio));
    const auto cell = [](const FieldPoint& p) {
        return shortText(p.cell.across_m, Kind::length, 4) + " across, " + shortText(p.cell.along_m, Kind::length, 4) + " along";
    };
    const auto overlap = [&f](double m) {
        if (std::abs(m) < 1e-6 * f.flat.nadir.cell.along_m) return std::string("touch");
        return (m < 0.0 ? "leave a gap of " : "overlap by ") + shortText(std::abs(m), Kind::length);
    };
    row("ground cell at nadir", cell(f.flat.nadir));
    row("ground cell at the edge", cell(f.flat.edge), "level ground");
    row("swath", shortText(f.flat.swath_m, Kind::length, 4), "level ground");
    row("lines at nadir", overlap(f.flat.overlap_nadir_m), "at the edge they " + overlap(f.flat.overlap_edge_m));
    if (f.curved) {
        row("on a sphere", shortText(f.curved->swath_m, Kind::length, 4) + " swath",
            "cell at the edge " + cell(f.curved->edge) + ", radius " + shortText(f.earth_radius_m, Kind::length, 7));
    } else {
        row("on a sphere", "none", f.curved_reason);
    }
    row(d.line_period_s > 0.0 ? "data rate" : "data",
        fmt::format("{} Mbit{}", figuresText(f.bits_per_s / 1e6, 4), d.line_period_s > 0.0 ? "/s" : " a frame"));
    for (const OwnFact& fact : f.own) row(fact.title, shortText(fact.value, fact.kind), fact.note);
    fmt::print("  bands over a level panel of {} reflectance:\n", shortText(f.reference_reflectance, Kind::ratio));
    for (const BandFacts& b : f.bands) {
        fmt::print("    {:<12}SNR {:<8}NEdL {:<10}saturation {} W m-2 sr-1 um-1\n", b.name, figuresText(b.snr, 3),
                   figuresText(b.noise_equivalent_radiance, 3), figuresText(b.saturation_radiance, 4));
    }
    if (!f.caution.empty()) fmt::print("  {}\n", f.caution);
}

}  // namespace

ordered_json factsJson(const Facts& f, const std::string& preset, const std::string& kind) {
    const Derived& d = f.derived;
    ordered_json out;
    out["instrument"] = preset;
    out["kind"] = kind;
    out["samples"] = d.samples;
    out["lines"] = d.lines;
    out["lines_at_once"] = d.lines_at_once;
    out["line_period_s"] = d.line_period_s > 0.0 ? ordered_json(d.line_period_s) : ordered_json(nullptr);
    out["lines_per_s"] = d.line_period_s > 0.0 ? ordered_json(1.0 / d.line_period_s) : ordered_json(nullptr);
    out["scan_period_s"] = d.line_period_s > 0.0 ? ordered_json(d.scan_period_s) : ordered_json(nullptr);
    if (d.line_period_s <= 0.0) out["line_period_reason"] = "all lines of a frame are taken at once";
    out["dwell_s"] = d.dwell_s;
    out["duty_cycle"] = d.duty_cycle;
    out["ifov_rad"] = d.ifov_rad;
    out["fov_rad"] = d.fov_rad;
    out["sample_step_rad"] = d.sample_step_rad;
    out["focal_length_m"] = d.focal_length_m;
    out["detector_pitch_m"] = d.detector_pitch_m;
    addField(out, f.flat);
    out["zenith_edge_rad"] = f.flat.edge.zenith_rad;
    out[d.line_period_s > 0.0 ? "bits_per_s" : "bits_per_frame"] = f.bits_per_s;
    if (d.line_period_s <= 0.0) {
        out["bits_per_s"] = nullptr;
        out["bits_per_s_reason"] = "a frame has no line rate: see bits_per_frame";
    }
    ordered_json curved;
    if (f.curved) addField(curved, *f.curved);
    else {
        ordered_json none;
        addField(none, FieldFacts{});
        for (auto& item : none.items()) curved[item.key()] = nullptr;
        curved["reason"] = f.curved_reason;
    }
    curved["zenith_edge_rad"] = f.curved ? ordered_json(f.curved->edge.zenith_rad) : ordered_json(nullptr);
    curved["earth_radius_m"] = f.earth_radius_m;
    out["curved"] = curved;
    for (const OwnFact& fact : f.own) out["own"][fact.key] = fact.value;
    if (!f.caution.empty()) out["caution"] = f.caution;
    out["reference_reflectance"] = f.reference_reflectance;
    out["bands"] = ordered_json::array();
    for (const BandFacts& b : f.bands) {
        out["bands"].push_back({{"name", b.name},
                                {"reference_radiance_W_m2_sr_um", b.reference_radiance},
                                {"signal_e", b.signal_e},
                                {"snr", finite(b.snr)},
                                {"noise_equivalent_radiance_W_m2_sr_um", b.noise_equivalent_radiance},
                                {"saturation_radiance_W_m2_sr_um", b.saturation_radiance}});
    }
    return out;
}

int runFacts(const CommonOptions& options) {
    SceneRequest request = options.scene;
    if (request.instruments.empty() && request.state.empty()) request.instruments = {"whisk-broom", "push-broom"};
    request.needs_ground = false;
    const Scene scene = loadScene(request);
    ordered_json all = ordered_json::array();
    for (std::size_t i = 0; i < scene.instruments.size(); ++i) {
        const InstrumentSetup& setup = scene.instruments[i];
        const Facts facts = factsOfScene(scene, i);
        if (options.json) all.push_back(factsJson(facts, setup.preset, setup.kind));
        else printFacts(facts, setup);
    }
    if (options.json) std::cout << jsonText(all.size() == 1 ? all[0] : all);
    return 0;
}

}  // namespace linefall
