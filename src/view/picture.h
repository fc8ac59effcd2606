#pragma once
// The falling picture on the screen: a texture that takes the image's lines one by one.

#include <vector>

#include "flight/picture_look.h"
#include "view/texture.h"

namespace linefall {

/// One display row as RGBA, every `step`-th sample.
[[nodiscard]] std::vector<std::uint8_t> pictureRow(const Image& image, const PictureLook& look, int line, int step);

class Picture {
public:
    /// For an image of a size; larger images than the driver takes are shown with every n-th line and sample.
    void reset(int samples, int lines);
    /// Shows line `line` on rows line .. line + height - 1 (a preview may stand for its neighbours).
    void put(const Image& image, const PictureLook& look, int line, int height = 1);
    /// Shows colours of a line, 3 bytes a sample, on its row.
    void putColours(const std::vector<std::uint8_t>& rgb, int line);
    /// One colour for all.
    void clear(std::uint8_t red, std::uint8_t green, std::uint8_t blue);
    void setSmooth(bool smooth) { texture_.setSmooth(smooth); }
    [[nodiscard]] unsigned texture() const { return texture_.id(); }
    [[nodiscard]] int samples() const { return samples_; }
    [[nodiscard]] int lines() const { return lines_; }
    [[nodiscard]] int lineStep() const { return line_step_; }

private:
    Texture texture_;
    int samples_ = 0, lines_ = 0;
    int line_step_ = 1, sample_step_ = 1;
};

}  // namespace linefall
