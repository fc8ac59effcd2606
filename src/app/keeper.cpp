#include "app/keeper.h"

#include <fmt/format.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>

#include "app/desk.h"
#include "app/tools.h"
#include "scene/figure_settings.h"
#include "scene/whole_files.h"

namespace linefall {

namespace fs = std::filesystem;

namespace {

void showProblems(Desk& desk, const std::string& path) {
    desk.keep.opened = path;
    for (std::size_t i = 0; i < toolTable().size(); ++i) {
        if (toolTable()[i].act == Act::tool_keep) desk.open_tool = static_cast<int>(i);
    }
    desk.open_stop = -1;
}

std::string stateFolder() {
    const char* given = std::getenv("XDG_STATE_HOME");
    if (given != nullptr && *given == '/') return std::string(given) + "/linefall";
    const char* home = std::getenv("HOME");
    return home != nullptr && *home == '/' ? std::string(home) + "/.local/state/linefall" : "";
}

/// The process that a file "session-PID.toml" belongs to; 0 when it is no such file.
pid_t ownerOf(const fs::path& path) {
    const std::string name = path.filename().string();
    const std::string begin = "session-", end = ".toml";
    if (name.size() <= begin.size() + end.size() || name.rfind(begin, 0) != 0 || path.extension() != end) return 0;
    const std::string digits = name.substr(begin.size(), name.size() - begin.size() - end.size());
    if (digits.find_first_not_of("0123456789") != std::string::npos || digits.size() > 9) return 0;
    return static_cast<pid_t>(std::atol(digits.c_str()));
}

}  // namespace

void openFile(Desk& desk, const std::string& path) {
    showProblems(desk, path);
    Problems problems;
    const std::optional<SceneFileKind> kind = kindOfFile(path, problems);
    SceneRequest request;
    if (kind && *kind == SceneFileKind::state) {
        request.state = path;
    } else if (kind && desk.session.loaded()) {
        // The present scene, with one part exchanged.
        const Scene& scene = desk.session.scene();
        request.place = *kind == SceneFileKind::place ? path : scene.place->name;
        request.flight = *kind == SceneFileKind::flight ? path : *kind == SceneFileKind::place ? "" : scene.flight;
        for (const InstrumentSetup& setup : scene.instruments) request.instruments.push_back(setup.preset);
        if (*kind == SceneFileKind::instrument) request.instruments[static_cast<std::size_t>(desk.active)] = path;
        if (*kind == SceneFileKind::materials) {
            problems.push_back({{path, 0, 0}, "", "a list of materials", "a state, a place, an instrument or a flight; materials belong to a place", ""});
        }
    } else if (kind) {
        problems.push_back({{path, 0, 0}, "", "a file that is no state", "a state, while nothing flies yet", ""});
    }
    if (problems.empty()) desk.session.open(request);
    else desk.session.refuseOpen(problems);
}

std::string saveState(Desk& desk, const std::string& folder) {
    const std::string place = fs::path(desk.session.scene().place->name).stem().string();
    fs::path path;
    int number = 0;
    do path = fs::path(folder.empty() ? "." : folder) / fmt::format("{}-{:03}.toml", place, ++number);
    while (fs::exists(path));
    WholeFiles files;
    files.addText(path.string(), stateText(sceneToKeep(desk), path.parent_path().string()));
    files.commit();
    return path.string();
}

std::optional<ProfileEnds> measuredProfile(const Desk& desk) {
    const MeasureTool& tool = desk.measure;
    if (tool.kind != MeasureKind::profile || tool.places.size() != 2 || static_cast<std::size_t>(tool.craft) >= desk.session.crafts().size()) return std::nullopt;
    const Formation& formation = desk.session.crafts()[static_cast<std::size_t>(tool.craft)]->formation();
    const auto shown = [&](const PicturePlace& place) {
        const PixelIndex at = pixelAt(formation, place);
        return ShownPixel{tool.craft, at.line, at.sample};
    };
    const ProfileEnds ends{shown(tool.places[0]), shown(tool.places[1])};
    return ends.from == ends.to ? std::nullopt : std::optional(ends);
}

Scene sceneToKeep(const Desk& desk) {
    Scene scene = desk.session.sceneOfNow();
    const auto put = [&](const char* key, Value value) {
        const Parameter& row = *findSceneRow(key);
        if (value == row.default_value) scene.settings.forget(key);
        else scene.settings.replace(row, std::move(value));
    };
    const std::optional<ProfileEnds> profile = measuredProfile(desk);
    put("figure.from", profile ? writtenPixel(profile->from) : std::string());
    put("figure.to", profile ? writtenPixel(profile->to) : std::string());
    put("figure.quantity", scaleNames().at(static_cast<std::size_t>(profile ? desk.measure.scale : Scale::counts)));
    return scene;
}

void takeProfile(Desk& desk) {
    const FigureSettings figure = figureKeys().read(desk.session.scene().settings);
    const std::optional<ShownPixel> from = readShownPixel(figure.from), to = readShownPixel(figure.to);
    const auto& crafts = desk.session.crafts();
    if (!from || !to || from->instrument != to->instrument || static_cast<std::size_t>(from->instrument) >= crafts.size()) return;
    const Formation& formation = crafts[static_cast<std::size_t>(from->instrument)]->formation();
    const PicturePlace a = centreOf(from->sample, from->line), b = centreOf(to->sample, to->line);
    if (!inPicture(formation, a) || !inPicture(formation, b)) return;
    desk.measure.kind = MeasureKind::profile;
    desk.measure.craft = from->instrument;
    desk.measure.places = {a, b};
    desk.measure.other.clear();
    desk.measure.scale = static_cast<Scale>(figure.quantity);
}

LastState::LastState() : folder_(stateFolder()) {
    if (folder_.empty()) return;
    file_ = folder_ + fmt::format("/session-{}.toml", ::getpid());
    std::error_code error;
    fs::file_time_type newest{};
    for (const auto& entry : fs::directory_iterator(folder_, error)) {
        const pid_t owner = ownerOf(entry.path());
        if (owner <= 0 || owner == ::getpid() || fs::exists(fmt::format("/proc/{}", owner))) continue;
        const fs::file_time_type time = entry.last_write_time(error);
        if (left_ && time < newest) {
            fs::remove(entry.path(), error);  // an older one of the same kind
            continue;
        }
        if (left_) fs::remove(*left_, error);
        newest = time;
        left_ = entry.path().string();
    }
}

LastState::~LastState() {
    std::error_code error;
    if (!file_.empty()) fs::remove(file_, error);
}

void LastState::keep(const std::string& text) {
    if (file_.empty() || text == text_) return;
    text_ = text;
    std::error_code error;
    fs::create_directories(folder_, error);
    try {
        WholeFiles files;
        files.addText(file_, text);
        files.commit();
    } catch (const InputError&) {
        file_.clear();  // no room, or not allowed: the session flies on without
    }
}

void LastState::forget() {
    std::error_code error;
    if (left_) fs::remove(*left_, error);
    left_.reset();
}

}  // namespace linefall
