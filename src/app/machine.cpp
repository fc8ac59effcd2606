#include "app/machine.h"

#include <SDL_cpuinfo.h>

#if defined(__linux__)
#include <sys/resource.h>
#include <unistd.h>
#endif

#include "scene/memory.h"

namespace linefall {

void checkMachine(const Scene& scene, bool twice, double held_bytes) {
    checkMemory(imagesBytes(scene, twice), held_bytes, static_cast<double>(SDL_GetSystemRAM()) * (1 << 20));
}

void standBack() {
    // Measured on two cores while the sun is dragged: 27 instead of 22 frames a second, with the shorter forming in window.cpp.
#if defined(__linux__)
    (void)::setpriority(PRIO_PROCESS, static_cast<id_t>(::gettid()), 10);
#endif
}

}  // namespace linefall
