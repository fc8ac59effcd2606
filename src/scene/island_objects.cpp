// Landmarks in the country, farms, roads and bridges.

#include "scene/island_objects.h"

#include <algorithm>
#include <cmath>
#include <string>

#include "base/angle.h"
#include "scene/island_works.h"

namespace linefall::island {

namespace {

constexpr float degree = static_cast<float>(constants::pi / 180.0);

/// The lighthouse stands where the south-east cape ends, 46 m from the water.
Spot capeEnd(const Plan& plan) {
    constexpr float out_east = 0.72f, out_north = -0.694f;
    float r = 2900.0f;
    while (r < 3850.0f && plan.inland(r * out_east, r * out_north) > 46.0f) r += 4.0f;
    return {r * out_east, r * out_north};
}

void buildLighthouse(const Plan& plan, Map& map, const BuildingMaterials& of, std::vector<Object>& objects) {
    const Spot at = capeEnd(plan);
    levelPatch(at, 34.0f, 30.0f, 0.0f, 18.0f, heightOn(map, at.east, at.north), Cover::grass, map);
    objects.push_back(thing(Shape::cylinder, "lighthouse", at.east, at.north, 7.0, 7.0, 36.0, 0.0, of.red_roof, of.white_wall));
    objects.push_back(thing(Shape::gable, "keeper's house", at.east - 14.0f, at.north + 8.0f, 12.0, 8.0, 7.0, 1.1, of.grey_roof,
                            of.white_wall));
}

void buildSilos(Map& map, const BuildingMaterials& of, std::vector<Object>& objects) {
    constexpr float heading = 78.0f * degree;
    constexpr int count = 8;
    const float along_east = std::sin(heading);
    const float along_north = std::cos(heading);
    levelPatch(silos, 170.0f, 56.0f, heading, 30.0f, heightOn(map, silos.east, silos.north), Cover::concrete, map);
    for (int k = 0; k < count; ++k) {
        const float u = 17.0f * (static_cast<float>(k) - 3.5f);
        objects.push_back(thing(Shape::cylinder, ("silo " + std::to_string(k + 1)).c_str(), silos.east + u * along_east,
                                silos.north + u * along_north, 12.0, 12.0, 14.0 + 2.0 * k, 0.0, of.grey_roof, of.concrete));
    }
    objects.push_back(thing(Shape::gable, "grain store", silos.east - 18.0f * along_north - 30.0f * along_east,
                            silos.north + 18.0f * along_east - 30.0f * along_north, 56.0, 16.0, 11.0,
                            static_cast<double>(heading), of.red_roof, of.concrete));
}

void buildAirstrip(Map& map, const BuildingMaterials& of, std::vector<Object>& objects) {
    const float heading = airstrip_heading_deg * degree;
    const float along_east = std::sin(heading);
    const float along_north = std::cos(heading);
    const float level = heightOn(map, airstrip.east, airstrip.north);
    levelPatch(airstrip, 780.0f, 90.0f, heading, 60.0f, level, Cover::grass, map);
    levelPatch(airstrip, 720.0f, 22.0f, heading, 4.0f, level, Cover::asphalt, map);
    for (const float end : {-344.0f, 344.0f}) {  // pale thresholds
        levelPatch({airstrip.east + end * along_east, airstrip.north + end * along_north}, 10.0f, 20.0f, heading, 4.0f, level,
                   Cover::concrete, map);
    }
    // The apron and its hangars stand on the north side.
    const auto beside = [&](float u, float v) {
        return Spot{airstrip.east + u * along_east - v * along_north, airstrip.north + u * along_north + v * along_east};
    };
    levelPatch(beside(120.0f, 34.0f), 110.0f, 40.0f, heading, 10.0f, level, Cover::concrete, map);
    for (int k = 0; k < 2; ++k) {
        const Spot p = beside(95.0f + 50.0f * static_cast<float>(k), 44.0f);
        objects.push_back(thing(Shape::gable, k == 0 ? "hangar 1" : "hangar 2", p.east, p.north, 36.0, 24.0, 9.0 + k,
                                static_cast<double>(heading), of.grey_roof, of.concrete));
    }
}

/// A deck over every stretch of fresh water that the road meets.
void bridgeWater(const std::vector<Spot>& line, float half_width, const Map& map, const BuildingMaterials& of,
                 std::vector<Object>& objects) {
    const auto wet = [&](const Spot& s) {
        const int column = std::clamp(static_cast<int>((s.east + reach) / spacing), 0, cells - 1);
        const int row = std::clamp(static_cast<int>((s.north + reach) / spacing), 0, cells - 1);
        return map.cover.at(column, row) == Cover::fresh;
    };
    for (std::size_t k = 1; k + 1 < line.size(); ++k) {
        if (!wet(line[k]) || wet(line[k - 1])) continue;
        std::size_t end = k;
        while (end + 1 < line.size() && wet(line[end])) ++end;
        const Spot a = line[k - 1];
        const Spot b = line[end];
        const float dx = b.east - a.east;
        const float dy = b.north - a.north;
        const float east = 0.5f * (a.east + b.east);
        const float north = 0.5f * (a.north + b.north);
        const float length = std::sqrt(dx * dx + dy * dy);
        const float water = heightOn(map, east, north);
        const float banks = std::max(heightOn(map, a.east, a.north), heightOn(map, b.east, b.north));
        objects.push_back(thing(Shape::box, "bridge", east, north, static_cast<double>(length) + 16.0,
                                2.0 * static_cast<double>(half_width) + 1.0,
                                std::ceil(static_cast<double>(banks - water) * 2.0 + 1.0) / 2.0,
                                static_cast<double>(std::atan2(dx, dy)), of.asphalt, of.concrete));
        k = end;
    }
}

void buildRoads(const Plan& plan, Map& map, const BuildingMaterials& of, std::vector<Object>& objects) {
    const Spot cape = capeEnd(plan);
    const std::vector<std::vector<Spot>> roads{
        {{1560, -2010},
         {1510, -1850},
         {1430, -1600},
         {1530, -1250},
         {1500, -720},
         {1330, -260},
         {1420, 220},
         {1290, 560},
         {1270, 940},
         {1080, 1330},
         {640, 1480}},
        {{1445, -1560}, {1180, -1500}, {820, -1440}, {420, -1330}, {20, -1180}, {-330, -1060}, {-490, -985}, {-502, -885}},
        {{1900, -2290}, {2120, -2230}, {2340, -2340}, {cape.east - 40.0f, cape.north + 30.0f}},
        {{1530, -1250}, {1640, -1195}, {1820, -1180}, {2150, -1090}, {2400, -900}, {saltworks.east - 215.0f, saltworks.north}},
        {{1180, -2200}, {1000, -2130}, {760, -2060}, {330, -2040}, {-250, -2130}, {-800, -2240}, {-1300, -2170}, {-1750, -2030}},
        {{1400, 190}, {1700, 40}, {2080, -120}, {2420, -420}, {2400, -900}},
    };
    for (const auto& spots : roads) {
        const std::vector<Spot> line = smoothLine(spots, 5.0f);
        constexpr float half_width = 4.0f;
        layRoad(line, half_width, Cover::asphalt, map);
        bridgeWater(line, half_width, map, of, objects);
        // Hamlets and lone farms beside the road.
        for (std::size_t k = 8; k + 8 < line.size(); k += 4) {
            const Spot p = line[k];
            const auto lot = [&](int what) {
                return chance(plan.seed(), RandomUse::town, static_cast<int>(p.east), static_cast<int>(p.north), what);
            };
            const float cluster = plan.fine().at(p.east / 420.0f + 3.0f, p.north / 420.0f);
            if (lot(1) > 0.04f + 1.3f * std::max(0.0f, cluster - 0.22f)) continue;
            const float dx = line[k + 1].east - line[k - 1].east;
            const float dy = line[k + 1].north - line[k - 1].north;
            const float length = std::sqrt(dx * dx + dy * dy);
            const float side = lot(2) < 0.5f ? -1.0f : 1.0f;
            const float off = side * (15.0f + 9.0f * lot(3));
            const Spot at{p.east + off * dy / length, p.north - off * dx / length};
            const int column = static_cast<int>((at.east + reach) / spacing);
            const int row = static_cast<int>((at.north + reach) / spacing);
            if (map.cover.at(column, row) != Cover::open || map.kept.at(column, row)) continue;
            const double heading =
                std::atan2(static_cast<double>(dx), static_cast<double>(dy)) + (lot(4) < 0.5f ? 0.0 : 0.5 * constants::pi);
            levelPatch(at, 26.0f, 22.0f, static_cast<float>(heading), 10.0f, heightOn(map, at.east, at.north),
                       lot(5) < 0.35f ? Cover::soil : Cover::grass, map);
            const bool barn = cluster < 0.22f || lot(6) < 0.2f;
            objects.push_back(thing(Shape::gable, barn ? "barn" : "house", at.east, at.north, barn ? 20.0 : 11.0,
                                    barn ? 11.0 : 8.5, barn ? 8.5 : 6.5 + 0.5 * std::floor(3.0 * static_cast<double>(lot(7))),
                                    heading, lot(8) < 0.6f ? of.red_roof : of.brown_roof, barn ? of.soil : of.white_wall));
        }
    }
}

}  // namespace

BuildingMaterials::BuildingMaterials(const MaterialByName& material)
    : red_roof(material("red-roof")),
      brown_roof(material("brown-roof")),
      grey_roof(material("grey-roof")),
      white_wall(material("white-wall")),
      concrete(material("concrete")),
      rock(material("rock")),
      salt(material("salt")),
      gravel(material("gravel")),
      asphalt(material("asphalt")),
      soil(material("bare-soil")) {}

Object thing(Shape shape, const char* name, float east, float north, double length_m, double width_m, double height_m,
             double heading_rad, std::uint16_t top, std::uint16_t side) {
    Object o;
    o.shape = shape;
    o.name = name;
    o.east_m = static_cast<double>(east);
    o.north_m = static_cast<double>(north);
    o.length_m = length_m;
    o.width_m = width_m;
    o.height_m = height_m;
    o.heading_rad = wrappedToTurn(heading_rad);
    o.top_material = top;
    o.side_material = side;
    return o;
}

void buildPlaces(const Plan& plan, Map& map, const MaterialByName& material, std::vector<Object>& objects) {
    const BuildingMaterials of(material);
    buildLighthouse(plan, map, of, objects);
    buildSilos(map, of, objects);
    buildQuarry(plan, map, of, objects);
    buildSaltworks(plan, map, of, objects);
    buildAirstrip(map, of, objects);
    buildTown(plan, map, of, objects);
    buildRoads(plan, map, of, objects);
}

}  // namespace linefall::island
