// Ctrl-C, folders that cannot be written to, a full disk: a clear end, the right exit code, nothing half done.

#include <pty.h>
#include <signal.h>
#include <sys/mount.h>

#include <catch2/catch.hpp>
#include <chrono>
#include <thread>

#include "command/program.h"

using namespace linefall;
using namespace linefall::test;
namespace fs = std::filesystem;

namespace {

/// A flight that takes minutes.
Arguments longForm(const std::string& out) {
    return {"form", "--place", "slopes", "--instrument", "push-broom", "--set", "quality.contributions=1024", "--out", out};
}

void waitThenSend(pid_t child, int signal) {
    std::this_thread::sleep_for(std::chrono::milliseconds(700));
    kill(child, signal);
}

}  // namespace

TEST_CASE("Ctrl-C and SIGTERM while forming: exit 130, no file, no folder, at once") {
    for (const int signal : {SIGINT, SIGTERM}) {
        const std::string out = fresh("interrupted");
        const auto begin = std::chrono::steady_clock::now();
        const Said said = run(longForm(out + "/deep"), [&](pid_t child) { waitThenSend(child, signal); });
        CHECK(said.code == 130);
        CHECK(said.err == "interrupted: nothing was written\n");
        CHECK(said.out.empty());
        CHECK_FALSE(fs::exists(out));
        CHECK(std::chrono::steady_clock::now() - begin < std::chrono::seconds(20));
    }
}

TEST_CASE("an interrupted run leaves earlier results as they were") {
    const std::string out = fresh("earlier");
    REQUIRE(run(smallForm(out)).code == 0);
    const std::string before = contentOf(out + "/push-broom.png");
    const std::vector<std::string> names = filesIn(out);
    CHECK(run(longForm(out), [](pid_t child) { waitThenSend(child, SIGINT); }).code == 130);
    CHECK(filesIn(out) == names);
    CHECK(contentOf(out + "/push-broom.png") == before);
}

TEST_CASE("a folder that cannot be made or written to is told before anything is formed") {
    const std::string file = folder() + "/a-file";
    std::ofstream(file) << "x";
    for (const std::string& out : {file, file + "/below", std::string("/proc/linefall"), std::string()}) {
        const auto begin = std::chrono::steady_clock::now();
        const Said said = run(longForm(out));
        CAPTURE(out, said.err);
        CHECK(said.code == 2);
        CHECK(said.err.find("--out: read ") != std::string::npos);
        CHECK(said.err.find("expected a folder that can be made and written to") != std::string::npos);
        CHECK(std::chrono::steady_clock::now() - begin < std::chrono::seconds(10));
    }
    CHECK(contentOf(file) == "x");
    if (geteuid() != 0) {
        const std::string locked = fresh("locked");
        fs::create_directories(locked);
        fs::permissions(locked, fs::perms::owner_read | fs::perms::owner_exec);
        CHECK(run(longForm(locked)).code == 2);
    }
}

TEST_CASE("a disk that fills leaves nothing of the run, and what was there before") {
    const std::string disk = fresh("disk");
    fs::create_directories(disk);
    if (mount("none", disk.c_str(), "tmpfs", 0, "size=64k") != 0) {
        WARN("no tmpfs can be mounted here: a full disk is tested by /dev/full alone (png_file_test)");
        return;
    }
    std::ofstream(disk + "/push-broom.png") << "older";
    const Said said = run(smallForm(disk, {"--set", "flight.length=2 km"}));
    const std::vector<std::string> left = filesIn(disk);
    const std::string older = contentOf(disk + "/push-broom.png");
    umount(disk.c_str());
    CHECK(said.code == 2);
    CHECK(said.err.find("No space left on device, expected room to write the whole file") != std::string::npos);
    CHECK(left == std::vector<std::string>{"push-broom.png"});
    CHECK(older == "older");
}

TEST_CASE("a progress bar appears on a terminal") {
    const std::string out = fresh("terminal");
    int terminal = -1;
    const pid_t child = forkpty(&terminal, nullptr, nullptr, nullptr);
    if (child < 0) {
        WARN("this machine has no pseudo terminals (a bare root without /dev/pts): the bar was not looked at");
        return;
    }
    if (child == 0) {
        const Arguments arguments = smallForm(out);
        std::vector<char*> words{const_cast<char*>(LINEFALL_PROGRAM)};
        for (const std::string& a : arguments) words.push_back(const_cast<char*>(a.c_str()));
        words.push_back(nullptr);
        execv(LINEFALL_PROGRAM, words.data());
        _exit(98);
    }
    std::string said;
    std::array<char, 4096> bytes{};
    for (ssize_t n; (n = read(terminal, bytes.data(), bytes.size())) > 0;) said.append(bytes.data(), static_cast<std::size_t>(n));
    int status = 0;
    waitpid(child, &status, 0);
    close(terminal);
    CHECK(WIFEXITED(status));
    CHECK(WEXITSTATUS(status) == 0);
    CHECK(said.find("\rwhisk-broom") != std::string::npos);
    CHECK(said.find("100 %") != std::string::npos);
    CHECK(said.find("=========================]") != std::string::npos);
}
