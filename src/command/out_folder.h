#pragma once
// What commands that form images share: where they write, whether there is memory for it, and how far they are.

#include <atomic>
#include <filesystem>
#include <string>
#include <vector>

#include "scene/scene.h"

namespace linefall {

/// The folder to write to, made when it is missing; what was made of it is taken away again when nothing was put into it.
/// Throws InputError.
class OutFolder {
public:
    explicit OutFolder(const std::string& folder);
    ~OutFolder();
    OutFolder(const OutFolder&) = delete;
    OutFolder& operator=(const OutFolder&) = delete;

private:
    std::vector<std::filesystem::path> made_;  // innermost first
};

/// A picture of progress on a terminal; nothing elsewhere.
class ProgressBar {
public:
    ProgressBar(std::string name, int lines);
    void show(int done);
    void end() const;

private:
    std::string name_;
    int lines_;
    bool shown_;
    std::atomic<int> last_{-1};
};

/// More memory than the machine has would end in the operating system's own, wordless, way. Throws InputError.
void checkMemory(const Scene& scene);

}  // namespace linefall
