#pragma once
// The real window on the present screen, driven with real input and judged by what it reports of itself (src/app/report.h).
// ./check gives it a virtual screen; by hand: xvfb-run -a -s "-screen 0 1280x800x24" ctest -R app/
// Use: if (!canDrive()) return; DrivenWindow window({"--place", "slopes"}); window.click("tool Hall"); window.until(...).

#include <sys/types.h>

#include <array>
#include <catch2/catch.hpp>
#include <chrono>
#include <csignal>
#include <functional>
#include <nlohmann/json.hpp>
#include <string>
#include <thread>
#include <utility>
#include <vector>

namespace linefall::driven {

using Json = nlohmann::json;

inline void sleepFor(int milliseconds) { std::this_thread::sleep_for(std::chrono::milliseconds(milliseconds)); }

/// A screen and xdotool are there; otherwise a warning says that nothing was driven.
[[nodiscard]] bool canDrive();

/// True when a report line has a value, not null, for a key.
[[nodiscard]] bool has(const Json& line, const char* key);

/// Where the windows of this test keep their last state. Otherwise each has an empty folder of its own, so that none offers to
/// take up what another left.
void keepStatesIn(const std::string& folder);

/// The program with its report; ended when this goes.
class DrivenWindow {
public:
    explicit DrivenWindow(const std::vector<std::string>& more, int width = 1280, int height = 720);
    ~DrivenWindow();
    DrivenWindow(const DrivenWindow&) = delete;
    DrivenWindow& operator=(const DrivenWindow&) = delete;

    [[nodiscard]] pid_t process() const { return process_; }
    void kill(int signal);
    /// As a session manager asks: the window takes it like a click on its close button.
    void askToEnd() const;
    /// The exit code, or -1 when it does not end within half a minute.
    int exitCode();

    /// All report lines so far.
    [[nodiscard]] const std::vector<Json>& lines() const;
    /// The last line that tells the state (not "controls", not "start").
    [[nodiscard]] Json last() const;
    /// Waits for a report line that fulfils a wish; at most a minute and a half, for machines that do other things too.
    bool until(const std::function<bool(const Json&)>& wish) const;
    /// From now on only later lines count.
    void forget();
    /// Waits until the scene is loaded and the first lines have fallen.
    bool untilFlying() const;

    /// xdotool's words: "key t", "type abc". Only later report lines count from then on.
    void act(const std::string& what);
    /// xdotool's words for a place in the window, wherever the window stands.
    [[nodiscard]] static std::string to(int x, int y);
    /// x, y, width, height of a control as reported last; waits for it to appear.
    [[nodiscard]] std::array<int, 4> placeOf(const std::string& control) const;
    /// Clicks a control, by default in its middle (shares of its width and height).
    void click(const std::string& control, double across = 0.5, double along = 0.5);
    /// Presses on one place of a control, moves in steps to another, lets go.
    void drag(const std::string& control, std::pair<double, double> from, std::pair<double, double> until);

private:
    [[nodiscard]] std::pair<int, int> pointOn(const std::string& control, double across, double along) const;

    std::string report_, own_state_;
    pid_t process_ = -1;
    double since_ = -1.0;
    mutable std::vector<Json> lines_;
    mutable std::size_t read_ = 0;  ///< bytes of the report that stand in lines_
};

}  // namespace linefall::driven
