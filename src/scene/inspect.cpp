// Every problem of a scene file of any kind.

#include "instruments/registry.h"
#include "scene/place_reader.h"
#include "scene/scene_files.h"

namespace linefall {

namespace {

/// The problems of a scene that is the standard one but for what is inspected.
void judge(const Scene& scene, Problems& problems) {
    if (!problems.empty()) return;
    checkTexts(scene.settings, problems);
    for (const InstrumentSetup& setup : scene.instruments) checkTexts(setup.settings, problems);
    if (problems.empty()) checkGeometry(scene, true, problems);
}

SceneFileKind kindOf(const toml::table& file) {
    if (file.contains("linefall")) return SceneFileKind::state;
    if (file.contains("terrain")) return SceneFileKind::place;
    if (file.contains("kind") || file.contains("band")) return SceneFileKind::instrument;
    return file.contains("material") ? SceneFileKind::materials : SceneFileKind::flight;
}

}  // namespace

std::optional<SceneFileKind> kindOfFile(const std::string& path, Problems& problems) {
    const auto file = parseTomlFile(path, problems);
    if (!file) return std::nullopt;
    return kindOf(*file);
}

Problems inspectText(const std::string& text, const std::string& path, bool make_ground) {
    Problems problems;
    const auto file = parseToml(text, path, problems);
    if (file) problems = inspectTable(*file, path, make_ground);
    return problems;
}

Problems inspectFile(const std::string& path) {
    Problems problems;
    const auto file = parseTomlFile(path, problems);
    if (file) problems = inspectTable(*file, path, true);
    return problems;
}

Problems inspectTable(const toml::table& file, const std::string& path, bool make_ground) {
    Problems problems;
    const SceneFileKind kind = kindOf(file);
    if (kind == SceneFileKind::state) {
        try {
            SceneRequest request;
            request.needs_ground = make_ground;
            (void)loadState(file, path, request);
        } catch (const InputError& e) {
            problems = e.problems();
        }
    } else if (kind == SceneFileKind::place) {
        PlacePlan plan;
        readPlace(file, path, plan, problems);
        if (problems.empty() && make_ground) makeGround(plan, 0, problems);
    } else if (kind == SceneFileKind::instrument) {
        Scene scene;
        scene.instruments.resize(1);
        scene.instruments[0].preset = path;
        scene.instruments[0].kind = instrumentKinds().front().name;
        readInstrument(file, path, scene.instruments[0], problems);
        judge(scene, problems);
    } else if (kind == SceneFileKind::materials) {
        TableReader reader(file, path, "", problems);
        Materials materials;
        readMaterials(reader, materials);
        reader.finish();
    } else {
        Scene scene;
        readFlight(file, path, Layer::preset, scene.settings, problems);
        judge(scene, problems);
    }
    inReadingOrder(problems);
    if (enough(problems))
        problems.push_back({{path, 0, 0}, "", "at least so many mistakes", "these mended first; there may be more", ""});
    return problems;
}

}  // namespace linefall
