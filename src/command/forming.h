#pragma once
// What commands that form images share: whether there is memory for it, and how far they are.

#include <atomic>
#include <string>

#include "scene/scene.h"

namespace linefall {

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
