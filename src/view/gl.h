#pragma once
// The one place that includes the OpenGL loader.

#include <glad/gl.h>

#include <string>

namespace linefall {

/// Loads OpenGL through the window library's own look-up. Returns what is wrong, or an empty text.
[[nodiscard]] std::string loadGl(void* (*look_up)(const char*));
/// "llvmpipe (LLVM 15.0.6, 256 bits), OpenGL 3.3": what draws.
[[nodiscard]] std::string glRenderer();
/// True when OpenGL is done by the processor, so that triangles are dear.
[[nodiscard]] bool glIsSoftware();

}  // namespace linefall
