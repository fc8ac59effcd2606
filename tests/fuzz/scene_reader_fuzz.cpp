// Any text as a place, instrument, flight, material list or state: a sound scene or an InputError. What is sound and
// small is also made and used: ground is built and looked at, an instrument walks its first and last sample.

#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include "flight/formation.h"
#include "scene/place_reader.h"
#include "scene/scene_files.h"

using namespace linefall;

namespace {

constexpr std::size_t most_bytes = 16384;

/// A folder of scenes of its own, small so that each input is quick.
void makeScenes() {
    const std::string folder = (std::filesystem::temp_directory_path() / ("linefall-fuzz-" + std::to_string(getpid()))).string();
    for (const char* name : {"places", "instruments", "flights"}) std::filesystem::create_directories(folder + "/" + name);
    std::ofstream(folder + "/materials.toml")
        << "[[material]]\nname = \"water\"\nreflectance = 0.02\nwater = true\n"
           "[[material]]\nname = \"concrete\"\nreflectance = \"30 %\"\n"
           "[[material]]\nname = \"green-grass\"\nreflectance = [[\"480 nm\", 0.04], [\"900 nm\", 0.5]]\n";
    const std::string place = "[terrain]\nkind = \"level\"\nsize = \"80 m\"\nspacing = \"10 m\"\n";
    for (const char* name : {"island", "slopes"}) std::ofstream(folder + "/places/" + name + ".toml") << place;
    for (const std::string name : {"whisk-broom", "push-broom", "frame-camera", "eye"}) {
        std::ofstream(folder + "/instruments/" + name + ".toml")
            << "kind = \"" + name +
                   "\"\nsamples = 9\n[[band]]\nname = \"green\"\nfrom = \"500 nm\"\nto = \"600 nm\"\nquantum_efficiency = 0.5\n";
    }
    std::ofstream(folder + "/flights/straight.toml") << "height = \"300 m\"\nlength = \"20 m\"\n";
    setenv("LINEFALL_SCENES", folder.c_str(), 1);
}

bool small(const TerrainPlan& plan) {
    return plan.kind == TerrainPlan::Kind::level && plan.posts <= 65 && plan.forms.size() <= 8;
}

/// Builds a small place and looks at it from above, aslant and from within.
void usePlace(const toml::table& file) {
    Problems problems;
    PlacePlan plan;
    readPlace(file, "fuzz.toml", plan, problems);
    if (!problems.empty() || !small(plan.terrain) || plan.objects.size() > 8 || plan.paints.size() > 8) return;
    makeGround(plan, 1, problems);
    if (!problems.empty()) return;
    const Ground& ground = *plan.data.ground;
    for (const Vec3 direction : {Vec3{0.0, 0.0, -1.0}, Vec3{0.6, 0.0, -0.8}, Vec3{0.0, 1.0, 0.0}, Vec3{-0.28, 0.0, 0.96}}) {
        const GroundHit hit = ground.intersect({{0.1, -0.2, ground.highest_m() * 0.5}, direction});
        if (hit.meets == Meets::sky) continue;
        if (hit.material >= plan.data.materials.size()) std::abort();
        const double share = ground.skyShare(hit.point_m, hit.normal);
        if (!(share >= -1e-9 && share <= 1.0 + 1e-9)) std::abort();
        (void)ground.blocked(hit.point_m, hit.normal, glm::normalize(Vec3{0.3, 0.4, 0.5}));
    }
}

/// Walks the first and the last sample of a small instrument.
void useInstrument(const toml::table& file, bool flight) {
    static const auto place = loadPlace("island", true, 1);
    Problems problems;
    SceneRequest request;
    request.place = "island";
    request.instruments = {"push-broom"};
    request.threads = 1;
    Scene scene = loadScene(request);
    if (flight) {
        readFlight(file, "fuzz.toml", Layer::scene, scene.settings, problems);
    } else {
        scene.instruments[0] = InstrumentSetup{};
        scene.instruments[0].preset = "fuzz.toml";
        readInstrument(file, "fuzz.toml", scene.instruments[0], problems);
    }
    if (!problems.empty()) return;
    checkTexts(scene.settings, problems);
    checkTexts(scene.instruments[0].settings, problems);
    if (problems.empty()) checkGeometry(scene, true, problems);
    if (!problems.empty() || imageBytes(scene, *makeInstrument(scene, 0, problems)) > 2e6) return;
    Formation formation(scene, 0);
    if (formation.samples() > 512) return;
    (void)formation.why(0, 0);
    (void)formation.why(formation.lines() - 1, formation.samples() - 1);
}

}  // namespace

extern "C" int LLVMFuzzerInitialize(int*, char***) {
    makeScenes();
    return 0;
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size > most_bytes) return -1;
    const std::string text(reinterpret_cast<const char*>(data), size);
    for (const Problem& problem : inspectText(text, "fuzz.toml", false)) {
        if (problem.text().empty() || problem.expected.empty()) std::abort();
    }
    try {
        Problems ignored;
        const auto file = parseToml(text, "fuzz.toml", ignored);
        if (!file || file->contains("linefall")) return 0;
        if (file->contains("terrain")) usePlace(*file);
        else if (file->contains("kind") || file->contains("band")) useInstrument(*file, false);
        else if (!file->contains("material")) useInstrument(*file, true);
    } catch (const InputError& e) {
        if (e.problems().empty()) std::abort();
    }
    return 0;
}
