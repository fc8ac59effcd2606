// Figures made beside the window, without a window.

#include "app/figure_maker.h"

#include <catch2/catch.hpp>
#include <chrono>
#include <filesystem>
#include <thread>

#include "support/scenes.h"

using namespace linefall;

TEST_CASE("Figures that would not fit into memory beside the pictures that fly are refused in words, and leave no folder") {
    const std::string folder = (std::filesystem::temp_directory_path() / "linefall-figures-too-large").string();
    std::filesystem::remove_all(folder);
    FigureMaker maker;
    maker.start(test::sceneOf("slopes", "push-broom", {}), folder, 1e18);
    for (int i = 0; i < 6000 && maker.working(); ++i) {
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
        maker.turn();
    }
    REQUIRE_FALSE(maker.working());
    REQUIRE(maker.problems().size() == 1);
    CAPTURE(maker.problems()[0]);
    CHECK(maker.problems()[0].find("of those that fly, expected at most the memory of this machine") != std::string::npos);
    CHECK(maker.files().empty());
    CHECK_FALSE(std::filesystem::exists(folder));
}
