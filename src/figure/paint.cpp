#include "figure/paint.h"

#include <cairo.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <new>

#include "figure/glyphs.h"
#include "flight/image.h"

namespace linefall {

namespace {

/// The share of full light of an sRGB code; the inverse of screenCode. IEC 61966-2-1.
double lightOf(std::uint8_t code) {
    static const std::array<double, 256> table = [] {
        std::array<double, 256> light{};
        for (std::size_t i = 0; i < light.size(); ++i) {
            const double c = static_cast<double>(i) / 255.0;
            light[i] = c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
        }
        return light;
    }();
    return table[code];
}

/// What of the old row of pixels falls on a new pixel, and how much of each.
struct Share {
    int first = 0;
    std::vector<double> weights;
};

std::vector<Share> sharesOf(int from, int to) {
    std::vector<Share> shares(static_cast<std::size_t>(to));
    for (int i = 0; i < to; ++i) {
        const double low = static_cast<double>(i) * from / to, high = static_cast<double>(i + 1) * from / to;
        Share& share = shares[static_cast<std::size_t>(i)];
        share.first = std::min(from - 1, static_cast<int>(low));
        for (int k = share.first; k < from && k < high - 1e-9; ++k) {
            share.weights.push_back((std::min(high, k + 1.0) - std::max(low, static_cast<double>(k))) / (high - low));
        }
    }
    return shares;
}

class Painter {
public:
    Painter(const Drawing& drawing, int scale, const Type& type)
        : scale_(scale), type_(type), columns_(static_cast<int>(std::ceil(drawing.width * scale - 1e-9))),
          rows_(static_cast<int>(std::ceil(drawing.height * scale - 1e-9))),
          surface_(cairo_image_surface_create(CAIRO_FORMAT_RGB24, columns_, rows_)), cairo_(cairo_create(surface_)) {
        if (cairo_status(cairo_) != CAIRO_STATUS_SUCCESS) {
            cairo_destroy(cairo_);
            cairo_surface_destroy(surface_);
            throw std::bad_alloc();
        }
        clip_ = {0, 0, columns_, rows_};
        cairo_scale(cairo_, scale, scale);
        cairo_set_antialias(cairo_, CAIRO_ANTIALIAS_BEST);
        cairo_set_line_join(cairo_, CAIRO_LINE_JOIN_ROUND);
        use(drawing.ground);
        cairo_paint(cairo_);
    }
    ~Painter() {
        cairo_destroy(cairo_);
        cairo_surface_destroy(surface_);
    }
    Painter(const Painter&) = delete;
    Painter& operator=(const Painter&) = delete;

    void operator()(const Contour& shape) {
        const auto trace = [&] {
            for (std::size_t i = 0; i < shape.points.size(); ++i) {
                if (i == 0) cairo_move_to(cairo_, shape.points[i].x, shape.points[i].y);
                else cairo_line_to(cairo_, shape.points[i].x, shape.points[i].y);
            }
            if (shape.closed) cairo_close_path(cairo_);
        };
        drawn(trace, shape.stroke, shape.fill);
    }
    void operator()(const Disc& disc) {
        const auto trace = [&] { cairo_arc(cairo_, disc.centre.x, disc.centre.y, disc.radius, 0.0, 6.283185307179586); };
        drawn(trace, disc.stroke, disc.fill);
    }
    void operator()(const Words& words) {
        const GlyphLine line = glyphsOf(type_.faces(), words.text, words.size, words.weight);
        const double back = words.anchor == Anchor::start ? 0.0 : words.anchor == Anchor::middle ? 0.5 * line.width : line.width;
        cairo_save(cairo_);
        cairo_translate(cairo_, words.at.x, words.at.y);
        if (words.upwards) cairo_rotate(cairo_, -1.5707963267948966);
        cairo_translate(cairo_, -back, 0.0);
        use(words.ink);
        for (const GlyphRun& run : line.runs) {
            cairo_set_font_face(cairo_, run.face);
            cairo_set_font_size(cairo_, words.size);
            // As outlines: Cairo would move whole glyphs to whole pixels, and words would look uneven.
            cairo_glyph_path(cairo_, run.glyphs.data(), static_cast<int>(run.glyphs.size()));
        }
        cairo_fill(cairo_);
        cairo_restore(cairo_);
    }
    void operator()(const RasterPicture& raster) {
        if (raster.versions.empty()) return;
        const int left = device(raster.x), top = device(raster.y);
        const int wide = device(raster.x + raster.width) - left, tall = device(raster.y + raster.height) - top;
        const Pixels* version = raster.versions.back().get();
        for (auto it = raster.versions.rbegin(); it != raster.versions.rend(); ++it) {
            if ((*it)->columns >= wide) version = it->get();
        }
        const Pixels pixels = resized(*version, wide, tall);
        cairo_surface_flush(surface_);
        unsigned char* data = cairo_image_surface_get_data(surface_);
        const int stride = cairo_image_surface_get_stride(surface_);
        for (int row = std::max(clip_[1], top); row < std::min(clip_[3], top + tall); ++row) {
            auto* out = reinterpret_cast<std::uint32_t*>(data + static_cast<std::ptrdiff_t>(row) * stride);
            for (int column = std::max(clip_[0], left); column < std::min(clip_[2], left + wide); ++column) {
                const std::uint8_t* p = pixels.values.data() + pixels.at(column - left, row - top);
                const std::uint32_t red = p[0], green = p[pixels.channels == 1 ? 0 : 1], blue = p[pixels.channels == 1 ? 0 : 2];
                out[column] = red << 16 | green << 8 | blue;
            }
        }
        cairo_surface_mark_dirty(surface_);
    }
    void operator()(const ClipBegin& clip) {
        cairo_save(cairo_);
        cairo_rectangle(cairo_, clip.x, clip.y, clip.width, clip.height);
        cairo_clip(cairo_);
        clip_ = {std::max(0, device(clip.x)), std::max(0, device(clip.y)), std::min(columns_, device(clip.x + clip.width)),
                 std::min(rows_, device(clip.y + clip.height))};
    }
    void operator()(const ClipEnd&) {
        cairo_restore(cairo_);
        clip_ = {0, 0, columns_, rows_};
    }

