// Drives the real window on the present screen with real input, and reads what it reports of itself.
// ./check gives it a virtual screen; without a screen or xdotool it says so and tests nothing.

#include <sys/wait.h>
#include <unistd.h>

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
#include <vector>

namespace {

using Json = nlohmann::json;

void sleepFor(int milliseconds) { std::this_thread::sleep_for(std::chrono::milliseconds(milliseconds)); }

bool canDrive() {
    if (std::getenv("DISPLAY") == nullptr || std::system("command -v xdotool >/dev/null 2>&1") != 0) {
        WARN("no screen, or no xdotool: the window was not driven");
        return false;
    }
    return true;
}

/// The program with its report; ended when this goes.
class Program {
public:
    explicit Program(const std::vector<std::string>& more) {
        report_ = (std::filesystem::temp_directory_path() / ("linefall-window-" + std::to_string(::getpid()) + ".jsonl")).string();
        std::filesystem::remove(report_);
        std::vector<std::string> words{LINEFALL_PROGRAM, "--report", report_, "--width", "1280", "--height", "720"};
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
    ~Program() {
        if (process_ > 0) {
            ::kill(process_, SIGKILL);
            ::waitpid(process_, nullptr, 0);
        }
        std::filesystem::remove(report_);
    }
    Program(const Program&) = delete;
    Program& operator=(const Program&) = delete;

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
    [[nodiscard]] std::vector<Json> lines() const {
        std::vector<Json> out;
        std::ifstream file(report_);
        for (std::string text; std::getline(file, text);) {
            Json line = Json::parse(text, nullptr, false);
            if (!line.is_discarded()) out.push_back(std::move(line));
        }
        return out;
    }
    [[nodiscard]] Json last() const {
        const std::vector<Json> all = lines();
        return all.empty() ? Json() : all.back();
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
    void forget() { since_ = last().is_null() ? 0.0 : last()["at"].get<double>(); }

private:
    std::string report_;
    pid_t process_ = -1;
    double since_ = -1.0;
};

void act(Program& program, const std::string& what) {
    program.forget();
    REQUIRE(std::system(("xdotool " + what).c_str()) == 0);
}

/// xdotool's words for a place in the window, wherever the window stands.
std::string to(int x, int y) {
    return "mousemove --window $(xdotool search --name '^Linefall$' | tail -1) " + std::to_string(x) + " " + std::to_string(y);
}

bool has(const Json& line, const char* key) { return line.contains(key) && !line[key].is_null(); }

}  // namespace

TEST_CASE("A person flies, holds, picks, opens a stop, drags the sun, types a height and leaves", "[window]") {
    if (!canDrive()) return;
    Program program({"--place", "slopes"});
    REQUIRE(program.until([](const Json& line) { return line["event"] == "first-frame"; }));
    REQUIRE(program.until([](const Json& line) { return line["event"] == "first-line"; }));
    const std::vector<Json> begun = program.lines();
    CHECK(begun.front()["event"] == "start");

    // Lines fall by themselves.
    REQUIRE(program.until([](const Json& line) { return has(line, "lines") && line["lines"][0] > 20 && line["lines"][1] > 20; }));
    act(program, to(400, 300) + " key space");
    REQUIRE(program.until([](const Json& line) { return line.value("paused", false); }));
    sleepFor(1200);
    const Json held = program.last();
    sleepFor(1500);
    CHECK(program.last()["lines"] == held["lines"]);
    CHECK(program.last()["time_s"] == held["time_s"]);

    act(program, "key t");
    CHECK(program.until([](const Json& line) { return line.value("theme", "") == "night"; }));
    act(program, "key End");
    REQUIRE(program.until([](const Json& line) { return has(line, "time_s") && line["time_s"] == line["duration_s"] && line["settled"][1] == true; }));
    const Json full = program.last();

    // A pixel of picture A, and the same ground in B.
    act(program, to(890, 120) + " sleep 0.2 click 1");
    REQUIRE(program.until([](const Json& line) { return has(line, "picked") && line["picked"].contains("counts"); }));
    const Json picked = program.last();
    CHECK(picked["picked"]["craft"] == "A");
    CHECK(has(picked, "linked"));
    act(program, "key Down");
    CHECK(program.until([&](const Json& line) { return has(line, "picked") && line["picked"]["line"] == picked["picked"]["line"].get<int>() + 1; }));
    act(program, "key 3");
    CHECK(program.until([](const Json& line) { return line.value("stop", 0) == 3; }));
    act(program, "key Escape");
    CHECK(program.until([](const Json& line) { return line.contains("stop") && line["stop"] == 0; }));

    // The sun dragged over its dome: the light moves with the pointer, and all pictures are lit again.
    act(program, to(850, 500) + " sleep 0.2 mousedown 1 sleep 0.2 " + to(840, 510) + " sleep 0.2 " + to(825, 520) + " sleep 0.2 mouseup 1");
    CHECK(program.until([&](const Json& line) { return has(line, "sun") && line["sun"] != full["sun"]; }));
    CHECK(program.until([](const Json& line) { return has(line, "settled") && line["settled"][0] == true && line["settled"][1] == true; }));
    CHECK(program.last()["picked"]["counts"] != picked["picked"]["counts"]);

    // A height typed with its unit, by keyboard alone: Tab until the field has the focus.
    for (int i = 0; i < 40 && program.last().value("focus", "") != "flight.height"; ++i) {
        act(program, "key Tab");
        program.until([](const Json& line) { return line.contains("focus"); });
    }
    REQUIRE(program.last()["focus"] == "flight.height");
    act(program, "key Return sleep 0.3 key ctrl+a type '1500 m'");
    sleepFor(500);
    act(program, "key Return");
    CHECK(program.until([](const Json& line) { return line.value("height_m", 0.0) == 1500.0; }));

    act(program, "key Escape");  // closes what is open and never quits
    sleepFor(500);
    program.askToEnd();
    CHECK(program.exitCode() == 0);
    CHECK(program.last()["event"] == "end");
}

TEST_CASE("Without a screen the window says so and ends with 1", "[window]") {
    const std::string command = std::string("env -u DISPLAY -u WAYLAND_DISPLAY ") + LINEFALL_PROGRAM + " 2>&1 | grep -q 'no display was found'";
    CHECK(std::system(command.c_str()) == 0);
    const int state = std::system((std::string("env -u DISPLAY -u WAYLAND_DISPLAY ") + LINEFALL_PROGRAM + " >/dev/null 2>&1").c_str());
    CHECK(WEXITSTATUS(state) == 1);
}
