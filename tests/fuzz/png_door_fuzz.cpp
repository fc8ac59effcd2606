// Any bytes at the PNG door: a picture of the promised size, or an InputError.

#include <sys/mman.h>
#include <unistd.h>

#include <cstdint>
#include <cstdlib>
#include <string>

#include "scene/png_file.h"

using namespace linefall;

namespace {

constexpr int most_side = 512;

/// A file in memory that is filled anew for every input.
int memoryFile() {
    static const int file = memfd_create("fuzz.png", 0);
    return file;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const int file = memoryFile();
    if (ftruncate(file, 0) != 0 || pwrite(file, data, size, 0) != static_cast<ssize_t>(size)) std::abort();
    try {
        const GreyPicture picture = readGreyPng("/proc/self/fd/" + std::to_string(file), 2, most_side);
        const int columns = picture.values.columns();
        const int rows = picture.values.rows();
        if (columns < 2 || rows < 2 || columns > most_side || rows > most_side) std::abort();
        for (const std::uint16_t value : picture.values.values()) {
            if (picture.bits == 8 && value > 255) std::abort();
        }
    } catch (const InputError& e) {
        if (e.problems().empty() || std::string(e.what()).empty()) std::abort();
    }
    return 0;
}
