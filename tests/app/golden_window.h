#pragma once
// Small golden images of the real window: tests/golden/window/README.md.
// Use: checkGolden(window, "relief.turned", boxOf(window, "picture A"));

#include "app/driven_window.h"
#include "support/golden.h"

namespace linefall::driven {

/// A part of a control in shares of its width and height: left, top, right, bottom; they may reach beyond it.
using Part = std::array<double, 4>;
constexpr Part whole{0.0, 0.0, 1.0, 1.0};

/// The folder of a failed comparison's pictures.
inline std::string leftFolder() { return (std::filesystem::path(LINEFALL_PROGRAM).parent_path() / "golden" / "window").string(); }

/// What a control shows in the real window is what its golden shows, as soon as the page stands.
inline void checkGolden(const DrivenWindow& window, const std::string& name, const std::string& control, const Part& part = whole) {
    if (!grabWindow("Linefall")) {
        WARN("the tests were built without X11: " << name << " was not looked at");
        return;
    }
    const std::string unlike = unlikeGolden(name, [&]() -> std::optional<Shot> {
        const std::array<int, 4> r = window.placeOf(control);  // each time: the page may still be moving
        const std::optional<Shot> shot = grabWindow("Linefall");
        return shot ? std::optional<Shot>(shrunk(*shot, Crop{r[0], r[1], r[2], r[3]}.part(part[0], part[1], part[2], part[3]))) : std::nullopt;
    }, leftFolder());
    INFO(unlike);
    CHECK(unlike.empty());
}

/// A picture that was written shows what its golden shows.
inline void checkGoldenFile(const std::string& name, const std::string& path) {
    const std::string unlike = unlikeGolden(name, [&]() -> std::optional<Shot> {
        const std::optional<Shot> shot = readShot(path);
        return shot ? std::optional<Shot>(shrunk(*shot, wholeOf(*shot))) : std::nullopt;
    }, leftFolder(), 0.0);
    INFO(unlike);
    CHECK(unlike.empty());
}

}  // namespace linefall::driven
