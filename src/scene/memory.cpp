#include "scene/memory.h"

#include <fmt/format.h>

namespace linefall {

double imagesBytes(const Scene& scene, bool difference) {
    double bytes = 0.0;
    Problems problems;
    for (std::size_t i = 0; i < scene.instruments.size(); ++i) bytes += imageBytes(scene, *makeInstrument(scene, i, problems));
    return difference ? 2.0 * bytes : bytes;
}

void checkMemory(double bytes, double held_bytes, double memory_bytes) {
    if (bytes + held_bytes <= memory_bytes) return;
    constexpr double gib = 1 << 30;
    throw InputError(Problem{{"", 0, 0},
                             "",
                             fmt::format("images that take {:.1f} GiB{}", bytes / gib, held_bytes > 0.0 ? fmt::format(" beside {:.1f} GiB of those that fly", held_bytes / gib) : ""),
                             fmt::format("at most the memory of this machine, {:.1f} GiB in all: fewer samples, bands, lines (flight.length) or contributions", memory_bytes / gib),
                             ""});
}

}  // namespace linefall
