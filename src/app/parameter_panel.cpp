// One declared parameter as a control: its kind decides what it looks like; nothing here knows any parameter by name.

#include <algorithm>
#include <cmath>

#include "app/desk.h"

namespace linefall {

namespace {

std::string nameOfRow(const Parameter& row) {
    std::string name = row.key.substr(row.key.find('.') + 1);
    std::replace(name.begin(), name.end(), '_', ' ');
    if (name == "ifov" || name == "fov") std::transform(name.begin(), name.end(), name.begin(), [](char c) { return static_cast<char>(c - 'a' + 'A'); });
    return name;
}

/// Sliders reach what is useful to the hand; a range of many powers of ten without a logarithm is typed only.
bool slides(const Parameter& row) {
    return row.most > row.least && std::isfinite(row.most - row.least) && (row.logarithmic || row.most - row.least <= 1e5);
}

}  // namespace

double shareOf(const Parameter& row, double value) {
    if (row.logarithmic) return std::log(value / row.least) / std::log(row.most / row.least);
    return (value - row.least) / (row.most - row.least);
}

double valueAt(const Parameter& row, double share) {
    double value = row.logarithmic ? row.least * std::pow(row.most / row.least, share) : row.least + share * (row.most - row.least);
    if (row.kind == Kind::count) return std::clamp(std::round(value), row.least, row.most);
    // Three figures are as fine as a hand on a slider.
    if (value != 0.0 && std::isfinite(value)) {
        const double unit = std::pow(10.0, std::floor(std::log10(std::abs(value))) - 2.0);
        value = std::round(value / unit) * unit;
    }
    return std::clamp(value, row.least, row.most);
}

std::string shownValue(const Parameter& row, const Value& value) {
    if (const double* number = std::get_if<double>(&value)) return shortText(*number, row.kind, 4);
    return exactText(row, value);
}

float drawParameter(Desk& desk, const ParameterOf& parameter, const Rect& place) {
    Ui& ui = desk.ui;
    Session& session = desk.session;
    const Parameter& row = *parameter.row;
    const float s = ui.s;
    const std::string id = row.key + (parameter.craft < 0 ? "" : std::string(" ") + letterOf(parameter.craft));
    const Value value = session.valueOf(parameter);
    const std::string wrong = session.problemOf(parameter);
    float used = 0;

    if (row.kind == Kind::flag) {
        bool on = std::get<bool>(value);
        if (ui.flag(id, {place.x, place.y, place.w, 24 * s}, nameOfRow(row), on)) session.setValue(parameter, Value{on});
        used = 26 * s;
    } else if (row.kind == Kind::choice) {
        ui.text(place.x, place.y, ui.fonts.small, ui.p.ink, nameOfRow(row));
        const float each = (place.w - 6 * s * static_cast<float>(row.choices.size() - 1)) / static_cast<float>(row.choices.size());
        for (std::size_t i = 0; i < row.choices.size(); ++i) {
            const Rect r{place.x + static_cast<float>(i) * (each + 6 * s), place.y + 19 * s, each, 26 * s};
            if (ui.button(id + " " + row.choices[i], r, row.choices[i], std::get<std::string>(value) == row.choices[i])) {
                session.setValue(parameter, Value{row.choices[i]});
            }
        }
        used = 50 * s;
    } else {
        ui.text(place.x, place.y, ui.fonts.small, ui.p.ink, nameOfRow(row));
        const float box = row.kind == Kind::text ? place.w : std::min(112 * s, 0.5f * place.w);
        std::string entered;
        if (ui.field(id, {place.right() - box, place.y + 19 * s, box, 26 * s}, shownValue(row, value), entered, !wrong.empty())) {
            session.setText(parameter, entered);
        }
        const double* number = std::get_if<double>(&value);
        if (number == nullptr && row.kind != Kind::text) {
            ui.text(place.x, place.y + 23 * s, ui.fonts.small, ui.p.quiet,
                    ui.fitting(ui.fonts.small, {"follows from others", "from others"}, place.w - box - 8 * s));
        } else if (row.kind != Kind::text && slides(row)) {
            double share = std::clamp(shareOf(row, *number), 0.0, 1.0);
            const double step = row.kind == Kind::count ? 1.0 / std::max(1.0, row.most - row.least) : 0.01;
            if (ui.slider(id + " slider", {place.x + 7 * s, place.y + 19 * s, place.w - box - 22 * s, 26 * s}, share, step)) {
                session.setValue(parameter, Value{valueAt(row, share)});
            }
        }
        used = 50 * s;
    }
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    if (ImGui::IsWindowHovered() && Rect{place.x, place.y, place.w, used}.holds(mouse) && !ui.dragging()) {
        ui.hint(row.help + (row.kind == Kind::flag || row.kind == Kind::choice || row.kind == Kind::text ? "" : "  (" + rangeText(row) + ")"));
    }
    if (!wrong.empty()) used += ui.paragraph(place.x, place.y + used - 3 * s, place.w, ui.fonts.small, ui.p.wrong, wrong);
    return used + 6 * s;
}

}  // namespace linefall
