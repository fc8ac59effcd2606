// Forming 1024 x 1024 samples in 4 bands over the island, and what a change costs. The peer of the whole image is a plain
// loop over the same physics: every cause walked again for every change, one ray at a time through the pyramid.

#include "bench.h"
#include "flight/formation.h"

namespace linefall {

namespace {

Scene with(Scene scene, const std::string& key, const std::string& text) {
    Problems problems;
    const Parameter* row = findSceneRow(key);
    const auto value = readValue(*row, text, {}, problems);
    scene.settings.replace(*row, value.value());
    return scene;
}

}  // namespace

void benchForming(std::vector<BenchRow>& rows, bool quick) {
    SceneRequest request;
    request.place = "island";
    request.instruments = {"push-broom"};
    request.sets = {"instrument.samples=1024", "flight.length=3150 m"};
    const Scene scene = loadScene(request);
    const int runs = quick ? 1 : 5;
    for (const int threads : {1, 2}) {
        const double whole = medianSeconds(runs, [&] {
            Formation formation(scene, 0);
            formation.form(0, 1024, threads);
        });
        rows.push_back({"forming 1024 x 1024 x 4 bands from nothing", "looks, sun, air, noise", whole * 1e3, "", 0.0, "ms", false, threads});
        Formation formation(scene, 0);
        formation.form(0, 1024, threads);
        const auto change = [&](const std::string& key, const std::string& one, const std::string& other) {
            bool odd = false;
            return medianSeconds(runs, [&] {
                odd = !odd;
                formation.update(with(scene, key, odd ? one : other));
                formation.form(0, 1024, threads);
            });
        };
        rows.push_back({"re-lighting it after the sun moved", "kept looks", change("sun.azimuth", "150 deg", "120 deg") * 1e3,
                        "forming it again", whole * 1e3, "ms", false, threads});
        rows.push_back({"other air", "kept looks and sun", change("air.aerosol_depth", "0.2", "0.3") * 1e3, "forming it again", whole * 1e3, "ms", false, threads});
        rows.push_back({"new noise", "kept radiance", change("noise.seed", "7", "8") * 1e3, "forming it again", whole * 1e3, "ms", false, threads});
    }
}

}  // namespace linefall
