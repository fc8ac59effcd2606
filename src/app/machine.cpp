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
    // Drawing in software takes all processors: on two, a thread of equal rank beside it costs frames while the sun is dragged.
#if defined(__linux__)
    (void)::setpriority(PRIO_PROCESS, static_cast<id_t>(::gettid()), 10);
#endif
}

}  // namespace linefall
