#include "figure/page.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/angle.h"
#include "base/quantity.h"

namespace linefall {

namespace {

/// A sentence in lines of a page: broken between its parts, and inside a part only when that is too wide by itself.
std::vector<std::string> brokenAtDots(const Type& type, const std::string& sentence, double room) {
    static const std::string dot = " · ";
    std::vector<std::string> lines;
    for (std::size_t at = 0; at <= sentence.size();) {
        const std::size_t next = std::min(sentence.find(dot, at), sentence.size());
        const std::string part = sentence.substr(at, next - at);
        at = next + dot.size();
        if (!lines.empty() && type.width(lines.back() + dot + part, text_size) <= room) {
            lines.back() += dot + part;
            continue;
        }
        for (const std::string& line : type.wrapped(part, text_size, Weight::regular, room)) lines.push_back(line);
    }
    return lines;
}

}  // namespace

Page::Page(const Type& t, bool night, double width, const std::string& title, const std::vector<std::string>& words)
    : colours(pagePalette(night)), type(t) {
    drawing.width = width;
    drawing.ground = colours.paper;
    drawing.title = title;
    const double room = width - 2.0 * page_margin;
    y = page_margin + 16.0;
    drawing.words({{page_margin, y}, type.fitted(title, title_size, Weight::strong, room), title_size, colours.ink, Weight::strong});
    y += 6.0;
    for (const std::string& sentence : words) {
        for (const std::string& line : brokenAtDots(type, sentence, room)) {
            y += 19.0;
            quiet(page_margin, y, line, Anchor::start, text_size);
        }
    }
    y += 16.0;
}

void Page::text(double x, double at_y, const std::string& words, Anchor anchor, double size, Weight weight) {
    drawing.words({{x, at_y}, words, size, colours.ink, weight, anchor});
}

void Page::quiet(double x, double at_y, const std::string& words, Anchor anchor, double size) {
    drawing.words({{x, at_y}, words, size, colours.quiet, Weight::regular, anchor});
}

void Page::plate(Vec2 at, const std::string& words, Ink ink, Anchor anchor, Weight weight) {
    const double w = type.width(words, small_size, weight);
    const double left = anchor == Anchor::start ? at.x : anchor == Anchor::middle ? at.x - 0.5 * w : at.x - w;
    drawing.box(left - 4.0, at.y - small_size - 1.0, w + 8.0, small_size + 6.0, colours.plate.faded(0.88));
    drawing.words({at, words, small_size, ink, weight, anchor});
}

void Page::symbol(double x, double at_y, const std::string& written) {
    const std::size_t under = written.find('_');
    text(x, at_y, written.substr(0, under));
    if (under == std::string::npos) return;
    text(x + type.width(written.substr(0, under), small_size) + 0.5, at_y + 3.0, written.substr(under + 1), Anchor::start, 0.78 * small_size);
}

void Page::arrow(Vec2 from, Vec2 to, Ink ink, double width) {
    const double length = glm::length(to - from);
    if (length < 1.0) return;
    const Vec2 u = (to - from) / length;
    const double head = 4.5 * width, half = 2.2 * width;
    const Vec2 neck = to - head * u, side{-u.y, u.x};
    drawing.line(from, neck + 0.5 * u, {ink, width});
    drawing.area({to, neck + half * side, neck - half * side}, ink);
}

void Page::foot() {
    y += 10.0;
    drawing.line({page_margin, y}, {drawing.width - page_margin, y}, {colours.hairline, 1.0});
    const std::string words = "Simulated by Linefall " LINEFALL_VERSION "; the place is invented. A teaching model: not for survey, navigation, engineering or safety decisions.";
    for (const std::string& line : type.wrapped(words, 12.0, Weight::regular, drawing.width - 2.0 * page_margin)) {
        y += 16.0;
        quiet(page_margin, y, line, Anchor::start, 12.0);
    }
    drawing.height = std::ceil(y + 14.0);
}

std::vector<Stroke> bandStrokes(const std::vector<Band>& bands, bool night) {
    struct Look {
        unsigned rgb;
        std::vector<double> dash;
    };
    const std::vector<Look> looks{{night ? 0x56B4E9u : 0x0072B2u, {}}, {0x009E73, {9, 3}}, {0xD55E00, {3, 3}}, {0xCC79A7, {9, 3, 2, 3}}, {0, {1.5, 3}}, {0xE69F00, {14, 4}}, {night ? 0x0072B2u : 0x56B4E9u, {5, 5}}};
    const Ink ink = pagePalette(night).ink;
    std::vector<std::size_t> order(bands.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return bands[a].middle_um() < bands[b].middle_um(); });
    std::vector<Stroke> strokes(bands.size(), Stroke{ink, 1.6});
    for (std::size_t i = 0; bands.size() > 1 && i < order.size(); ++i) {
        const Look& look = looks[i % looks.size()];
        strokes[order[i]] = {look.rgb == 0 ? ink : Ink::hex(look.rgb), 1.8, look.dash};
    }
    return strokes;
}

