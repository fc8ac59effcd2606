#include "command/forming.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>

namespace linefall {

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
