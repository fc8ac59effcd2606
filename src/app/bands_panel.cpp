// The Bands tool: which band drives red, green and blue; the stretch as a curve on the histogram; what the materials under
// the picked pixel reflect, against the bands that see it.

#include <algorithm>
#include <cmath>

#include "app/desk.h"
#include "app/plot.h"
#include "app/tools.h"
#include "measure/histogram.h"
#include "measure/spectra.h"
#include "measure/stretch_curve.h"

namespace linefall {

namespace {

void choose(Desk& desk, const std::string& bands) { desk.session.setValue(desk.session.sceneParameter("show.bands"), Value{bands}); }

/// One row a channel: any band may drive it.
float drawChannels(Desk& desk, const Rect& place, const Craft& craft) {
    Ui& ui = desk.ui;
    const float s = ui.s, height = 24 * s, gap = 4 * s;
    const std::vector<Band>& bands = craft.formation().image().bands;
    const BandChoice& shown = craft.look().bands;
    float y = place.y;
    float x = place.x;
    for (const char* choice : {"true colour", "false colour"}) {
        const float width = ui.size(ui.fonts.small, choice).x + 18 * s;
        if (ui.button(std::string("show ") + choice, {x, y, width, height}, choice, shown.name == choice, "all pictures (C: the next)")) choose(desk, choice);
        x += width + gap;
    }
    y += height + gap + 2 * s;
    int channels[3] = {shown.red, shown.green, shown.blue};
    const char* names[3] = {"Red", "Green", "Blue"};
    const float label = 44 * s, each = (place.w - label - gap * static_cast<float>(bands.size())) / static_cast<float>(std::max<std::size_t>(1, bands.size()));
    for (int channel = 0; channel < 3; ++channel) {
        ui.text(place.x, y + 6 * s, ui.fonts.small, ui.p.ink, names[channel]);
        for (std::size_t band = 0; band < bands.size(); ++band) {
            const Rect r{place.x + label + static_cast<float>(band) * (each + gap), y, each, height};
            const bool on = channels[channel] == static_cast<int>(band);
            if (ui.button(std::string(names[channel]) + " by " + bands[band].name, r, ui.fitted(ui.fonts.small, bands[band].name, each - 2 * s), on,
                          std::string("the screen's ") + names[channel] + " shows band " + bands[band].name)) {
                channels[channel] = static_cast<int>(band);
                const auto name = [&](int at) { return bands[static_cast<std::size_t>(at)].name; };
                choose(desk, name(channels[0]) + ", " + name(channels[1]) + ", " + name(channels[2]));
            }
        }
        y += height + gap;
    }
    ui.text(place.x, y + 6 * s, ui.fonts.small, ui.p.ink, "One");
    for (std::size_t band = 0; band < bands.size(); ++band) {
        const Rect r{place.x + label + static_cast<float>(band) * (each + gap), y, each, height};
        if (ui.button("only " + bands[band].name, r, ui.fitted(ui.fonts.small, bands[band].name, each - 2 * s), shown.grey() && shown.red == static_cast<int>(band),
                      "this band alone, in grey")) {
            choose(desk, bands[band].name);
        }
    }
    return y + height + gap - place.y;
}

/// A limit of the stretch: its name, a slider and a typed value in one row.
void drawLimit(Desk& desk, const std::string& key, const std::string& name, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s, box = 58 * s, label = 52 * s;
    const ParameterOf parameter = desk.session.sceneParameter(key);
    const std::string wrong = desk.session.problemOf(parameter);
    ui.text(place.x, place.y + 5 * s, ui.fonts.small, wrong.empty() ? ui.p.ink : ui.p.wrong, name);
    const Value value = desk.session.valueOf(parameter);
    std::string entered;
    const Rect field{place.right() - box, place.y, box, place.h};
    if (ui.field(key, field, shownValue(*parameter.row, value), entered, !wrong.empty())) desk.session.setText(parameter, entered);
    if (field.holds(ImGui::GetIO().MousePos)) ui.hint(wrong.empty() ? parameter.row->help : wrong);
    if (const double* number = std::get_if<double>(&value)) {
        double share = std::clamp(shareOf(*parameter.row, *number), 0.0, 1.0);
        if (ui.slider(key + " slider", {place.x + label, place.y, place.w - label - box - 12 * s, place.h}, share, 0.005)) {
            desk.session.setValue(parameter, Value{valueAt(*parameter.row, share)});
        }
    }
}

/// The stretch: its kind, and the two limits that it uses. Returns the height used.
float drawStretch(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    Session& session = desk.session;
    const ShowSettings show = session.scene().showSettings();
    const ParameterOf kind = session.sceneParameter("show.stretch");
    const float s = ui.s, height = 24 * s, gap = 4 * s, label = 52 * s;
    const std::vector<std::string>& choices = kind.row->choices;
    const float each = (place.w - label - gap * static_cast<float>(choices.size() - 1)) / static_cast<float>(choices.size());
    ui.text(place.x, place.y + 5 * s, ui.fonts.small, ui.p.ink, "Stretch");
    for (std::size_t i = 0; i < choices.size(); ++i) {
        const Rect r{place.x + label + static_cast<float>(i) * (each + gap), place.y, each, height};
        if (ui.button("show.stretch " + choices[i], r, choices[i], std::get<std::string>(session.valueOf(kind)) == choices[i], kind.row->help)) session.setValue(kind, Value{choices[i]});
    }
    if (show.stretch == StretchKind::none) return height + gap;
    const bool percent = show.stretch == StretchKind::percent;
    const float half = 0.5f * (place.w - 14 * s), y = place.y + height + 2 * gap;
    drawLimit(desk, percent ? "show.low_percent" : "show.low_count", percent ? "Low %" : "Low", {place.x, y, half, 26 * s});
    drawLimit(desk, percent ? "show.high_percent" : "show.high_count", percent ? "High %" : "High", {place.x + half + 14 * s, y, half, 26 * s});
    return height + 2 * gap + 30 * s;
}

/// Histogram of one channel of what has fallen, under the curve that turns its counts into brightness.
void drawHistogram(Desk& desk, const Rect& place, const Craft& craft) {
    Ui& ui = desk.ui;
    const Image& image = craft.formation().image();
    const PictureLook& look = craft.look();
    const int channels = look.bands.grey() ? 1 : 3;
    const int bands[3] = {look.bands.red, look.bands.green, look.bands.blue};
    const float last = 0.85f * ui.fonts.small->FontSize;  // under the last plot, the name of the axis
    const float h = (place.h - last) / static_cast<float>(channels);
    for (int channel = 0; channel < channels; ++channel) {
        const std::size_t k = static_cast<std::size_t>(channel);
        const Histogram histogram(image, bands[channel], 0, craft.shown());
        const double end = std::min<double>(image.most_count + 1.0, std::max(1.15 * look.limits[k].high, histogram.most() + 1.0));
        const Bins bins = histogram.bins(96, 0.0, end);
        const Rect r{place.x, place.y + static_cast<float>(channel) * h, place.w, h + (channel + 1 == channels ? last : 0.0f)};
        const Plot plot(ui, r, 0.0, end, 0.0, 1.0, channel + 1 == channels ? "counts" : "", image.bands[static_cast<std::size_t>(bands[channel])].name);
        const double highest = static_cast<double>(std::max<std::uint64_t>(1, bins.highest()));
        for (std::size_t i = 0; i < bins.values.size(); ++i) {
            plot.bar(bins.low + bins.width * static_cast<double>(i), bins.low + bins.width * static_cast<double>(i + 1),
                     0.95 * static_cast<double>(bins.values[i]) / highest, bandInk(ui, bands[channel]).colour);
        }
        std::vector<double> x, y;
        for (const CurvePoint& point : stretchCurve(look.limits[k], look.screen_curve, image.most_count)) {
            x.push_back(point.count);
            y.push_back(0.98 * point.code / 255.0);
        }
        plot.line(x, y, ui.p.ink, 2.0f);
    }
}

void drawSpectra(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const std::optional<Picked>& pick = desk.session.picked();
    if (!pick || !pick->why) {
        ui.paragraph(place.x, place.y + 4 * ui.s, place.w, ui.fonts.small, ui.p.quiet, "Pick a pixel, and what its ground reflects stands here against the bands.");
        return;
    }
    const Craft& craft = *desk.session.crafts()[static_cast<std::size_t>(pick->craft)];
    const std::vector<MaterialSpectrum> spectra = spectraUnder(craft.formation(), pick->pixel.line, pick->pixel.sample);
    const std::vector<Band>& bands = craft.formation().image().bands;
    double first = 0.4, last = 1.0, most = 0.1;
    for (const Band& band : bands) {
        first = std::min(first, band.from_um - 0.02);
        last = std::max(last, band.to_um + 0.05);
    }
    const auto sampled = [&](const Spectrum& spectrum, std::vector<double>& x, std::vector<double>& y) {
        for (int i = 0; i <= 120; ++i) {
            x.push_back(first + (last - first) * i / 120.0);
            y.push_back(spectrum.at(x.back()));
            most = std::max(most, y.back());
        }
    };
    std::vector<std::vector<double>> xs(spectra.size()), ys(spectra.size());
    for (std::size_t i = 0; i < spectra.size(); ++i) sampled(spectra[i].reflectance, xs[i], ys[i]);
    std::string title = spectra.empty() ? "sky: no ground" : spectra.front().title.empty() ? spectra.front().name : spectra.front().title;
    for (std::size_t i = 1; i < spectra.size(); ++i) title += ", " + spectra[i].name;
    // Who measured it; where the values are tabulated stands in the scene's own file.
    const std::string whose = spectra.empty() ? "" : "Points: band means. " + spectra.front().source.substr(0, spectra.front().source.find(" ("));
    const float source = whose.empty() ? 0.0f : ui.paragraph(place.x, 0, place.w, ui.fonts.small, ui.p.quiet, whose, true) + 9 * ui.s;
    const Plot plot(ui, {place.x, place.y, place.w, place.h - source}, first, last, 0.0, 1.08 * most, "wavelength, µm", "reflectance: " + title);
    std::vector<ImVec2> names;
    for (std::size_t band = 0; band < bands.size(); ++band) {
        std::vector<double> x, y;
        for (const Spectrum::Point& corner : responseCorners(bands[band])) {
            x.push_back(corner.wavelength_um);
            y.push_back(0.999 * most * corner.value);
        }
        const BandInk ink = bandInk(ui, static_cast<int>(band));
        plot.line(x, y, ink.colour, 1.6f, ink.dash);
        const ImVec2 top = plot.at(bands[band].middle_um(), most);
        names.push_back({top.x, plot.inside().y + 3 * ui.s + (band % 2 == 0 ? 0.0f : 1.15f * ui.fonts.small->FontSize)});
    }
    for (std::size_t i = 0; i < spectra.size(); ++i) {
        plot.line(xs[i], ys[i], ui.p.ink, i == 0 ? 2.6f : 1.6f, i == 0 ? 0.0f : 5.0f);
        for (std::size_t band = 0; band < bands.size() && band < spectra[i].band_means.size(); ++band) {
            const ImVec2 mean = plot.at(bands[band].middle_um(), spectra[i].band_means[band]);
            ui.draw()->AddCircleFilled(mean, 5 * ui.s, ui.p.panel, 16);
            ui.draw()->AddCircleFilled(mean, 3.5f * ui.s, ui.p.ink, 16);
        }
    }
    for (std::size_t band = 0; band < bands.size(); ++band) {  // over all lines, on a ground of their own
        const ImVec2 at = names[band], extent = ui.size(ui.fonts.small, bands[band].name);
        ui.draw()->AddRectFilled({at.x - 0.5f * extent.x - 2 * ui.s, at.y}, {at.x + 0.5f * extent.x + 2 * ui.s, at.y + extent.y}, ui.p.blank, 2 * ui.s);
        ui.text(at.x, at.y, ui.fonts.small, ui.p.ink, bands[band].name, Align::centre);
    }
    if (!whose.empty()) ui.paragraph(place.x, place.bottom() - source + 9 * ui.s, place.w, ui.fonts.small, ui.p.quiet, whose);
}

}  // namespace

void drawBands(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    const Craft& craft = *desk.session.crafts()[static_cast<std::size_t>(desk.active)];
    if (place.w < 600 * s) {  // one over the other; the drawer rolls
        const float used = drawChannels(desk, {place.x, place.y, place.w, place.h}, craft) + 4 * s, plots = 190 * s;
        const float stretch = drawStretch(desk, {place.x, place.y + used, place.w, 0}) + 10 * s;
        const float y = place.y + used + stretch, half = 0.5f * (place.w - 12 * s);
        drawHistogram(desk, {place.x, y, half, plots}, craft);
        drawSpectra(desk, {place.x + half + 12 * s, y, half, plots});
        drawerReaches(y + plots + 8 * s);
        return;
    }
    const float left = std::max(0.42f * place.w, 316 * s), middle = 0.42f * (place.w - left);
    const float used = drawChannels(desk, {place.x, place.y, left - 14 * s, place.h}, craft);
    const float stretch = drawStretch(desk, {place.x, place.y + used + 2 * s, left - 14 * s, 0});
    drawerReaches(std::max(place.y + used + 2 * s + stretch + 4 * s, place.bottom()));
    drawHistogram(desk, {place.x + left, place.y, middle - 8 * s, place.h}, craft);
    drawSpectra(desk, {place.x + left + middle + 8 * s, place.y, place.w - left - middle - 8 * s, place.h});
}

}  // namespace linefall
