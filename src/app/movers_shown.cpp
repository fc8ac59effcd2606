#include "app/movers_shown.h"

namespace linefall {

void MoversShown::show(Desk& desk) {
    const Session& session = desk.session;
    went_ = false;
    if (!session.loaded()) return;
    if (session.scene().place->ground->movers().empty()) {
        if (things_) desk.world->setMovers({});
        things_.reset();
        return;
    }
    const double time_s = session.clock().time_s();
    if (!things_ || version_ != session.sceneVersion()) things_.emplace(session.scene());
    else if (time_s == time_s_) return;
    version_ = session.sceneVersion();
    went_ = true;
    time_s_ = time_s;
    desk.world->setMovers(things_->at(time_s));
}

}  // namespace linefall
