#include "app/plot.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/quantity.h"

namespace linefall {

double roundStep(double length, double marks) {
    const double rough = std::max(1e-12, length / marks);
    const double power = std::pow(10.0, std::floor(std::log10(rough)));
    for (const double factor : {1.0, 2.0, 5.0}) {
        if (factor * power >= rough) return factor * power;
    }
    return 10.0 * power;
}

std::string axisText(double value, double step) {
    std::string words = figuresText(std::abs(value) < 1e-9 * step ? 0.0 : value, 3);
    if (words.find('.') == std::string::npos || words.find('e') != std::string::npos) return words;
    while (words.back() == '0') words.pop_back();
    if (words.back() == '.') words.pop_back();
    return words;
}

Plot::Plot(Ui& ui, const Rect& place, double x0, double x1, double y0, double y1, const std::string& x_words, const std::string& y_words,
           float left)
    : ui_(ui), x0_(x0), x1_(std::max(x1, x0 + 1e-9)), y0_(y0), y1_(std::max(y1, y0 + 1e-9)) {
    const float s = ui.s;
    ImFont* font = ui.fonts.small;
    const bool tall = place.h > 90 * s;  // a low plot shows shapes: its heights need no numbers
    double marks = std::max(2.0, place.h / (40.0 * s)), y_step = roundStep(y1_ - y0_, marks);
    for (int i = 0; i < 8 && std::floor(y1_ / y_step) - std::ceil(y0_ / y_step) < 1.0; ++i) y_step = roundStep(y1_ - y0_, marks *= 1.3);  // one number is no scale
    float widest = std::max(0.0f, left - 8 * s);
    for (double y = std::ceil(y0_ / y_step) * y_step; y <= y1_ + 1e-9 * y_step; y += y_step) widest = !tall ? 0.0f : std::max(widest, ui.size(font, axisText(y, y_step)).x);
    inside_ = {place.x + widest + 8 * s, place.y + font->FontSize + 4 * s, place.w - widest - 16 * s, place.h - (x_words.empty() ? 2.05f : 2.9f) * font->FontSize - 6 * s};
    ui.text(place.x, place.y, font, ui.p.quiet, y_words);
    ui.draw()->AddRectFilled(inside_.min(), inside_.max(), ui.p.blank);
    for (double y = std::ceil(y0_ / y_step) * y_step; y <= y1_ + 1e-9 * y_step; y += y_step) {
        const ImVec2 p = at(x0_, y);
        ui.line({inside_.x, p.y}, {inside_.right(), p.y}, ui.p.hairline);
        if (tall) ui.text(inside_.x - 5 * s, p.y - 0.5f * font->FontSize, font, ui.p.quiet, axisText(y, y_step), Align::right);
    }
    const double x_step = roundStep(x1_ - x0_, std::max(2.0, inside_.w / (64.0 * s)));
    for (double x = std::ceil(x0_ / x_step) * x_step; x <= x1_ + 1e-9 * x_step; x += x_step) {
        const ImVec2 p = at(x, y0_);
        ui.line({p.x, inside_.bottom()}, {p.x, inside_.bottom() + 4 * s}, ui.p.control);
        ui.text(p.x, inside_.bottom() + 4 * s, font, ui.p.quiet, axisText(x, x_step), Align::centre);
    }
    ui.text(inside_.centre().x, inside_.bottom() + 5 * s + font->FontSize, font, ui.p.quiet, x_words, Align::centre);
    ui.draw()->AddRect(inside_.min(), inside_.max(), ui.p.control);
}

ImVec2 Plot::at(double x, double y) const {
    return {inside_.x + inside_.w * static_cast<float>((x - x0_) / (x1_ - x0_)), inside_.bottom() - inside_.h * static_cast<float>((y - y0_) / (y1_ - y0_))};
}

void Plot::line(const std::vector<double>& x, const std::vector<double>& y, ImU32 colour, float width, float dash) const {
    ui_.draw()->PushClipRect(inside_.min(), inside_.max(), true);
    std::vector<ImVec2> run;
    const auto flush = [&] {
        if (run.size() > 1) ui_.cased(run, colour, ui_.p.panel, width, dash);
        run.clear();
    };
    for (std::size_t i = 0; i < x.size() && i < y.size(); ++i) {
        if (std::isfinite(x[i]) && std::isfinite(y[i])) run.push_back(at(x[i], y[i]));
        else flush();
    }
    flush();
    ui_.draw()->PopClipRect();
}

void Plot::bar(double from, double to, double y, ImU32 colour) const {
    const ImVec2 a = at(std::max(from, x0_), y), b = at(std::min(to, x1_), y0_);
    if (b.x > a.x) ui_.draw()->AddRectFilled({a.x, std::max(a.y, inside_.y)}, {std::max(b.x, a.x + 1.0f), b.y}, colour);
}

BandInk bandInk(const Ui& ui, int band) {
    // Okabe and Ito 2008, without the yellow that paper swallows; lighter at night.
    static const std::array<ImU32, 6> day{IM_COL32(0, 114, 178, 255), IM_COL32(0, 128, 96, 255), IM_COL32(193, 74, 0, 255),
                                          IM_COL32(170, 68, 130, 255), IM_COL32(50, 50, 50, 255), IM_COL32(150, 105, 0, 255)};
    static const std::array<ImU32, 6> night{IM_COL32(86, 180, 233, 255), IM_COL32(0, 190, 140, 255), IM_COL32(240, 130, 60, 255),
                                            IM_COL32(224, 140, 190, 255), IM_COL32(220, 220, 220, 255), IM_COL32(230, 159, 0, 255)};
    static const std::array<float, 6> dashes{0.0f, 9.0f, 4.0f, 14.0f, 2.5f, 6.0f};
    const std::size_t i = static_cast<std::size_t>(band) % 6;
    return {ui.p.night ? night[i] : day[i], dashes[i]};
}

}  // namespace linefall
