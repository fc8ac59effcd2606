#pragma once
// What the window works on: the scene, its crafts, the clock, the picked pixel, the drape. Knows no window: a loop calls
// frame(seconds), and whoever draws reads the state. All changes go through here.

#include <array>
#include <chrono>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/clock.h"
#include "app/craft.h"
#include "base/threads.h"
#include "view/drape.h"

namespace linefall {

/// A declared parameter of the scene, or of one of its instruments.
struct ParameterOf {
    const Parameter* row = nullptr;
    int craft = -1;  ///< -1: of the scene
};

/// The picked pixel, and the same ground in the other pictures.
struct Picked {
    int craft = 0;
    Pixel pixel;
    std::optional<Why> why;                      ///< nothing when its line is not gathered yet
    std::vector<std::optional<Nearest>> linked;  ///< one a craft; nothing: nothing near
    std::vector<std::pair<int, int>> linked_at;  ///< one a craft: its lines shown and stale when it was searched
};

class Session {
public:
    explicit Session(SceneRequest request);
    ~Session();
    Session(const Session&) = delete;
    Session& operator=(const Session&) = delete;

    /// One turn of the loop, `seconds` after the last: takes finished work, moves the clock, forms lines for about
    /// `budget_ms`. Returns true when anything that is shown changed.
    bool frame(double seconds, double budget_ms);

    [[nodiscard]] bool loaded() const { return scene_.place != nullptr; }
    [[nodiscard]] bool raising() const { return !loaded() && loader_.running(); }  ///< the first land is still being made
    [[nodiscard]] const std::string& failure() const { return failure_; }  ///< why nothing can be flown; empty: fine
    /// Loads another scene while the present one keeps flying, and flies it once it is ready. A scene that cannot be
    /// loaded leaves its problems and changes nothing.
    void open(SceneRequest request);
    /// Lists problems as open() would have done.
    void refuseOpen(const Problems& problems);
    [[nodiscard]] bool opening() const { return loading_ != nullptr; }
    /// What was wrong with the scene opened last, one mistake a line; empty: nothing.
    [[nodiscard]] const std::vector<std::string>& openProblems() const { return open_problems_; }
    void forgetOpenProblems() { open_problems_.clear(); }
    /// Grows whenever another scene flies.
    [[nodiscard]] int generation() const { return generation_; }
    /// Grows whenever anything of the scene changed.
    [[nodiscard]] int sceneVersion() const { return scene_version_; }
    /// What the present scene was loaded from.
    [[nodiscard]] const SceneRequest& request() const { return request_; }
    /// The present scene, the clock and the picked pixel in its settings.
    [[nodiscard]] Scene sceneOfNow() const;
    /// The same as text for `linefall form`; paths as in stateText.
    [[nodiscard]] std::string stateOfNow(const std::string& folder) const;
    [[nodiscard]] const Scene& scene() const { return scene_; }
    [[nodiscard]] std::vector<std::unique_ptr<Craft>>& crafts() { return crafts_; }
    [[nodiscard]] const std::vector<std::unique_ptr<Craft>>& crafts() const { return crafts_; }
    [[nodiscard]] SimClock& clock() { return clock_; }
    [[nodiscard]] const SimClock& clock() const { return clock_; }
    [[nodiscard]] const std::optional<Picked>& picked() const { return picked_; }
    [[nodiscard]] bool busy() const;  ///< work is going on without the user

    /// Text for a parameter as typed. Returns what is wrong with it; then the old value keeps flying.
    std::string setText(const ParameterOf& parameter, const std::string& text);
    std::string setValue(const ParameterOf& parameter, const Value& value);
    /// Several values at once (the dome's two angles).
    std::string setValues(const std::vector<std::pair<ParameterOf, Value>>& values);
    [[nodiscard]] Value valueOf(const ParameterOf& parameter) const;
    [[nodiscard]] std::string problemOf(const ParameterOf& parameter) const;
    void clearProblem(const ParameterOf& parameter);
    [[nodiscard]] ParameterOf sceneParameter(const std::string& key) const;

    /// Another scene from now on, whatever differs; the clock keeps its share of the flight. Returns what is wrong with it;
    /// then the old one keeps flying.
    std::string takeScene(const Scene& next);

    /// While a hand drags the sun: its shadows are worked out beside the loop, and the pictures follow as fast as that goes.
    void follow(bool on) { following_ = on; }
    /// The crafts still fly under an older sun.
    [[nodiscard]] bool behind() const { return behind_; }

