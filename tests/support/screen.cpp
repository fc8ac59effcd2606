#include "support/screen.h"

#include <algorithm>
#include <cmath>

#ifdef LINEFALL_WITH_X11
#include <X11/Xlib.h>
#include <X11/Xutil.h>
#endif

namespace linefall {

double luminance(const Rgb& colour) {
    const auto linear = [](std::uint8_t value) {
        const double v = value / 255.0;
        return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
    };
    return 0.2126 * linear(colour[0]) + 0.7152 * linear(colour[1]) + 0.0722 * linear(colour[2]);
}

double contrast(const Rgb& a, const Rgb& b) {
    const double x = luminance(a), y = luminance(b);
    return (std::max(x, y) + 0.05) / (std::min(x, y) + 0.05);
}

#ifdef LINEFALL_WITH_X11

namespace {

struct Screen {
    Display* display = XOpenDisplay(nullptr);
    Screen() = default;
    ~Screen() {
        if (display != nullptr) XCloseDisplay(display);
    }
    Screen(const Screen&) = delete;
    Screen& operator=(const Screen&) = delete;
};

Window find(Display* display, Window under, const std::string& name) {
    char* title = nullptr;
    if (XFetchName(display, under, &title) != 0 && title != nullptr) {
        const bool found = name == title;
        XFree(title);
        if (found) return under;
    }
    Window root = 0, parent = 0, *children = nullptr, out = 0;
    unsigned count = 0;
    if (XQueryTree(display, under, &root, &parent, &children, &count) == 0) return 0;
    for (unsigned i = count; i > 0 && out == 0; --i) out = find(display, children[i - 1], name);
    if (children != nullptr) XFree(children);
    return out;
}

int ignore(Display*, XErrorEvent*) { return 0; }  // a window may go while it is asked for

template <class Do>
bool withWindow(const std::string& name, const Do& act) {
    Screen screen;
    if (screen.display == nullptr) return false;
    XSetErrorHandler(&ignore);
    const Window window = find(screen.display, DefaultRootWindow(screen.display), name);
    if (window == 0) return false;
    act(screen.display, window);
    XSync(screen.display, 0);
    return true;
}

}  // namespace

std::optional<Shot> grabWindow(const std::string& name) {
    std::optional<Shot> out;
    withWindow(name, [&](Display* display, Window window) {
        XWindowAttributes place{};
        if (XGetWindowAttributes(display, window, &place) == 0 || place.map_state != IsViewable) return;
        XImage* image = XGetImage(display, window, 0, 0, static_cast<unsigned>(place.width), static_cast<unsigned>(place.height), AllPlanes, ZPixmap);
        if (image == nullptr) return;
        Shot shot{place.width, place.height, {}};
        shot.pixels.reserve(static_cast<std::size_t>(place.width) * static_cast<std::size_t>(place.height));
        for (int y = 0; y < place.height; ++y) {
            for (int x = 0; x < place.width; ++x) {
                const unsigned long p = XGetPixel(image, x, y);
                shot.pixels.push_back({static_cast<std::uint8_t>(p >> 16), static_cast<std::uint8_t>(p >> 8), static_cast<std::uint8_t>(p)});
            }
        }
        XDestroyImage(image);
        out = std::move(shot);
    });
    return out;
}

bool unmapWindow(const std::string& name) {
    return withWindow(name, [](Display* display, Window window) { XUnmapWindow(display, window); });
}

bool mapWindow(const std::string& name) {
    return withWindow(name, [](Display* display, Window window) { XMapWindow(display, window); });
}

bool resizeWindow(const std::string& name, int width, int height) {
    return withWindow(name, [&](Display* display, Window window) { XResizeWindow(display, window, static_cast<unsigned>(width), static_cast<unsigned>(height)); });
}

#else

std::optional<Shot> grabWindow(const std::string&) { return std::nullopt; }
bool unmapWindow(const std::string&) { return false; }
bool mapWindow(const std::string&) { return false; }
bool resizeWindow(const std::string&, int, int) { return false; }

#endif

}  // namespace linefall
