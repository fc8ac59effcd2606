#include "command/forming.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>

#include "scene/figure_settings.h"
#include "scene/memory.h"
#include "scene/show_settings.h"

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
    const bool difference = !figureKeys().read(scene.settings).difference.empty() || scene.showSettings().as == ShownAs::difference;
    linefall::checkMemory(imagesBytes(scene, difference), 0.0, static_cast<double>(sysconf(_SC_PHYS_PAGES)) * static_cast<double>(sysconf(_SC_PAGE_SIZE)));
}

}  // namespace linefall