    /// The sun at the clock's time.
    [[nodiscard]] const Sunlight& sunNow() const;
    /// The light of the land and the sky at the clock's time.
    [[nodiscard]] const WorldLight& lightNow() const;

    void pick(int craft, Pixel pixel);
    void unpick() {
        picked_.reset();
        ++picked_version_;
    }
    /// Grows whenever the picked pixel or its walk changes.
    [[nodiscard]] int pickedVersion() const { return picked_version_; }
    /// Asks again for the picked pixel; `same_looks`: only the light changed, so the linked samples stand.
    void refreshPicked(bool same_looks = false);
    void scrub(double time_s);
    void restart();

    /// Another instrument in the place of one, or (`index` the number of crafts) one more beside them: of the same flight, over
    /// the same ground. It is made in the background while the old one flies on; one that cannot fly leaves its problem and
    /// changes nothing. The clock keeps its share of the flight.
    void exchangeInstrument(std::size_t index, const std::string& preset);
    [[nodiscard]] bool exchanging() const { return exchange_ != nullptr; }
    [[nodiscard]] const std::string& exchangeProblem() const { return exchange_problem_; }
    /// One flies on alone, or with those before it, from the next turn of the loop on: who draws now still draws both.
    void removeLastInstrument() { sending_home_ = crafts_.size() > 1; }

    /// One line is gathered by hand, of one craft: the clock is held where its sweep begins.
    void beginHand(int craft);
    /// The machine takes over: the line is done, and the clock goes on.
    void endHand();
    void dropHand();
    /// The craft whose line is gathered by hand; nothing: none.
    [[nodiscard]] std::optional<int> handCraft() const;

    /// Finer terrain colours from now on (a fast machine).
    void setFinestDrape(int side) { finest_drape_ = side; }
    /// Drapes and objects that were finished since the last call.
    [[nodiscard]] std::optional<Drape> takeDrape();
    [[nodiscard]] std::optional<Mesh> takeObjects();
    [[nodiscard]] int drapeSide() const { return drape_side_; }
    [[nodiscard]] bool drapeSettled() const { return draped_version_ == light_version_ && drape_side_ >= finest_drape_; }

private:
    void takeLoaded();
    void takeShown();
    void takeExchanged();
    void sendHome();
    void letPickGo(int craft);
    void takeCrew();
    void watchHand();
    void runDrape();
    void dropDrape();  ///< what was draped belongs to another land
    [[nodiscard]] double longest_s() const;  ///< of the flights of all crafts
    void catchUp();
    bool shadowsReady();
    void sceneChanged();
    void link();
    std::string apply(const Scene& next, const std::string& key);

    SceneRequest request_, asked_;
    std::vector<std::string> open_problems_;
    int generation_ = 0, picked_version_ = 0, scene_version_ = 0;
    Scene scene_;
    std::vector<std::unique_ptr<Craft>> crafts_;
    SimClock clock_;
    std::optional<Picked> picked_;
    std::string failure_;
    std::vector<std::pair<std::string, std::string>> problems_;  // key with craft, text
    std::size_t turn_ = 0;
    bool behind_ = false;  ///< the crafts fly under an older sun: they catch up once a frame, however fast it is dragged
    bool following_ = false;
    std::chrono::steady_clock::time_point drape_begun_;
    struct Shadows;
    std::shared_ptr<Shadows> shadows_;  ///< of a sun that is dragged, being worked out

    struct Loaded;
    std::shared_ptr<Loaded> loading_;
    struct Exchange;
    std::shared_ptr<Exchange> exchange_;
    std::string exchange_problem_;
    bool sending_home_ = false;
    mutable std::optional<SunSettings> sun_settings_;  ///< of the sun that was asked for last
    mutable Sunlight sun_;
    mutable int sun_version_ = -1;
    mutable double sun_time_s_ = 0.0;
    mutable std::optional<WorldLight> light_;
    mutable int light_of_ = -1;         ///< version of the scene
    mutable double light_time_s_ = 0.0;
    struct DrapeJob;
    std::shared_ptr<DrapeJob> drape_job_;
    std::optional<Drape> drape_;
    std::optional<Mesh> objects_;
    int light_version_ = 0, draped_version_ = -1, drape_side_ = 0, finest_drape_ = 1024;
    Background loader_, draper_, exchanger_, shader_;  // last: their jobs end before anything they use
};

}  // namespace linefall
