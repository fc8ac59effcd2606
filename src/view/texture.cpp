#include "view/texture.h"

#include "view/gl.h"

namespace linefall {

Texture::~Texture() {
    if (id_ != 0) glDeleteTextures(1, &id_);
}

void Texture::resize(int columns, int rows, bool smooth) {
    if (id_ == 0) glGenTextures(1, &id_);
    columns_ = columns;
    rows_ = rows;
    glBindTexture(GL_TEXTURE_2D, id_);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, columns, rows, 0, GL_RGBA, GL_UNSIGNED_BYTE, nullptr);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    setSmooth(smooth);
}

void Texture::setSmooth(bool smooth) {
    if (id_ == 0) return;
    glBindTexture(GL_TEXTURE_2D, id_);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, smooth ? GL_LINEAR : GL_NEAREST);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, smooth ? GL_LINEAR : GL_NEAREST);
}

void Texture::write(int first_row, int rows, std::span<const std::uint8_t> rgba) {
    glBindTexture(GL_TEXTURE_2D, id_);
    glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
    glTexSubImage2D(GL_TEXTURE_2D, 0, 0, first_row, columns_, rows, GL_RGBA, GL_UNSIGNED_BYTE, rgba.data());
}

void Texture::makeMipmaps() {
    glBindTexture(GL_TEXTURE_2D, id_);
    glGenerateMipmap(GL_TEXTURE_2D);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR_MIPMAP_LINEAR);
}

Canvas::~Canvas() {
    if (frame_ != 0) glDeleteFramebuffers(1, &frame_);
    if (depth_ != 0) glDeleteRenderbuffers(1, &depth_);
}

void Canvas::begin(int columns, int rows) {
    if (frame_ == 0) {
        glGenFramebuffers(1, &frame_);
        glGenRenderbuffers(1, &depth_);
    }
    if (columns != colour_.columns() || rows != colour_.rows()) {
        colour_.resize(columns, rows, true);
        glBindRenderbuffer(GL_RENDERBUFFER, depth_);
        glRenderbufferStorage(GL_RENDERBUFFER, GL_DEPTH_COMPONENT24, columns, rows);
        glBindFramebuffer(GL_FRAMEBUFFER, frame_);
        glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, colour_.id(), 0);
        glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_RENDERBUFFER, depth_);
    }
    glBindFramebuffer(GL_FRAMEBUFFER, frame_);
    glViewport(0, 0, columns, rows);
}

void Canvas::end() const { glBindFramebuffer(GL_FRAMEBUFFER, 0); }

int largestTexture() {
    GLint size = 0;
    glGetIntegerv(GL_MAX_TEXTURE_SIZE, &size);
    return size;
}

}  // namespace linefall
