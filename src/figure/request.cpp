// From a scene's settings to a request, and back.

#include <algorithm>

#include "figure/figures.h"

namespace linefall {

namespace {

/// Collects what does not fit, each at the setting that said it.
class Checker {
public:
    Checker(const Scene& scene, const Formations& formations) : scene_(scene), formations_(formations) {}

    void refuse(const std::string& key, const std::string& read, const std::string& expected, const std::string& nearest = "") {
        const Setting* given = scene_.settings.find(key);
        problems.push_back({given == nullptr ? Place{} : given->place, key, read, expected, nearest});
    }
    std::optional<ShownPixel> sample(const std::string& key, const std::string& text) {
        if (text.empty()) return std::nullopt;
        const std::optional<ShownPixel> read = readShownPixel(text);
        if (!read) {
            refuse(key, "'" + text + "'", sample_expected);
            return std::nullopt;
        }
        if (static_cast<std::size_t>(read->instrument) >= formations_.size()) {
            const std::string last(1, static_cast<char>('A' + formations_.size() - 1));
            refuse(key, "'" + text + "'", "an instrument of this scene: A" + (formations_.size() > 1 ? " to " + last : std::string()));
            return std::nullopt;
        }
        const Formation& formation = *formations_[static_cast<std::size_t>(read->instrument)];
        if (read->line >= formation.lines() || read->sample >= formation.samples()) {
            refuse(key, "'" + text + "'",
                   "a line of 0 to " + std::to_string(formation.lines() - 1) + " and a sample of 0 to " + std::to_string(formation.samples() - 1));
            return std::nullopt;
        }
        return read;
    }

