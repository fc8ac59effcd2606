#pragma once
// A shader program from two files without a #version line: the loader puts "330 core" or "300 es" in front.

#include <glm/mat4x4.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>
#include <glm/vec4.hpp>
#include <string>

namespace linefall {

/// The opening that goes in front of every shader file, for the desktop or for a web page.
[[nodiscard]] std::string shaderOpening(bool embedded);

class Shader {
public:
    Shader() = default;
    /// Reads NAME.vert and NAME.frag of a folder. Throws std::runtime_error with the driver's words.
    Shader(const std::string& folder, const std::string& name);
    ~Shader();
    Shader(Shader&& other) noexcept : program_(other.program_) { other.program_ = 0; }
    Shader& operator=(Shader&& other) noexcept;
    Shader(const Shader&) = delete;
    Shader& operator=(const Shader&) = delete;

    void use() const;
    void set(const char* name, const glm::mat4& value) const;
    void set(const char* name, const glm::vec4& value) const;
    void set(const char* name, const glm::vec3& value) const;
    void set(const char* name, float value) const;
    void set(const char* name, int value) const;

private:
    unsigned program_ = 0;
};

}  // namespace linefall
