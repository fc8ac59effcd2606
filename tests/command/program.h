#pragma once
// Starts the finished program as a person or a script would, and takes what it says.

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>
#include <vector>

#include "scene/png_file.h"
#include "support/scenes.h"

namespace linefall::test {

using Arguments = std::vector<std::string>;

struct Said {
    int code = -1;  ///< exit code; a signal: 256 + its number
    std::string out, err;
    [[nodiscard]] nlohmann::json json() const { return nlohmann::json::parse(out); }
};

inline std::string contentOf(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

/// Runs the program to its end. `meanwhile` gets its process id once it runs. `folder`: its working directory. `typed`: what
/// stands on its standard input.
inline Said run(const Arguments& arguments, const std::function<void(pid_t)>& meanwhile = {}, const std::string& folder = "", const std::string& typed = "") {
    static int number = 0;
    const std::string stem = test::folder() + "/said-" + std::to_string(++number);
    std::vector<char*> words{const_cast<char*>(LINEFALL_PROGRAM)};
    for (const std::string& a : arguments) words.push_back(const_cast<char*>(a.c_str()));
    words.push_back(nullptr);
    std::ofstream(stem + ".in", std::ios::binary) << typed;
    const pid_t child = fork();
    if (child == 0) {
        const int out = open((stem + ".out").c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
        const int err = open((stem + ".err").c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
        const int in = open((stem + ".in").c_str(), O_RDONLY);
        if (out < 0 || err < 0 || in < 0 || (!folder.empty() && chdir(folder.c_str()) != 0)) _exit(99);
        dup2(in, 0);
        dup2(out, 1);
        dup2(err, 2);
        execv(LINEFALL_PROGRAM, words.data());
        _exit(98);
    }
    if (meanwhile) meanwhile(child);
    int status = 0;
    waitpid(child, &status, 0);
    return {WIFEXITED(status) ? WEXITSTATUS(status) : 256 + WTERMSIG(status), contentOf(stem + ".out"), contentOf(stem + ".err")};
}

/// A folder that does not exist yet.
inline std::string fresh(const std::string& name) {
    const std::string path = folder() + "/" + name;
    std::filesystem::remove_all(path);
    return path;
}

/// Names of the files in a folder, sorted; empty when there is none.
inline std::vector<std::string> filesIn(const std::string& path) {
    std::vector<std::string> names;
    std::error_code error;
    for (const auto& entry : std::filesystem::directory_iterator(path, error)) names.push_back(entry.path().filename().string());
    std::sort(names.begin(), names.end());
    return names;
}

/// A small flight that takes a fraction of a second: two instruments of few samples over the slopes.
inline Arguments smallForm(const std::string& out, const Arguments& more = {}) {
    Arguments all{"form",
                  "--place",
                  "slopes",
                  "--instrument",
                  "whisk-broom",
                  "--instrument",
                  "push-broom",
                  "--out",
                  out,
                  "--set",
                  "A.instrument.ifov=20 mrad",
                  "--set",
                  "B.instrument.samples=60",
                  "--set",
                  "flight.length=300 m"};
    all.insert(all.end(), more.begin(), more.end());
    return all;
}

inline Raster<std::uint16_t> counts(const std::string& path) {
    return readGreyPng(path, 1, 16384).values;
}

}  // namespace linefall::test
