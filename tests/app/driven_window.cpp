#define CATCH_CONFIG_EXTERNAL_INTERFACES
#include "app/driven_window.h"

#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace linefall::driven {

namespace fs = std::filesystem;

namespace {

std::string state_folder;

/// What one test set does not reach the next.
struct EachAfresh : Catch::TestEventListenerBase {
    using TestEventListenerBase::TestEventListenerBase;
    void testCaseStarting(const Catch::TestCaseInfo&) override { state_folder.clear(); }
};

CATCH_REGISTER_LISTENER(EachAfresh)

}  // namespace

bool canDrive() {
    if (std::getenv("DISPLAY") == nullptr || std::system("command -v xdotool >/dev/null 2>&1") != 0) {
        WARN("no screen, or no xdotool: the window was not driven");
        return false;
    }
    return true;
}

bool has(const Json& line, const char* key) { return line.contains(key) && !line[key].is_null(); }

void keepStatesIn(const std::string& folder) { state_folder = folder; }

DrivenWindow::DrivenWindow(const std::vector<std::string>& more, int width, int height) {
    static int count = 0;
    const std::string own = (fs::temp_directory_path() / ("linefall-window-" + std::to_string(::getpid()) + "-" + std::to_string(count++))).string();
    report_ = own + ".jsonl";
    fs::remove(report_);
    if (state_folder.empty()) {
        own_state_ = own + "-state";
        fs::remove_all(own_state_);
    }
    std::vector<std::string> words{LINEFALL_PROGRAM, "--report", report_, "--width", std::to_string(width), "--height", std::to_string(height)};
    words.insert(words.end(), more.begin(), more.end());
    process_ = ::fork();
    if (process_ == 0) {
        ::setenv("XDG_STATE_HOME", (state_folder.empty() ? own_state_ : state_folder).c_str(), 1);
        std::vector<char*> arguments;
        for (std::string& word : words) arguments.push_back(word.data());
        arguments.push_back(nullptr);
        ::execv(arguments[0], arguments.data());
        ::_exit(127);
    }
}

DrivenWindow::~DrivenWindow() {
    kill(SIGKILL);
    fs::remove(report_);
    if (!own_state_.empty()) fs::remove_all(own_state_);
}

void DrivenWindow::kill(int signal) {
    if (process_ <= 0) return;
    ::kill(process_, signal);
    if (signal != SIGKILL) return;
    ::waitpid(process_, nullptr, 0);
    process_ = -1;
}

void DrivenWindow::askToEnd() const { ::kill(process_, SIGTERM); }

int DrivenWindow::exitCode() {
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

const std::vector<Json>& DrivenWindow::lines() const {
    std::ifstream file(report_, std::ios::binary);
    file.seekg(static_cast<std::streamoff>(read_));
    const std::string more{std::istreambuf_iterator<char>(file), {}};
    std::size_t begin = 0;
    for (std::size_t end = more.find('\n'); end != std::string::npos; begin = end + 1, end = more.find('\n', begin)) {
        Json line = Json::parse(more.begin() + static_cast<std::ptrdiff_t>(begin), more.begin() + static_cast<std::ptrdiff_t>(end), nullptr, false);
        if (!line.is_discarded()) lines_.push_back(std::move(line));
    }
    read_ += begin;  // a line that is still being written is read when it is whole
    return lines_;
}

Json DrivenWindow::last() const {
    const std::vector<Json>& all = lines();
    for (auto line = all.rbegin(); line != all.rend(); ++line) {
        if ((*line)["event"] != "controls" && (*line)["event"] != "words" && (*line)["event"] != "start") return *line;
    }
    return {};
}

bool DrivenWindow::until(const std::function<bool(const Json&)>& wish) const {
    std::size_t asked = 0;
    for (int i = 0; i < 900; ++i) {
        const std::vector<Json>& all = lines();
        for (; asked < all.size(); ++asked) {
            if (all[asked]["at"] > since_ && wish(all[asked])) return true;
        }
        sleepFor(100);
    }
    return false;
}

void DrivenWindow::forget() {
    const std::vector<Json>& all = lines();
    since_ = all.empty() ? 0.0 : all.back()["at"].get<double>();
}

bool DrivenWindow::untilFlying() const {
    return until([](const Json& line) { return line["event"] == "first-line"; });
}

void DrivenWindow::act(const std::string& what) {
    forget();
    REQUIRE(std::system(("xdotool " + what).c_str()) == 0);
}

std::string DrivenWindow::to(int x, int y) {
    return "mousemove --window $(xdotool search --name '^Linefall$' | tail -1) " + std::to_string(x) + " " + std::to_string(y);
}

std::array<int, 4> DrivenWindow::placeOf(const std::string& control) const {
    for (int i = 0; i < 200; ++i) {
        const std::vector<Json>& all = lines();
        for (auto line = all.rbegin(); line != all.rend(); ++line) {
            if ((*line)["event"] != "controls") continue;
            const Json& places = (*line)["controls"];
            if (places.contains(control)) return places[control].get<std::array<int, 4>>();
            break;
        }
        sleepFor(100);
    }
    FAIL("no control named '" << control << "' appeared");
    return {};
}

void DrivenWindow::click(const std::string& control, double across, double along) {
    const auto [x, y] = pointOn(control, across, along);
    act(to(x, y) + " sleep 0.15 click 1");
}

void DrivenWindow::drag(const std::string& control, std::pair<double, double> from, std::pair<double, double> until) {
    const auto [x0, y0] = pointOn(control, from.first, from.second);
    const auto [x1, y1] = pointOn(control, until.first, until.second);
    std::string what = to(x0, y0) + " sleep 0.15 mousedown 1";
    for (int i = 1; i <= 5; ++i) what += " sleep 0.2 " + to(x0 + (x1 - x0) * i / 5, y0 + (y1 - y0) * i / 5);
    act(what + " sleep 0.15 mouseup 1");
}

std::pair<int, int> DrivenWindow::pointOn(const std::string& control, double across, double along) const {
    const std::array<int, 4> r = placeOf(control);
    return {r[0] + static_cast<int>(across * r[2]), r[1] + static_cast<int>(along * r[3])};
}

}  // namespace linefall::driven