    Problems problems;

private:
    const Scene& scene_;
    const Formations& formations_;
};

bool asks(const std::vector<FigureKind>& kinds, FigureKind kind) { return std::find(kinds.begin(), kinds.end(), kind) != kinds.end(); }

/// Both ends of the profile; the line of the pixel where none is named.
void takeEnds(const FigureSettings& s, const Formations& formations, Checker& checker, FigureRequest& request) {
    request.from = checker.sample("figure.from", s.from);
    request.to = checker.sample("figure.to", s.to);
    if (s.from.empty() != s.to.empty()) {
        checker.refuse(s.from.empty() ? "figure.to" : "figure.from", "one end of the profile", "figure.from and figure.to, or neither");
    } else if (request.from && request.to) {
        if (request.from->instrument != request.to->instrument) {
            checker.refuse("figure.to", "'" + s.to + "'", "a pixel in the same picture as figure.from");
        } else if (*request.from == *request.to) {
            checker.refuse("figure.to", "'" + s.to + "'", "another pixel than figure.from");
        }
    } else if (s.from.empty() && asks(request.kinds, FigureKind::profile)) {
        const std::size_t asked = request.only.value_or(0);
        ShownPixel at = request.pixel.value_or(ShownPixel{static_cast<int>(asked), formations.at(asked)->lines() / 2, 0});
        const int last = formations[static_cast<std::size_t>(at.instrument)]->samples() - 1;
        if (last < 1) {
            checker.refuse("figure.what", "profile", "two different pixels, figure.from and figure.to: a line here has only one sample");
            return;
        }
        at.sample = 0;
        request.from = at;
        at.sample = last;
        request.to = at;
    }
}

/// The cause whose difference the picture shows; it must act in one of the pictures at least.
void takeCause(const FigureSettings& s, const Scene& scene, Checker& checker, FigureRequest& request) {
    if (s.difference.empty()) {  // as the window shows it
        const ShowSettings show = scene.showSettings();
        if (show.as == ShownAs::difference) request.difference = causeNamed(show.cause);
        return;
    }
    request.difference = causeNamed(s.difference);
    if (!request.difference) {
        std::string names;
        std::vector<std::string> known;
        for (const CauseRow& row : causeTable()) {
            names += (names.empty() ? "" : ", ") + std::string(row.word);
            known.emplace_back(row.word);
        }
        checker.refuse("figure.difference", "'" + s.difference + "'", "one of " + names, nearestName(s.difference, known));
        return;
    }
    std::string idle;
    for (std::size_t i = 0; i < scene.instruments.size(); ++i) {
        idle = whyIdle(scene, i, *request.difference);
        if (idle.empty()) return;
    }
    checker.refuse("figure.difference", "'" + s.difference + "'", "a cause that acts here (" + idle + ")");
}

void takeEye(const FigureSettings& s, Checker& checker, FigureRequest& request) {
    request.azimuth_rad = s.azimuth_rad;
    request.elevation_rad = s.elevation_rad;
    const bool some = s.distance_m || s.east_m || s.north_m || s.up_m;
    if (!some) return;
    if (!(s.azimuth_rad && s.elevation_rad && s.distance_m && s.east_m && s.north_m && s.up_m)) {
        for (const char* key : {"distance", "east", "north", "up"}) {
            const std::optional<double>& value = key[0] == 'd' ? s.distance_m : key[0] == 'e' ? s.east_m : key[0] == 'n' ? s.north_m : s.up_m;
            if (!value) continue;
            checker.refuse(std::string("figure.") + key, "a part of the eye's place",
                           "figure.azimuth, elevation, distance, east, north and up together, or none of the last four");
            return;
        }
    }
    Camera eye;
    eye.azimuth_rad = *s.azimuth_rad;
    eye.elevation_rad = *s.elevation_rad;
    eye.distance_m = *s.distance_m;
    eye.target_m = {*s.east_m, *s.north_m, *s.up_m};
    request.eye = eye;
}

}  // namespace

FigureRequest figureRequest(const Scene& scene, const Formations& formations, std::optional<std::size_t> only) {
    const FigureSettings s = figureKeys().read(scene.settings);
    Problems texts;
    checkFigureTexts(scene.settings, texts);
    if (!texts.empty()) throw InputError(texts);
    Checker checker(scene, formations);
    FigureRequest request;
    request.kinds = readKinds(s.what).value();
    request.scales = readScales(s.scales).value();
    request.quantity = static_cast<Scale>(s.quantity);
    request.night = s.theme == FigureTheme::night;
    request.plain = s.plain;
    request.only = only;
    const ShowSettings show = scene.showSettings();
    for (const auto& formation : formations) {
        if (only && formation != formations.at(*only)) continue;
        if (!chooseBands(formation->instrument().bands(), show.bands).name.empty()) continue;
        std::string names = "true colour, false colour";
        std::vector<std::string> known{"true colour", "false colour"};
        for (const Band& band : formation->instrument().bands()) {
            names += ", " + band.name;
            known.push_back(band.name);
        }
        checker.refuse("show.bands", "'" + show.bands + "'", "one of " + names, nearestName(show.bands, known));
        break;
    }
    request.pixel = checker.sample("show.pixel", show.pixel);
    if (show.pixel.empty() && asks(request.kinds, FigureKind::path)) {
        const std::size_t asked = only.value_or(0);
        const Formation& first = *formations.at(asked);
        const int fallen = std::max(1, fallenLines(scene, first));
        // While the picture falls: of its newest line, so that the flight stands where the clock does.
        request.pixel = ShownPixel{static_cast<int>(asked), scene.showSettings().time_s ? fallen - 1 : fallen / 2, first.samples() / 4};
    }
    takeCause(s, scene, checker, request);
    takeEnds(s, formations, checker, request);
    takeEye(s, checker, request);
    if (!checker.problems.empty()) throw InputError(checker.problems);
    return request;
}

int fallenLines(const Scene& scene, const Formation& formation) {
    const std::optional<double> time_s = scene.showSettings().time_s;
    return time_s ? formation.linesBy(*time_s) : formation.lines();
}

Scene withRequest(const Scene& scene, const FigureRequest& request, FigureKind kind) {
    Scene out = scene;
    const auto give = [&](const std::string& key, const Value& value) {
        const Parameter* row = findSceneRow(key);
        if (value == row->default_value) out.settings.forget(key);
        else out.settings.replace(*row, value);
    };
    const auto number = [](const std::optional<double>& value) { return value ? Value(*value) : Value(Auto{}); };
    const auto pixel = [](const std::optional<ShownPixel>& value) { return value ? writtenPixel(*value) : std::string(); };
    std::string scales;
    for (const int scale : request.scales) scales += (scales.empty() ? "" : ", ") + std::to_string(scale);
    give("show.pixel", pixel(request.pixel));
    give("figure.what", kindName(kind));
    give("figure.from", pixel(request.from));
    give("figure.to", pixel(request.to));
    give("figure.quantity", scaleNames().at(static_cast<std::size_t>(request.quantity)));
    give("figure.difference", request.difference ? std::string(rowOf(*request.difference).word) : std::string());
    give("figure.scales", scales);
    give("figure.theme", std::string(request.night ? "night" : "day"));
    give("figure.plain", request.plain);
    const std::optional<Camera>& eye = request.eye;
    give("figure.azimuth", number(eye ? eye->azimuth_rad : request.azimuth_rad));
    give("figure.elevation", number(eye ? eye->elevation_rad : request.elevation_rad));
    give("figure.distance", number(eye ? std::optional<double>(eye->distance_m) : std::nullopt));
    give("figure.east", number(eye ? std::optional<double>(eye->target_m.x) : std::nullopt));
    give("figure.north", number(eye ? std::optional<double>(eye->target_m.y) : std::nullopt));
    give("figure.up", number(eye ? std::optional<double>(eye->target_m.z) : std::nullopt));
    return out;
}

}  // namespace linefall
