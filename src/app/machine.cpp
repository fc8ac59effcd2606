#include "app/machine.h"

#include <SDL_cpuinfo.h>

#include "scene/memory.h"

namespace linefall {

void checkMachine(const Scene& scene, bool twice, double held_bytes) {
    checkMemory(imagesBytes(scene, twice), held_bytes, static_cast<double>(SDL_GetSystemRAM()) * (1 << 20));
}

}  // namespace linefall
