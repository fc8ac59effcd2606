// Draws the world without a window, where EGL can do so without a surface.

#include <catch2/catch.hpp>

#if __has_include(<EGL/egl.h>)

#define EGL_NO_X11
#include <EGL/egl.h>
#include <EGL/eglext.h>
#include <dlfcn.h>

#include <vector>

#include "flight/formation.h"
#include "view/gl.h"
#include "view/world_view.h"
#include "support/folders.h"

namespace linefall {

namespace {

void* egl_library = nullptr;
void* (*egl_look_up)(const char*) = nullptr;

template <class F>
F entry(const char* name) {
    void* found = dlsym(egl_library, name);
    return reinterpret_cast<F>(found);
}

/// An OpenGL 3.3 context without a surface; false where there is none.
bool makeContext() {
    egl_library = dlopen("libEGL.so.1", RTLD_NOW);
    if (egl_library == nullptr) return false;
    egl_look_up = entry<void* (*)(const char*)>("eglGetProcAddress");
    const auto get_display = reinterpret_cast<PFNEGLGETPLATFORMDISPLAYEXTPROC>(egl_look_up("eglGetPlatformDisplayEXT"));
    if (get_display == nullptr) return false;
    const EGLDisplay display = get_display(EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, nullptr);
    if (display == EGL_NO_DISPLAY) return false;
    if (entry<decltype(&eglInitialize)>("eglInitialize")(display, nullptr, nullptr) == EGL_FALSE) return false;
    if (entry<decltype(&eglBindAPI)>("eglBindAPI")(EGL_OPENGL_API) == EGL_FALSE) return false;
    const EGLint wanted[] = {EGL_CONTEXT_MAJOR_VERSION, 3, EGL_CONTEXT_MINOR_VERSION, 3, EGL_CONTEXT_OPENGL_PROFILE_MASK,
                             EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT, EGL_NONE};
    const EGLContext context = entry<decltype(&eglCreateContext)>("eglCreateContext")(display, EGL_NO_CONFIG_KHR, EGL_NO_CONTEXT, wanted);
    if (context == EGL_NO_CONTEXT) return false;
    if (entry<decltype(&eglMakeCurrent)>("eglMakeCurrent")(display, EGL_NO_SURFACE, EGL_NO_SURFACE, context) == EGL_FALSE) return false;
    return loadGl(egl_look_up).empty();
}

std::vector<std::uint8_t> pixelsOf(unsigned texture, int columns, int rows) {
    GLuint frame = 0;
    glGenFramebuffers(1, &frame);
    glBindFramebuffer(GL_FRAMEBUFFER, frame);
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, texture, 0);
    std::vector<std::uint8_t> pixels(static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows) * 4);
    glReadPixels(0, 0, columns, rows, GL_RGBA, GL_UNSIGNED_BYTE, pixels.data());
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
    glDeleteFramebuffers(1, &frame);
    return pixels;
}

}  // namespace

TEST_CASE("The world is drawn in the core's own colours, again only on change, and the same each time") {
    if (!makeContext()) {
        WARN("no OpenGL 3.3 without a surface here: the world was not drawn");
        return;
    }
    SceneRequest request;
    request.place = "slopes";
    request.instruments = {"push-broom"};
    const Scene scene = loadScene(request);
    const Drape drape = makeDrape(scene, 64, 1, nullptr);
    REQUIRE(drape.side == 64);
    WorldView world(sourceFolder() + "/shaders");
    world.setTerrain(scene.place->ground);
    world.setDrape(drape);
    world.setSky(worldLight(scene));
    Camera camera;
    camera.elevation_rad = 1.5;  // nearly straight down
    const HeightField& terrain = scene.place->ground->terrain();
    camera.target_m = {0.0, 0.0, terrain.heightAt(0.0, 0.0)};
    camera.distance_m = 40.0;    // a few texels of the drape fill the view
    CHECK(world.render(camera, 160, 120, true));
    CHECK_FALSE(world.render(camera, 160, 120, true));  // nothing changed
    const std::vector<std::uint8_t> pixels = pixelsOf(world.texture(), 160, 120);

    // The middle of the view shows the middle of the drape: between its four texels there.
    const std::size_t at = (60 * 160 + 80) * 4;
    int least = 255, most = 0;
    for (const int row : {31, 32}) {
        for (const int column : {31, 32}) {
            const int green = drape.rgba[static_cast<std::size_t>((row * 64 + column) * 4 + 1)];
            least = std::min(least, green);
            most = std::max(most, green);
        }
    }
    CHECK(pixels[at + 1] >= least - 1);
    CHECK(pixels[at + 1] <= most + 1);

    // Looking at the horizon, the upper middle shows the core's sky.
    camera.elevation_rad = 0.05;
    camera.target_m.z += 300.0;
    camera.distance_m = 3000.0;
    CHECK(world.render(camera, 160, 120, true));
    const std::vector<std::uint8_t> first = pixelsOf(world.texture(), 160, 120);
    const WorldLight light = worldLight(scene);
    const Ray ray = camera.ray(80.5, 5.5, 160, 120);
    const Colour sky = colourOf(skyRadianceRgb(light, sky_eye_m, ray.direction), light.white);
    for (std::size_t i = 0; i < 3; ++i) CHECK(first[((120 - 6) * 160 + 80) * 4 + i] == Approx(sky[i]).margin(4));
    world.setSky(light);
    CHECK(world.render(camera, 160, 120, true));
    const bool same = pixelsOf(world.texture(), 160, 120) == first;
    CHECK(same);

    // Everything destroyed and made again: land, drape, sea and sky are as they were.
    world.rebuild();
    CHECK(world.render(camera, 160, 120, true));
    const bool same_rebuilt = pixelsOf(world.texture(), 160, 120) == first;
    CHECK(same_rebuilt);

    // Warming up leaves nothing behind.
    WorldView warmed(sourceFolder() + "/shaders");
    warmed.warmUp();
    CHECK(warmed.grid() == 0);
    warmed.setTerrain(scene.place->ground);
    warmed.setDrape(drape);
    warmed.setSky(light);
    CHECK(warmed.render(camera, 160, 120, true));
    const bool same_warmed = pixelsOf(warmed.texture(), 160, 120) == first;
    CHECK(same_warmed);
}

}  // namespace linefall

#endif