double niceStep(double length, int count) {
    const double wanted = std::max(1e-12, length / std::max(1, count));
    const double power = std::pow(10.0, std::floor(std::log10(wanted)));
    for (const double step : {1.0, 2.0, 5.0}) {
        if (step * power >= wanted * 0.999) return step * power;
    }
    return 10.0 * power;
}

std::string axisNumber(double value, double step) {
    const int decimals = std::clamp(static_cast<int>(std::ceil(-std::log10(step) - 1e-9)), 0, 6);
    std::string text = fmt::format("{:.{}f}", std::abs(value), decimals);
    if (text.find_first_not_of("0.") == std::string::npos) return "0";
    const std::size_t point = std::min(text.find('.'), text.size());
    // Five digits and more in groups of three.
    if (point > 4) {
        for (std::size_t at = point; at > 3;) text.insert(at -= 3, "\u2009");
    }
    return (value < 0.0 ? "−" : "") + text;
}

std::string degreesText(double angle_rad, int figures) {
    std::string text = figuresText(degreesFromRadians(angle_rad), figures);
    if (text.find('.') != std::string::npos) {
        while (text.back() == '0') text.pop_back();
        if (text.back() == '.') text.pop_back();
    }
    return text + "°";
}

std::string compassWord(double azimuth_rad) {
    static const char* const words[] = {"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"};
    return words[static_cast<std::size_t>(std::lround(wrappedToTurn(azimuth_rad) / (constants::pi / 4.0))) % 8];
}

void drawAxes(Page& page, const Plot& p, const std::string& x_words, const std::string& y_words, bool right_side) {
    const Stroke axis = page.hair();
    const double step_x = niceStep(p.most_x - p.least_x, static_cast<int>(p.width / 70.0));
    const double step_y = niceStep(p.most_y - p.least_y, std::max(4, static_cast<int>(p.height / 34.0)));
    const double edge = right_side ? p.x + p.width : p.x, out = right_side ? 1.0 : -1.0;
    double widest = 0.0;
    for (double v = std::ceil(p.least_y / step_y - 1e-9) * step_y; v <= p.most_y + 1e-9 * step_y; v += step_y) {
        const double y = p.atY(v);
        if (!right_side) page.drawing.line({p.x, y}, {p.x + p.width, y}, {page.colours.hairline, 1.0});
        page.drawing.line({edge, y}, {edge + 5.0 * out, y}, axis);
        const std::string words = axisNumber(v, step_y);
        widest = std::max(widest, page.type.width(words, small_size));
        page.text(edge + 8.0 * out, y + 4.0, words, right_side ? Anchor::start : Anchor::end);
    }
    page.drawing.line({edge, p.y}, {edge, p.y + p.height}, axis);
    page.drawing.words({{edge + out * (widest + (right_side ? 26.0 : 16.0)), p.y + 0.5 * p.height}, y_words, small_size, page.colours.quiet, Weight::regular, Anchor::middle, true});
    if (right_side) return;
    for (double v = std::ceil(p.least_x / step_x - 1e-9) * step_x; v <= p.most_x + 1e-9 * step_x; v += step_x) {
        const double x = p.atX(v);
        page.drawing.line({x, p.y + p.height}, {x, p.y + p.height + 5.0}, axis);
        page.text(x, p.y + p.height + 19.0, axisNumber(v, step_x), Anchor::middle);
    }
    page.drawing.line({p.x, p.y + p.height}, {p.x + p.width, p.y + p.height}, axis);
    page.quiet(p.x + 0.5 * p.width, p.y + p.height + 37.0, x_words, Anchor::middle);
}

}  // namespace linefall
