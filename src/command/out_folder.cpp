#include "command/out_folder.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>

namespace linefall {

namespace fs = std::filesystem;

ProgressBar::ProgressBar(std::string name, int lines) : name_(std::move(name)), lines_(lines), shown_(isatty(STDERR_FILENO) != 0) {}

void ProgressBar::show(int done) {
    const int percent = static_cast<int>(100LL * done / std::max(1, lines_));
    int before = last_.load();
    if (!shown_ || percent <= before || !last_.compare_exchange_strong(before, percent)) return;
    const int full = percent / 4;
    fmt::print(stderr, "\r{:<16} [{}{}] {:3} %  {} of {} lines", name_, std::string(static_cast<std::size_t>(full), '='),
               std::string(static_cast<std::size_t>(25 - full), ' '), percent, done, lines_);
}

void ProgressBar::end() const {
    if (shown_) fmt::print(stderr, "\n");
}

OutFolder::OutFolder(const std::string& folder) {
    const auto refuse = [&](const std::string& read) {
        throw InputError(Problem{{folder, 0, 0}, "--out", read, "a folder that can be made and written to", ""});
    };
    if (folder.empty()) refuse("''");
    std::error_code error;
    fs::path path = fs::absolute(folder, error).lexically_normal();
    if (!path.has_filename()) path = path.parent_path();
    std::vector<fs::path> missing;
    for (; !fs::exists(path, error) && path != path.parent_path(); path = path.parent_path()) missing.push_back(path);
    fs::create_directories(folder, error);
    if (error) refuse(error.message());
    made_ = missing;
    if (!fs::is_directory(folder, error)) refuse("a file");
    if (access(folder.c_str(), W_OK | X_OK) != 0) refuse(std::strerror(errno));
}

OutFolder::~OutFolder() {
    std::error_code error;
    for (const fs::path& path : made_) fs::remove(path, error);  // only while it is empty
}

void checkMemory(const Scene& scene) {
    double bytes = 0.0;
    Problems problems;
    for (std::size_t i = 0; i < scene.instruments.size(); ++i) bytes += imageBytes(scene, *makeInstrument(scene, i, problems));
    const double memory = static_cast<double>(sysconf(_SC_PHYS_PAGES)) * static_cast<double>(sysconf(_SC_PAGE_SIZE));
    if (bytes > memory) {
        throw InputError(Problem{{"", 0, 0},
                                 "",
                                 fmt::format("images that take {:.1f} GiB", bytes / (1 << 30)),
                                 fmt::format("at most the memory of this machine, {:.1f} GiB", memory / (1 << 30)),
                                 ""});
    }
}

}  // namespace linefall
