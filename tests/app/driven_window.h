#pragma once
// The real window on the present screen, driven with real input and judged by what it reports of itself (src/app/report.h).
// ./check gives it a virtual screen; by hand: xvfb-run -a -s "-screen 0 1280x800x24" ctest -R app/
// Use: if (!canDrive()) return; DrivenWindow window({"--place", "slopes"}); window.click("tool Hall"); window.until(...).

#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <catch2/catch.hpp>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <nlohmann/json.hpp>
#include <string>
#include <thread>
#include <utility>
#include <vector>

namespace linefall::driven {

using Json = nlohmann::json;

inline void sleepFor(int milliseconds) { std::this_thread::sleep_for(std::chrono::milliseconds(milliseconds)); }

inline bool canDrive() {
    if (std::getenv("DISPLAY") == nullptr || std::system("command -v xdotool >/dev/null 2>&1") != 0) {
        WARN("no screen, or no xdotool: the window was not driven");
        return false;
    }
    return true;
}

/// True when a report line has a value, not null, for a key.
inline bool has(const Json& line, const char* key) { return line.contains(key) && !line[key].is_null(); }

/// The program with its report; ended when this goes.
class DrivenWindow {
public:
    explicit DrivenWindow(const std::vector<std::string>& more, int width = 1280, int height = 720) {
        static int count = 0;
        report_ = (std::filesystem::temp_directory_path() / ("linefall-window-" + std::to_string(::getpid()) + "-" + std::to_string(count++) + ".jsonl")).string();
        std::filesystem::remove(report_);
        std::vector<std::string> words{LINEFALL_PROGRAM, "--report", report_, "--width", std::to_string(width), "--height", std::to_string(height)};
        words.insert(words.end(), more.begin(), more.end());
        process_ = ::fork();
        if (process_ == 0) {
            std::vector<char*> arguments;
            for (std::string& word : words) arguments.push_back(word.data());
            arguments.push_back(nullptr);
            ::execv(arguments[0], arguments.data());
            ::_exit(127);
        }
    }
    ~DrivenWindow() {
        kill(SIGKILL);
        std::filesystem::remove(report_);
    }
    DrivenWindow(const DrivenWindow&) = delete;
    DrivenWindow& operator=(const DrivenWindow&) = delete;

    [[nodiscard]] pid_t process() const { return process_; }
    void kill(int signal) {
        if (process_ <= 0) return;
        ::kill(process_, signal);
        if (signal != SIGKILL) return;
        ::waitpid(process_, nullptr, 0);
        process_ = -1;
    }
    /// As a session manager asks: the window takes it like a click on its close button.
    void askToEnd() const { ::kill(process_, SIGTERM); }
    /// The exit code, or -1 when it does not end within half a minute.
    int exitCode() {
        for (int i = 0; i < 300; ++i) {
            int state = 0;
            if (::waitpid(process_, &state, WNOHANG) == process_) {
                process_ = -1;
                return WIFEXITED(state) ? WEXITSTATUS(state) : -2;
            }
            sleepFor(100);
        }
        return -1;
    }

    /// All report lines so far.
    [[nodiscard]] std::vector<Json> lines() const {
        std::vector<Json> out;
        std::ifstream file(report_);
        for (std::string text; std::getline(file, text);) {
            Json line = Json::parse(text, nullptr, false);
            if (!line.is_discarded()) out.push_back(std::move(line));
        }
        return out;
    }
    /// The last line that tells the state (not "controls", not "start").
    [[nodiscard]] Json last() const {
        Json found;
        for (Json& line : lines()) {
            if (line["event"] != "controls" && line["event"] != "words" && line["event"] != "start") found = std::move(line);
        }
        return found;
    }
    /// Waits for a report line that fulfils a wish; at most a minute and a half, for machines that do other things too.
    bool until(const std::function<bool(const Json&)>& wish) const {
        for (int i = 0; i < 900; ++i) {
            for (const Json& line : lines()) {
                if (line["at"] > since_ && wish(line)) return true;
            }
            sleepFor(100);
        }
        return false;
    }
    /// From now on only later lines count.
    void forget() {
        const std::vector<Json> all = lines();
        since_ = all.empty() ? 0.0 : all.back()["at"].get<double>();
    }
    /// Waits until the scene is loaded and the first lines have fallen.
    bool untilFlying() const {
        return until([](const Json& line) { return line["event"] == "first-line"; });
    }

    /// xdotool's words: "key t", "type abc". Only later report lines count from then on.
    void act(const std::string& what) {
        forget();
        REQUIRE(std::system(("xdotool " + what).c_str()) == 0);
    }
    /// xdotool's words for a place in the window, wherever the window stands.
    [[nodiscard]] static std::string to(int x, int y) {
        return "mousemove --window $(xdotool search --name '^Linefall$' | tail -1) " + std::to_string(x) + " " + std::to_string(y);
    }
    /// x, y, width, height of a control as reported last; waits for it to appear.
    [[nodiscard]] std::array<int, 4> placeOf(const std::string& control) const {
        for (int i = 0; i < 200; ++i) {
            Json places;
            for (Json& line : lines()) {
                if (line["event"] == "controls") places = std::move(line["controls"]);
            }
            if (places.contains(control)) return places[control].get<std::array<int, 4>>();
            sleepFor(100);
        }
        FAIL("no control named '" << control << "' appeared");
        return {};
    }
    /// Clicks a control, by default in its middle (shares of its width and height).
    void click(const std::string& control, double across = 0.5, double along = 0.5) {
        const auto [x, y] = pointOn(control, across, along);
        act(to(x, y) + " sleep 0.15 click 1");
    }
    /// Presses on one place of a control, moves in steps to another, lets go.
    void drag(const std::string& control, std::pair<double, double> from, std::pair<double, double> until) {
        const auto [x0, y0] = pointOn(control, from.first, from.second);
        const auto [x1, y1] = pointOn(control, until.first, until.second);
        std::string what = to(x0, y0) + " sleep 0.15 mousedown 1";
        for (int i = 1; i <= 5; ++i) what += " sleep 0.2 " + to(x0 + (x1 - x0) * i / 5, y0 + (y1 - y0) * i / 5);
        act(what + " sleep 0.15 mouseup 1");
    }

private:
    [[nodiscard]] std::pair<int, int> pointOn(const std::string& control, double across, double along) const {
        const std::array<int, 4> r = placeOf(control);
        return {r[0] + static_cast<int>(across * r[2]), r[1] + static_cast<int>(along * r[3])};
    }
    std::string report_;
    pid_t process_ = -1;
    double since_ = -1.0;
};

}  // namespace linefall::driven
