#include "figure/svg.h"

#include <fmt/format.h>

#include <cmath>

#include "figure/glyphs.h"
#include "scene/png_file.h"

namespace linefall {

std::string base64(const std::string& bytes) {
    static const char* const digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string out;
    out.reserve(bytes.size() * 4 / 3 + 4);
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        unsigned word = 0;
        for (std::size_t k = 0; k < 3; ++k) word = word << 8 | (i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0u);
        for (std::size_t k = 0; k < 4; ++k) out += i + k > bytes.size() ? '=' : digits[word >> (18 - 6 * k) & 63u];
    }
    return out;
}

namespace {

/// A length to a hundredth of a pixel, without a needless end.
std::string number(double value) {
    std::string text = fmt::format("{:.2f}", value);
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text == "-0" ? "0" : text;
}

std::string colour(const Ink& ink) { return fmt::format("#{:02x}{:02x}{:02x}", ink.red, ink.green, ink.blue); }

std::string painted(const char* what, const Ink& ink) {
    std::string out = fmt::format(" {}=\"{}\"", what, colour(ink));
    if (ink.cover < 1.0) out += fmt::format(" {}-opacity=\"{}\"", what, number(ink.cover));
    return out;
}

class Writer {
public:
    explicit Writer(std::string& out) : out_(out) {}

    void operator()(const Contour& shape) {
        std::string path;
        for (std::size_t i = 0; i < shape.points.size(); ++i) {
            path += (i == 0 ? "M" : "L") + number(shape.points[i].x) + " " + number(shape.points[i].y);
        }
        if (shape.closed) path += "Z";
        drawn("path d=\"" + path + "\"", shape.stroke, shape.fill);
    }
    void operator()(const Disc& disc) {
        drawn("circle cx=\"" + number(disc.centre.x) + "\" cy=\"" + number(disc.centre.y) + "\" r=\"" + number(disc.radius) + "\"", disc.stroke, disc.fill);
    }
    void operator()(const Words& words) {
        const char* anchors[] = {"start", "middle", "end"};
        out_ += words.upwards ? fmt::format("<text transform=\"translate({} {}) rotate(-90)\"", number(words.at.x), number(words.at.y))
                              : fmt::format("<text x=\"{}\" y=\"{}\"", number(words.at.x), number(words.at.y));
        out_ += fmt::format(" font-size=\"{}\"", number(words.size));
        if (words.anchor != Anchor::start) out_ += fmt::format(" text-anchor=\"{}\"", anchors[static_cast<std::size_t>(words.anchor)]);
        if (words.weight == Weight::strong) out_ += " font-weight=\"600\"";
        if (words.weight == Weight::mono) out_ += " font-family=\"'JetBrains Mono', monospace\"";
        out_ += painted("fill", words.ink) + ">" + xmlText(words.text) + "</text>\n";
    }
    void operator()(const RasterPicture& raster) {
        if (raster.versions.empty()) return;
        const Pixels* version = raster.versions.back().get();
        for (auto it = raster.versions.rbegin(); it != raster.versions.rend(); ++it) {
            if ((*it)->columns >= std::lround(2.0 * raster.width)) version = it->get();
        }
        out_ += fmt::format("<image x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" preserveAspectRatio=\"none\" image-rendering=\"optimizeSpeed\" "
                            "style=\"image-rendering:pixelated\" xlink:href=\"data:image/png;base64,{}\"/>\n",
                            number(raster.x), number(raster.y), number(raster.width), number(raster.height),
                            base64(pngBytes(version->columns, version->rows, version->channels, version->values)));
    }
    void operator()(const ClipBegin& clip) {
        ++clips_;
        out_ += fmt::format("<clipPath id=\"clip{}\"><rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/></clipPath>\n<g clip-path=\"url(#clip{})\">\n",
                            clips_, number(clip.x), number(clip.y), number(clip.width), number(clip.height), clips_);
    }
    void operator()(const ClipEnd&) { out_ += "</g>\n"; }

private:
    void drawn(const std::string& element, const std::optional<Stroke>& stroke, const std::optional<Ink>& fill) {
        if (stroke && stroke->casing) {
            out_ += "<" + element + " fill=\"none\"" + painted("stroke", *stroke->casing) + " stroke-width=\"" +
                    number(stroke->width + 2.0 * stroke->casing_width) + "\" stroke-linecap=\"round\" stroke-linejoin=\"round\"/>\n";
        }
        out_ += "<" + element + (fill ? painted("fill", *fill) : " fill=\"none\"");
        if (stroke) {
            out_ += painted("stroke", stroke->ink) + " stroke-width=\"" + number(stroke->width) + "\" stroke-linejoin=\"round\"";
            std::string dash;
            for (const double length : stroke->dash) dash += (dash.empty() ? "" : " ") + number(length);
            if (!dash.empty()) out_ += " stroke-dasharray=\"" + dash + "\"";
        }
        out_ += "/>\n";
    }

    std::string& out_;
    int clips_ = 0;
};

}  // namespace

std::string xmlText(const std::string& text) {
    std::string out;
    for (const Letter& letter : lettersOf(text)) {
        switch (letter.code) {
            case U'<': out += "&lt;"; break;
            case U'>': out += "&gt;"; break;
            case U'&': out += "&amp;"; break;
            case U'"': out += "&quot;"; break;
            default:
                // XML 1.0 has no place for control characters, nor for these two.
                if ((letter.code < 0x20 && letter.code != U'\t' && letter.code != U'\n') || letter.code == 0xFFFE || letter.code == 0xFFFF) out += "\xEF\xBF\xBD";
                else out += letter.bytes;
        }
    }
    return out;
}

std::string svgText(const Drawing& drawing) {
    const std::string w = number(drawing.width), h = number(drawing.height);
    std::string out = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
    out += "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" version=\"1.1\" width=\"" + w + "\" height=\"" + h +
           "\" viewBox=\"0 0 " + w + " " + h + "\" role=\"img\" aria-labelledby=\"title description\" font-family=\"Inter, 'Helvetica Neue', Arial, sans-serif\">\n";
    out += "<title id=\"title\">" + xmlText(drawing.title) + "</title>\n<desc id=\"description\">" + xmlText(drawing.description) + "</desc>\n";
    out += "<rect width=\"" + w + "\" height=\"" + h + "\"" + painted("fill", drawing.ground) + "/>\n";
    Writer writer(out);
    for (const Mark& mark : drawing.marks) std::visit(writer, mark);
    return out + "</svg>\n";
}

}  // namespace linefall
