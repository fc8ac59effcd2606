#include "view/gl.h"

namespace linefall {

std::string loadGl(void* (*look_up)(const char*)) {
    const int version = gladLoadGL(reinterpret_cast<GLADloadfunc>(look_up));
    if (version == 0) return "OpenGL could not be loaded: the graphics driver gives no OpenGL functions.";
    const int major = GLAD_VERSION_MAJOR(version);
    const int minor = GLAD_VERSION_MINOR(version);
    if (major * 10 + minor < 33) {
        return "Linefall needs OpenGL 3.3; this driver offers " + std::to_string(major) + "." + std::to_string(minor) + ".";
    }
    return "";
}

namespace {

std::string named(GLenum what) {
    const GLubyte* text = glGetString(what);
    return text != nullptr ? reinterpret_cast<const char*>(text) : "";
}

}  // namespace

std::string glRenderer() { return named(GL_RENDERER) + ", OpenGL " + named(GL_VERSION); }

bool glIsSoftware() {
    const std::string renderer = named(GL_RENDERER);
    for (const char* word : {"llvmpipe", "softpipe", "swrast", "SWR", "Software", "SwiftShader"}) {
        if (renderer.find(word) != std::string::npos) return true;
    }
    return false;
}

}  // namespace linefall
