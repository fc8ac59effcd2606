#include "scene/givens.h"
#include "scene/place.h"

#include <algorithm>
#include <cmath>

#include "scene/place_reader.h"
#include "scene/scene_files.h"
#include "scene/terrain_maker.h"

namespace linefall {

namespace {

constexpr double most_object_cells = 1e9;  // cells under all objects of a place file: some seconds of work

/// Objects of the file must stand on the terrain, and not cover it a thousand times.
void checkObjects(const PlacePlan& plan, const Landscape& land, Problems& problems) {
    const double east = 0.5 * land.spacing_m * (land.posts_m.columns() - 1);
    const double north = 0.5 * land.spacing_m * (land.posts_m.rows() - 1);
    double cells = 0.0;
    std::size_t moving = 0;
    for (std::size_t i = 0; i < plan.objects.size() && !enough(problems); ++i) {
        const Object& o = plan.objects[i];
        if (std::abs(o.east_m) > east || std::abs(o.north_m) > north) {
            problems.push_back({plan.object_places[i], "object.east, object.north",
                                shortText(o.east_m, Kind::length, 6) + ", " + shortText(o.north_m, Kind::length, 6),
                                "a centre on the terrain: within " + shortText(east, Kind::length, 6) + " east and west, " +
                                    shortText(north, Kind::length, 6) + " north and south",
                                ""});
        }
        if (o.moves() && ++moving > most_movers) {
            problems.push_back({plan.object_places[i], "object.speed", std::to_string(moving) + " objects that move",
                                "at most " + std::to_string(most_movers) + " of them in a place", ""});
            return;
        }
        const double across = 2.0 * o.radius_m();
        cells += (std::min(across, 2.0 * east) / land.spacing_m + 2.0) * (std::min(across, 2.0 * north) / land.spacing_m + 2.0);
        if (cells > most_object_cells) {
            problems.push_back({plan.object_places[i], "object",
                                std::to_string(i + 1) + " objects that cover more than 1000 million cells",
                                "fewer or smaller objects, or a wider spacing of the terrain", ""});
            return;
        }
    }
}

}  // namespace

void makeGround(PlacePlan& plan, int threads, Problems& problems) {
    try {
        Landscape land = makeTerrain(plan.terrain, plan.data.materials, threads, problems);
        if (problems.empty()) checkObjects(plan, land, problems);
        if (!problems.empty()) return;
        land.objects.insert(land.objects.end(), plan.objects.begin(), plan.objects.end());
        plan.data.ground =
            std::make_shared<Ground>(HeightField(std::move(land.posts_m), land.spacing_m), std::move(land.materials),
                                     std::move(land.objects), plan.beyond, std::move(plan.paints));
    } catch (const InputError& e) {
        problems.insert(problems.end(), e.problems().begin(), e.problems().end());
    }
}

std::shared_ptr<const PlaceData> loadPlace(const std::string& name_or_path, bool make_ground, int threads, const Givens& givens) {
    Problems problems;
    PlacePlan plan;
    const std::string path = resolveSceneFile("places", name_or_path, problems);
    if (problems.empty()) {
        if (auto file = parseTomlFile(path, problems)) {
            putGivens(*file, givens);
            readPlace(*file, path, plan, problems);
        }
    }
    if (problems.empty() && make_ground) makeGround(plan, threads, problems);
    if (!problems.empty()) throw InputError(problems);
    plan.data.name = name_or_path;
    return std::make_shared<PlaceData>(std::move(plan.data));
}

}  // namespace linefall
