// What would not fit into memory is refused in words before any of it is taken.

#include "scene/memory.h"

#include <catch2/catch.hpp>

#include "support/scenes.h"

using namespace linefall;

namespace {

std::string complaintOf(double bytes, double held_bytes, double memory_bytes) {
    try {
        checkMemory(bytes, held_bytes, memory_bytes);
    } catch (const InputError& error) {
        return error.what();
    }
    return "";
}

}  // namespace

TEST_CASE("images are refused when they do not fit into memory, beside those that are held, with numbers and a way out") {
    constexpr double gib = 1 << 30;
    CHECK(complaintOf(3.0 * gib, 0.0, 4.0 * gib) == "");
    CHECK(complaintOf(3.0 * gib, 1.0 * gib, 4.0 * gib) == "");
    CHECK(complaintOf(5.0 * gib, 0.0, 4.0 * gib) ==
          ": read images that take 5.0 GiB, expected at most the memory of this machine, 4.0 GiB in all: fewer samples, bands, lines (flight.length) or contributions");
    CHECK(complaintOf(3.0 * gib, 2.0 * gib, 4.0 * gib).find("images that take 3.0 GiB beside 2.0 GiB of those that fly") != std::string::npos);
}

TEST_CASE("the images of all instruments are counted, and twice for a difference") {
    Scene scene = test::sceneOf("slopes", "whisk-broom", {}, false);
    const double one = imagesBytes(scene);
    CHECK(one > 1e5);
    scene.instruments.push_back(scene.instruments[0]);
    CHECK(imagesBytes(scene) == Approx(2.0 * one));
    CHECK(imagesBytes(scene, true) == Approx(4.0 * one));
}
