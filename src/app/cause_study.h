#pragma once
// One cause at a time, as it flies: beside each craft a second one that differs in that cause alone, and the difference of
// their images, line by line as both stand. Knows no window.

#include <memory>
#include <vector>

#include "app/session.h"
#include "flight/cause_table.h"
#include "flight/difference.h"
#include "flight/map_geometry.h"

namespace linefall {

/// What is shown of causes, as the scene's show.* keys say it.
struct CauseView {
    Cause cause = Cause::cast_shadow;  ///< looked at: its difference, its arrows
    bool difference = false;           ///< the pictures show what the cause does to the counts
    bool places = false;               ///< arrows and outlines of what it does to places
    bool map = false;                  ///< the pictures are laid out as maps
    Resampling resampling = Resampling::nearest;
    MapLevel level = MapLevel::datum;
    friend bool operator==(const CauseView&, const CauseView&) = default;
};
[[nodiscard]] CauseView causeViewOf(const Scene& scene);

class CauseStudy {
public:
    /// One turn of the loop, after the session's: forms for about `budget_ms`. Without a difference to show it costs nothing.
    void frame(Session& session, double seconds, double budget_ms);
    /// Work goes on without the user.
    [[nodiscard]] bool busy() const;
    /// Why there is no difference to show; empty: there is.
    [[nodiscard]] const std::string& problem() const { return problem_; }

    /// One craft's difference as far as it stands.
    struct Shown {
        Difference difference;
        std::vector<char> stands;                   ///< one a line: taken from two lines as formed
        double limit = 1.0;                         ///< counts in full colour
        std::vector<DifferenceStatistics> numbers;  ///< one a band, over the lines that stand
        bool old = false;                           ///< the light has changed since: nothing of it stands
        double fresh = 0.0;                         ///< share of the fallen lines that stand and hold for the present light
        int version = 0;                            ///< grows when all rows must be shown anew (another size, cause or limit)
    };
    /// What is shown has not held for the present light for a while, long enough to be worth saying without a flicker.
    [[nodiscard]] bool stale() const { return stale_s_ > 0.3; }
    /// Null when no difference is shown.
    [[nodiscard]] const Shown* shown(std::size_t craft) const;
    /// Lines that were taken since the last call.
    [[nodiscard]] std::vector<int> takeLines(std::size_t craft);

private:
    struct Pair {
        std::unique_ptr<Craft> other;
        int scene_version = -1, own_version = -1;
        Shown shown;
        std::vector<int> taken;
        bool on = true;       ///< the craft itself has the cause, the other one not
        bool counted = true;  ///< limit and numbers hold for all lines taken
        double since_s = 0.0; ///< since they were counted
    };
    void match(Session& session, std::size_t index);
    void take(Session& session, std::size_t index);
    void count(const Craft& own, Pair& pair);
    void judge(const Session& session, double seconds);

    std::vector<Pair> pairs_;
    Cause cause_ = Cause::cast_shadow;
    double stale_s_ = 0.0;
    std::string problem_;
};

}  // namespace linefall
