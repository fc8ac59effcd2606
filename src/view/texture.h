#pragma once
// A texture with 4 bytes a texel, and a canvas that can be drawn on.

#include <cstdint>
#include <span>

namespace linefall {

class Texture {
public:
    Texture() = default;
    ~Texture();
    Texture(const Texture&) = delete;
    Texture& operator=(const Texture&) = delete;

    /// Sets the size; the content is undefined until written. `smooth`: interpolated with mipmaps when asked for.
    void resize(int columns, int rows, bool smooth);
    /// Writes a block of whole rows, RGBA.
    void write(int first_row, int rows, std::span<const std::uint8_t> rgba);
    void makeMipmaps();
    void setSmooth(bool smooth);
    [[nodiscard]] unsigned id() const { return id_; }
    [[nodiscard]] int columns() const { return columns_; }
    [[nodiscard]] int rows() const { return rows_; }

private:
    unsigned id_ = 0;
    int columns_ = 0, rows_ = 0;
};

/// A colour texture with a depth buffer.
class Canvas {
public:
    Canvas() = default;
    ~Canvas();
    Canvas(const Canvas&) = delete;
    Canvas& operator=(const Canvas&) = delete;

    /// Makes it this large (when it is not already) and draws on it from now on.
    void begin(int columns, int rows);
    /// Draws on the window again.
    void end() const;
    [[nodiscard]] unsigned texture() const { return colour_.id(); }
    [[nodiscard]] int columns() const { return colour_.columns(); }
    [[nodiscard]] int rows() const { return colour_.rows(); }

private:
    Texture colour_;
    unsigned frame_ = 0, depth_ = 0;
};

/// The largest side of a texture that the driver takes.
[[nodiscard]] int largestTexture();

}  // namespace linefall
