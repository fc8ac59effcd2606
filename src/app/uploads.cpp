// What was formed, on its textures: the lines of the pictures, and the land in its light.

#include <algorithm>

#include "app/desk.h"
#include "app/screen.h"

namespace linefall {

void uploadPictures(Desk& desk) {
    if (!desk.session.loaded()) return;
    auto& crafts = desk.session.crafts();
    while (desk.pictures.size() < crafts.size()) {
        desk.pictures.push_back(std::make_unique<Picture>());
        desk.picture_versions.push_back(-1);
    }
    desk.pictures.resize(crafts.size());
    desk.picture_versions.resize(crafts.size());
    desk.picture_views.resize(crafts.size());
    desk.active = std::clamp(desk.active, 0, static_cast<int>(crafts.size()) - 1);
    if (crafts.size() < 2) desk.blink.end();
    for (std::size_t i = 0; i < crafts.size(); ++i) {
        Craft& craft = *crafts[i];
        if (desk.picture_versions[i] != craft.version()) {
            desk.pictures[i]->reset(craft.formation().samples(), craft.formation().lines());
            desk.picture_versions[i] = craft.version();
        }
        for (const Fallen& line : craft.takeFallen()) desk.pictures[i]->put(craft.formation().image(), craft.look(), line.line, line.height);
    }
}

void uploadWorld(Desk& desk) {
    if (const std::optional<Drape> drape = desk.session.takeDrape()) {
        desk.world->setDrape(*drape);
        desk.world->setSky(desk.session.lightNow());
    }
    if (const std::optional<Mesh> objects = desk.session.takeObjects()) desk.world->setObjects(*objects);
}

void rebuildGl(Desk& desk) {
    desk.world->rebuild();
    for (std::size_t i = 0; i < desk.pictures.size() && i < desk.session.crafts().size(); ++i) {
        desk.pictures[i] = std::make_unique<Picture>();
        desk.picture_versions[i] = -1;
        desk.session.crafts()[i]->fallAgain();
    }
    desk.differences.clear();
    desk.map_pictures.clear();
    rebuildInterface();
    ++desk.rebuilt;
}

}  // namespace linefall
