#pragma once
// The pictures laid out as maps: the geometry is made in the background, the counts are filled in as lines fall.

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/cause_study.h"
#include "base/threads.h"
#include "flight/locate.h"

namespace linefall {

class CauseMaps {
public:
    struct Map {
        std::shared_ptr<const MapGeometry> geometry;
        std::shared_ptr<const Locator> locator;
        MapPicture picture;
        int version = 0;  ///< grows when the picture is another
        /// Where a pixel of the image lies in the map's picture, as a map at datum lays it; nothing beyond the horizon.
        [[nodiscard]] std::optional<Vec2> placeOf(const PicturePlace& place) const;
    };
    /// One turn of the loop.
    void frame(const Session& session, double seconds);
    [[nodiscard]] bool busy() const { return maker_.running() || maker_.ended() || waits_; }
    /// Null until there is one of the scene as it is.
    [[nodiscard]] const Map* of(std::size_t craft) const;
    [[nodiscard]] const std::string& problem() const { return problem_; }

private:
    struct Job {
        std::string key;
        std::vector<Map> maps;
    };
    struct Filled {
        int shown = -1, stale = -1, scene_version = -1;
        friend bool operator==(const Filled&, const Filled&) = default;
    };
    void fill(const Session& session, double seconds);

    std::shared_ptr<Job> job_;
    std::vector<Map> maps_;
    std::vector<Filled> filled_;
    std::string key_, asked_, problem_;
    int checked_ = -1, versions_ = 0;
    CauseView checked_view_;
    double since_s_ = 1e9;
    bool waits_ = false;
    Background maker_;  // last: its job ends before what it uses
};

}  // namespace linefall
