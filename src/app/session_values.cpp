// Values of a session's scene, as typed or dragged; and another scene in its place.

#include "app/machine.h"
#include "app/session.h"
#include "scene/scene_files.h"

namespace linefall {

namespace {

std::string problemKey(const ParameterOf& parameter) { return parameter.row->key + "#" + std::to_string(parameter.craft); }

/// Settings under which the brightness of a picture stays comparable.
bool keepsLook(const std::string& key) {
    for (const char* prefix : {"sun.", "air.", "effect.", "noise.", "show.as", "show.cause", "show.displacement", "show.resampling", "show.map_height", "show.turned"}) {
        if (key.rfind(prefix, 0) == 0) return key != "effect.quantisation";
    }
    return false;
}

}  // namespace

ParameterOf Session::sceneParameter(const std::string& key) const { return {findSceneRow(key), -1}; }

Value Session::valueOf(const ParameterOf& parameter) const {
    const Settings& settings =
        parameter.craft < 0 ? scene_.settings : scene_.instruments.at(static_cast<std::size_t>(parameter.craft)).settings;
    const Setting* given = settings.find(parameter.row->key);
    return given != nullptr ? given->value : parameter.row->default_value;
}

std::string Session::problemOf(const ParameterOf& parameter) const {
    const std::string key = problemKey(parameter);
    for (const auto& problem : problems_) {
        if (problem.first == key) return problem.second;
    }
    return "";
}

void Session::clearProblem(const ParameterOf& parameter) {
    std::erase_if(problems_, [key = problemKey(parameter)](const auto& problem) { return problem.first == key; });
}

std::string Session::setText(const ParameterOf& parameter, const std::string& text) {
    Problems problems;
    const std::optional<Value> value = readValue(*parameter.row, text, {}, problems);
    if (value) return setValue(parameter, *value);
    clearProblem(parameter);
    const Problem& problem = problems.front();
    const std::string words = "expected " + problem.expected + (problem.nearest.empty() ? "" : "; did you mean " + problem.nearest + "?");
    problems_.emplace_back(problemKey(parameter), words);
    return words;
}

std::string Session::setValue(const ParameterOf& parameter, const Value& value) { return setValues({{parameter, value}}); }

std::string Session::setValues(const std::vector<std::pair<ParameterOf, Value>>& values) {
    if (!loaded()) return "";
    Scene next = scene_;
    for (const auto& change : values) {
        const ParameterOf& parameter = change.first;
        clearProblem(parameter);
        Settings& settings = parameter.craft < 0 ? next.settings : next.instruments.at(static_cast<std::size_t>(parameter.craft)).settings;
        settings.replace(*parameter.row, change.second);
    }
    const std::string wrong = apply(next, values.front().first.row->key);
    if (!wrong.empty()) problems_.emplace_back(problemKey(values.front().first), wrong);
    return wrong;
}

std::string Session::apply(const Scene& next, const std::string& key) {
    std::size_t done = 0;
    if (key == "sun.azimuth" || key == "sun.elevation") {  // always possible: nothing to check first
        scene_ = next;
        ++scene_version_;
        behind_ = true;
        ++light_version_;
        return "";
    }
    try {
        if (!keepsLook(key)) {  // a slider can ask for more than there is
            Problems problems;
            checkGeometry(next, true, problems);
            if (!problems.empty()) throw InputError(problems);
            checkMachine(next);
        }
        for (; done < crafts_.size(); ++done) crafts_[done]->update(next, keepsLook(key));
    } catch (const InputError& error) {
        for (std::size_t i = 0; i < done; ++i) crafts_[i]->update(scene_, keepsLook(key));
        const Problem& problem = error.problems().front();
        return problem.expected.empty() ? std::string(error.what()) : "expected " + problem.expected;
    }
    scene_ = next;
    sceneChanged();
    behind_ = false;
    clock_.setDuration(longest_s());
    const auto begins = [&](const char* prefix) { return key.rfind(prefix, 0) == 0; };
    if (begins("sun.") || begins("air.") || begins("effect.")) ++light_version_;
    refreshPicked(begins("sun.") || begins("air."));
    return "";
}

std::string Session::takeScene(const Scene& next) {
    if (!loaded()) return "";
    const bool same_place = next.place == scene_.place, as_many = next.instruments.size() == crafts_.size();
    try {
        if (as_many) {
            const std::string wrong = apply(next, "");
            if (!wrong.empty()) return wrong;
        } else {
            std::vector<std::unique_ptr<Craft>> crafts;
            for (std::size_t i = 0; i < next.instruments.size(); ++i) crafts.push_back(std::make_unique<Craft>(next, i));
            crafts_ = std::move(crafts);
            picked_.reset();
            scene_ = next;
            sceneChanged();
            behind_ = false;
            clock_.setDuration(longest_s());
        }
    } catch (const InputError& error) {
        return error.what();
    }
    problems_.clear();
    ++light_version_;
    if (same_place && as_many) return "";
    ++generation_;
    if (!same_place) dropDrape();
    return "";
}

}  // namespace linefall
