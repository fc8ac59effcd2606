// What was found out about a cause, on its textures: a difference row by row, a map whole.

#include "app/desk.h"

namespace linefall {

namespace {

std::array<std::uint8_t, 3> colourBytes(ImU32 colour) {
    return {static_cast<std::uint8_t>(colour >> IM_COL32_R_SHIFT & 255), static_cast<std::uint8_t>(colour >> IM_COL32_G_SHIFT & 255), static_cast<std::uint8_t>(colour >> IM_COL32_B_SHIFT & 255)};
}

void fit(std::vector<std::unique_ptr<Picture>>& pictures, std::vector<int>& versions, std::size_t count) {
    while (pictures.size() < count) pictures.push_back(std::make_unique<Picture>());
    pictures.resize(count);
    versions.resize(count, -1);
}

void uploadDifference(Desk& desk, std::size_t i) {
    const CauseStudy::Shown* shown = desk.study.shown(i);
    const std::vector<int> taken = desk.study.takeLines(i);
    if (shown == nullptr) return;
    Picture& picture = *desk.differences[i];
    const BandChoice& bands = desk.session.crafts()[i]->look().bands;
    const Neutral neutral = desk.night ? Neutral::dark : Neutral::light;
    const std::array<std::uint8_t, 3> blank = colourBytes(desk.ui.p.blank);
    const auto put = [&](int line) {
        if (shown->stands[static_cast<std::size_t>(line)] != 0) return picture.putColours(differenceRow(shown->difference, bands, shown->limit, neutral, line), line);
        std::vector<std::uint8_t> row;  // nothing is known there yet, which is not the same as no difference
        for (int i = 0; i < picture.samples(); ++i) row.insert(row.end(), blank.begin(), blank.end());
        picture.putColours(row, line);
    };
    // All rows anew when the size, the cause, the limit, the bands or the ground of the page is another.
    const int version = 8 * shown->version + (desk.night ? 4 : 0);
    const std::string look = bands.name;
    if (desk.difference_versions[i] != version || desk.difference_bands != look || picture.samples() != shown->difference.samples() || picture.lines() != shown->difference.lines()) {
        if (picture.samples() != shown->difference.samples() || picture.lines() != shown->difference.lines()) picture.reset(shown->difference.samples(), shown->difference.lines());
        desk.difference_versions[i] = version;
        if (i + 1 == desk.differences.size()) desk.difference_bands = look;
        for (int line = 0; line < shown->difference.lines(); ++line) put(line);
        return;
    }
    for (const int line : taken) put(line);
}

void uploadMap(Desk& desk, std::size_t i) {
    const CauseMaps::Map* map = desk.maps.of(i);
    if (map == nullptr) return;
    const Craft& craft = *desk.session.crafts()[i];
    Picture& picture = *desk.map_pictures[i];
    const bool size = picture.samples() == map->picture.image.samples() && picture.lines() == map->picture.image.lines();
    if (size && desk.map_versions[i] == map->version && desk.map_looks[i] == craft.look() && desk.map_night == desk.night) return;
    if (!size) picture.reset(map->picture.image.samples(), map->picture.image.lines());
    desk.map_versions[i] = map->version;
    desk.map_looks[i] = craft.look();
    if (i + 1 == desk.map_pictures.size()) desk.map_night = desk.night;
    const std::array<std::uint8_t, 3> blank = colourBytes(desk.ui.p.blank);
    for (int line = 0; line < map->picture.image.lines(); ++line) {
        const std::vector<std::uint8_t> shown = displayRow(map->picture.image, craft.look().bands, craft.look().limits, craft.look().screen_curve, line);
        const std::size_t columns = static_cast<std::size_t>(map->picture.image.samples()), channels = shown.size() / columns;
        std::vector<std::uint8_t> row(3 * columns);
        for (std::size_t c = 0; c < columns; ++c) {
            const bool covered = map->picture.covered.at(static_cast<int>(c), line) != 0;
            for (std::size_t k = 0; k < 3; ++k) row[3 * c + k] = covered ? shown[channels * c + (channels > 2 ? k : 0)] : blank[k];
        }
        picture.putColours(row, line);
    }
}

}  // namespace

void uploadCauses(Desk& desk) {
    if (!desk.session.loaded()) return;
    desk.causes = causeViewOf(desk.session.scene());
    const std::size_t count = desk.session.crafts().size();
    if (desk.causes.difference) {
        fit(desk.differences, desk.difference_versions, count);
        for (std::size_t i = 0; i < count; ++i) uploadDifference(desk, i);
    } else {
        desk.differences.clear();
        desk.difference_versions.clear();
    }
    if (desk.causes.map) {
        fit(desk.map_pictures, desk.map_versions, count);
        desk.map_looks.resize(count);
        desk.map_views.resize(count);
        for (std::size_t i = 0; i < count; ++i) uploadMap(desk, i);
    } else {
        desk.map_pictures.clear();
        desk.map_versions.clear();
    }
}

}  // namespace linefall