    [[nodiscard]] Pixels pixels() {
        cairo_surface_flush(surface_);
        Pixels out{columns_, rows_, 3, {}};
        out.values.resize(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_) * 3);
        const unsigned char* data = cairo_image_surface_get_data(surface_);
        const int stride = cairo_image_surface_get_stride(surface_);
        std::size_t at = 0;
        for (int row = 0; row < rows_; ++row) {
            const auto* in = reinterpret_cast<const std::uint32_t*>(data + static_cast<std::ptrdiff_t>(row) * stride);
            for (int column = 0; column < columns_; ++column) {
                for (const int shift : {16, 8, 0}) out.values[at++] = static_cast<std::uint8_t>(in[column] >> shift & 255u);
            }
        }
        return out;
    }

private:
    [[nodiscard]] int device(double at) const { return static_cast<int>(std::lround(at * scale_)); }
    void use(const Ink& ink) { cairo_set_source_rgba(cairo_, ink.red / 255.0, ink.green / 255.0, ink.blue / 255.0, ink.cover); }

    template <class Trace>
    void drawn(const Trace& trace, const std::optional<Stroke>& stroke, const std::optional<Ink>& fill) {
        if (fill) {
            trace();
            use(*fill);
            cairo_fill(cairo_);
        }
        if (!stroke) return;
        if (stroke->casing) {
            trace();
            use(*stroke->casing);
            cairo_set_dash(cairo_, nullptr, 0, 0.0);
            cairo_set_line_cap(cairo_, CAIRO_LINE_CAP_ROUND);
            cairo_set_line_width(cairo_, stroke->width + 2.0 * stroke->casing_width);
            cairo_stroke(cairo_);
        }
        trace();
        use(stroke->ink);
        cairo_set_line_cap(cairo_, CAIRO_LINE_CAP_BUTT);
        cairo_set_dash(cairo_, stroke->dash.data(), static_cast<int>(stroke->dash.size()), 0.0);
        cairo_set_line_width(cairo_, stroke->width);
        cairo_stroke(cairo_);
    }

    int scale_;
    const Type& type_;
    int columns_, rows_;
    cairo_surface_t* surface_;
    cairo_t* cairo_;
    std::array<int, 4> clip_{};  // left, top, right, bottom in device pixels, for rasters
};

}  // namespace

Pixels resized(const Pixels& from, int columns, int rows) {
    if (columns == from.columns && rows == from.rows) return from;
    Pixels out{columns, rows, from.channels, {}};
    out.values.resize(static_cast<std::size_t>(std::max(0, columns)) * static_cast<std::size_t>(std::max(0, rows)) * static_cast<std::size_t>(from.channels));
    if (out.values.empty() || from.values.empty()) return out;
    const auto channels = static_cast<std::size_t>(from.channels);
    if (columns % from.columns == 0 && rows % from.rows == 0) {
        const int wide = columns / from.columns, tall = rows / from.rows;
        for (int row = 0; row < rows; ++row) {
            for (int column = 0; column < columns; ++column) {
                std::copy_n(from.values.begin() + static_cast<std::ptrdiff_t>(from.at(column / wide, row / tall)), channels,
                            out.values.begin() + static_cast<std::ptrdiff_t>(out.at(column, row)));
            }
        }
        return out;
    }
    const std::vector<Share> across = sharesOf(from.columns, columns), down = sharesOf(from.rows, rows);
    for (int row = 0; row < rows; ++row) {
        const Share& tall = down[static_cast<std::size_t>(row)];
        for (int column = 0; column < columns; ++column) {
            const Share& wide = across[static_cast<std::size_t>(column)];
            for (std::size_t c = 0; c < channels; ++c) {
                double light = 0.0;
                for (std::size_t j = 0; j < tall.weights.size(); ++j) {
                    for (std::size_t i = 0; i < wide.weights.size(); ++i) {
                        light += tall.weights[j] * wide.weights[i] *
                                 lightOf(from.values[from.at(wide.first + static_cast<int>(i), tall.first + static_cast<int>(j)) + c]);
                    }
                }
                out.values[out.at(column, row) + c] = screenCode(light);
            }
        }
    }
    return out;
}

Pixels painted(const Drawing& drawing, int scale, const Type& type) {
    Painter painter(drawing, scale, type);
    for (const Mark& mark : drawing.marks) std::visit(painter, mark);
    return painter.pixels();
}

}  // namespace linefall
