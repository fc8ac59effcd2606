#include "view/shader.h"

#include <fstream>
#include <glm/gtc/type_ptr.hpp>
#include <sstream>
#include <stdexcept>
#include <utility>

#include "view/gl.h"

namespace linefall {

namespace {

std::string readFile(const std::string& path) {
    std::ifstream file(path);
    if (!file) throw std::runtime_error("cannot read the shader " + path);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

unsigned compiled(GLenum kind, const std::string& path) {
    const std::string source = shaderOpening(false) + "#line 1\n" + readFile(path);
    const char* text = source.c_str();
    const GLuint shader = glCreateShader(kind);
    glShaderSource(shader, 1, &text, nullptr);
    glCompileShader(shader);
    GLint ok = 0;
    glGetShaderiv(shader, GL_COMPILE_STATUS, &ok);
    if (ok == 0) {
        char words[2048] = "";
        glGetShaderInfoLog(shader, sizeof words, nullptr, words);
        glDeleteShader(shader);
        throw std::runtime_error("the shader " + path + " does not compile: " + words);
    }
    return shader;
}

}  // namespace

std::string shaderOpening(bool embedded) {
    if (!embedded) return "#version 330 core\n";
    return "#version 300 es\nprecision highp float;\nprecision highp int;\nprecision highp sampler2D;\n";
}

Shader::Shader(const std::string& folder, const std::string& name) {
    const GLuint vertex = compiled(GL_VERTEX_SHADER, folder + "/" + name + ".vert");
    const GLuint fragment = compiled(GL_FRAGMENT_SHADER, folder + "/" + name + ".frag");
    program_ = glCreateProgram();
    glAttachShader(program_, vertex);
    glAttachShader(program_, fragment);
    glLinkProgram(program_);
    glDeleteShader(vertex);
    glDeleteShader(fragment);
    GLint ok = 0;
    glGetProgramiv(program_, GL_LINK_STATUS, &ok);
    if (ok == 0) {
        char words[2048] = "";
        glGetProgramInfoLog(program_, sizeof words, nullptr, words);
        glDeleteProgram(program_);
        program_ = 0;
        throw std::runtime_error("the shaders " + name + " do not link: " + words);
    }
}

Shader::~Shader() {
    if (program_ != 0) glDeleteProgram(program_);
}

Shader& Shader::operator=(Shader&& other) noexcept {
    std::swap(program_, other.program_);
    return *this;
}

void Shader::use() const { glUseProgram(program_); }

void Shader::set(const char* name, const glm::mat4& value) const {
    glUniformMatrix4fv(glGetUniformLocation(program_, name), 1, GL_FALSE, glm::value_ptr(value));
}
void Shader::set(const char* name, const glm::vec4& value) const {
    glUniform4fv(glGetUniformLocation(program_, name), 1, glm::value_ptr(value));
}
void Shader::set(const char* name, const glm::vec3& value) const {
    glUniform3fv(glGetUniformLocation(program_, name), 1, glm::value_ptr(value));
}
void Shader::set(const char* name, float value) const { glUniform1f(glGetUniformLocation(program_, name), value); }
void Shader::set(const char* name, int value) const { glUniform1i(glGetUniformLocation(program_, name), value); }

}  // namespace linefall
