#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <iostream>

#include "command/command.h"
#include "command/form_files.h"
#include "command/json_text.h"

namespace linefall {

namespace fs = std::filesystem;

namespace {

/// Puts what the command line says about the look of the pictures into the scene, so that its state says it too.
void giveStretch(const std::string& text, Scene& scene) {
    const auto give = [&](const char* key, Value value) { scene.settings.replace(*findSceneRow(key), std::move(value)); };
    if (text == "percent" || text == "none") {
        give("show.stretch", text);
        return;
    }
    const std::size_t dots = text.find("..");
    if (dots != std::string::npos) {
        const ParsedQuantity low = parseQuantity(text.substr(0, dots), Kind::count);
        const ParsedQuantity high = parseQuantity(text.substr(dots + 2), Kind::count);
        if (low.ok() && high.ok() && low.value < high.value) {
            give("show.stretch", std::string("value"));
            give("show.low_count", low.value);
            give("show.high_count", high.value);
            return;
        }
    }
    throw InputError(Problem{{"--stretch", 0, 0}, "", "'" + text + "'", "percent, none, or LOW..HIGH in counts", ""});
}

/// A picture of progress on a terminal; nothing elsewhere.
class ProgressBar {
public:
    ProgressBar(std::string name, int lines) : name_(std::move(name)), lines_(lines), shown_(isatty(STDERR_FILENO) != 0) {}
    void show(int done) {
        const int percent = static_cast<int>(100LL * done / std::max(1, lines_));
        int before = last_.load();
        if (!shown_ || percent <= before || !last_.compare_exchange_strong(before, percent)) return;
        const int full = percent / 4;
        fmt::print(stderr, "\r{:<16} [{}{}] {:3} %  {} of {} lines", name_, std::string(static_cast<std::size_t>(full), '='),
                   std::string(static_cast<std::size_t>(25 - full), ' '), percent, done, lines_);
    }
    void end() const {
        if (shown_) fmt::print(stderr, "\n");
    }

private:
    std::string name_;
    int lines_;
    bool shown_;
    std::atomic<int> last_{-1};
};

/// The folder to write to, made when it is missing; what was made of it is taken away again when nothing was put into it.
class OutFolder {
public:
    explicit OutFolder(const std::string& folder) {
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
    ~OutFolder() {
        std::error_code error;
        for (const fs::path& path : made_) fs::remove(path, error);  // only while it is empty
    }
    OutFolder(const OutFolder&) = delete;
    OutFolder& operator=(const OutFolder&) = delete;

private:
    std::vector<fs::path> made_;  // innermost first
};

/// More memory than the machine has would end in the operating system's own, wordless, way.
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

}  // namespace

int runForm(const FormOptions& options) {
    Scene told;  // what is wrong with the options is told before anything is formed
    if (!options.stretch.empty()) giveStretch(options.stretch, told);
    const OutFolder folder(options.out);
    Scene scene = loadScene(options.scene);
    if (!options.stretch.empty()) giveStretch(options.stretch, scene);
    if (!options.show.empty()) scene.settings.replace(*findSceneRow("show.bands"), options.show);
    checkMemory(scene);
    std::vector<std::unique_ptr<Formation>> formations;
    for (std::size_t i = 0; i < scene.instruments.size(); ++i) formations.push_back(std::make_unique<Formation>(scene, i));
    (void)chosenBands(formations, scene, !options.show.empty());

    const auto interruptedHere = [] {
        std::cerr << "interrupted: nothing was written\n";
        return 130;
    };
    // Every image is formed before anything is written: an interrupted run leaves nothing behind.
    const std::vector<std::string> stems = fileStems(scene);
    for (std::size_t i = 0; i < formations.size(); ++i) {
        ProgressBar bar(stems[i], formations[i]->lines());
        const bool whole = formations[i]->form(0, formations[i]->lines(), options.scene.threads, &interrupted(),
                                               [&bar](int done) { bar.show(done); });
        bar.end();
        if (!whole) return interruptedHere();
    }
    const std::optional<FormReport> report = writeImages(scene, formations, options.out, interrupted());
    if (!report) return interruptedHere();
    if (options.json) {
        std::cout << jsonText(report->json);
        return 0;
    }
    for (const std::string& file : report->files) std::cout << file << '\n';
    for (std::size_t i = 0; i < formations.size(); ++i) {
        if (const std::size_t sky = skySamples(formations[i]->image())) {
            std::cout << stems[i] << ": " << sky << " samples look past the ground into the sky\n";
        }
    }
    return 0;
}

}  // namespace linefall
