#include "view/picture.h"

#include <algorithm>

namespace linefall {

std::vector<std::uint8_t> pictureRow(const Image& image, const PictureLook& look, int line, int step) {
    const std::vector<std::uint8_t> shown = displayRow(image, look.bands, look.limits, look.screen_curve, line);
    const std::size_t samples = static_cast<std::size_t>(image.samples());
    const std::size_t channels = shown.size() / std::max<std::size_t>(1, samples);
    std::vector<std::uint8_t> rgba;
    rgba.reserve(samples / static_cast<std::size_t>(step) * 4 + 4);
    for (std::size_t s = 0; s < samples; s += static_cast<std::size_t>(step)) {
        const std::uint8_t* p = shown.data() + s * channels;
        rgba.insert(rgba.end(), {p[0], channels > 2 ? p[1] : p[0], channels > 2 ? p[2] : p[0], std::uint8_t{255}});
    }
    return rgba;
}

void Picture::reset(int samples, int lines) {
    const int most = std::min(8192, largestTexture());
    samples_ = samples;
    lines_ = lines;
    line_step_ = (lines + most - 1) / most;
    sample_step_ = (samples + most - 1) / most;
    texture_.resize((samples + sample_step_ - 1) / sample_step_, (lines + line_step_ - 1) / line_step_, true);
}

void Picture::put(const Image& image, const PictureLook& look, int line, int height) {
    const std::vector<std::uint8_t> row = pictureRow(image, look, line, sample_step_);
    const int first = (line + line_step_ - 1) / line_step_;
    const int last = (std::min(lines_, line + height) - 1) / line_step_;
    for (int at = first; at <= last && at < texture_.rows(); ++at) texture_.write(at, 1, row);
}

void Picture::putColours(const std::vector<std::uint8_t>& rgb, int line) {
    if (line % line_step_ != 0) return;
    std::vector<std::uint8_t> row;
    row.reserve(static_cast<std::size_t>(texture_.columns()) * 4);
    for (std::size_t s = 0; s < static_cast<std::size_t>(samples_); s += static_cast<std::size_t>(sample_step_)) row.insert(row.end(), {rgb[3 * s], rgb[3 * s + 1], rgb[3 * s + 2], std::uint8_t{255}});
    texture_.write(line / line_step_, 1, row);
}

void Picture::clear(std::uint8_t red, std::uint8_t green, std::uint8_t blue) {
    std::vector<std::uint8_t> row;
    for (int i = 0; i < texture_.columns(); ++i) row.insert(row.end(), {red, green, blue, std::uint8_t{255}});
    for (int at = 0; at < texture_.rows(); ++at) texture_.write(at, 1, row);
}

}  // namespace linefall
