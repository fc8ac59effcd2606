#include "paper/needs.h"

#include <algorithm>
#include <set>

#include "lesson/names.h"
#include "lesson/truth.h"

namespace linefall {

namespace {

bool begins(const std::string& text, const std::string& start) { return text.rfind(start, 0) == 0; }

/// Follows names through [let] to measures. Ends, since every name is followed once.
class Follower {
public:
    Follower(const Lesson& lesson, std::vector<NeededPicture>& out, std::vector<NeededMeasure>* measures = nullptr) : lesson_(lesson), out_(out), measures_(measures) {}

    void add(const std::string& scene, int instrument) {
        const LessonScene* found = lesson_.findScene(scene);
        if (found == nullptr) return;
        const NeededPicture one{found->name, instrument};
        if (std::find(out_.begin(), out_.end(), one) == out_.end()) out_.push_back(one);
    }
    void formula(const Formula& f, const std::string& scene) {
        for (const std::string& name : f.expression.names()) follow(name, scene);
    }
    /// True when the names that were followed lead to the size of a pixel and nowhere else.
    [[nodiscard]] bool pixelSizeAlone() const { return pixel_size_ && !else_where_; }

private:
    void follow(const std::string& name, const std::string& scene) {
        if (!seen_.insert(name + "\n" + scene).second) return;
        const CutName cut = cutName(lesson_, name);
        const std::string in = cut.scene.empty() ? scene : cut.scene;
        for (const auto& [let, f] : lesson_.names) {
            if (let == cut.rest) return formula(f, in);
        }
        (begins(cut.rest, "gsd_") || begins(cut.rest, "spacing_") ? pixel_size_ : else_where_) = true;
        for (const LessonMeasure& measure : lesson_.measures) {
            if (measure.name != cut.rest || measure.of == "trace") continue;  // the walk of light is in no picture
            const std::string where = measure.scene.empty() ? in : measure.scene;
            add(where, measure.instrument);
            if (measures_ != nullptr) measures_->push_back({&measure, lesson_.findScene(where)->name});
        }
    }

    const Lesson& lesson_;
    std::vector<NeededPicture>& out_;
    std::vector<NeededMeasure>* measures_;
    std::set<std::string> seen_;
    bool pixel_size_ = false, else_where_ = false;
};

/// True when a number asks for the size of a pixel: its truth leads there and nowhere else.
bool asksPixelSize(const Lesson& lesson, const Part& part) {
    std::vector<NeededPicture> measured;
    Follower follower(lesson, measured);
    follower.formula(part.truth, part.scene);
    return follower.pixelSizeAlone();
}

void followStep(const Step& step, Follower& follower) {
    const bool measuring = step.kind == StepKind::observe || step.kind == StepKind::measure || step.kind == StepKind::explain;
    for (const Part& part : step.parts) {
        const std::string scene = part.scene.empty() ? step.scene : part.scene;
        if (part.kind == Part::Kind::point || part.kind == Part::Kind::line) follower.add(scene, part.instrument);
        if (!measuring) continue;
        if (part.kind == Part::Kind::match) follower.add(scene, 0);
        follower.formula(part.truth, scene);
        if (step.kind == StepKind::explain) continue;
        for (const ChoiceOption& option : part.options) follower.formula(option.when, scene);
    }
}

}  // namespace

std::vector<NeededPicture> picturesOf(const Lesson& lesson, const Step& step) {
    std::vector<NeededPicture> pictures;
    Follower follower(lesson, pictures);
    followStep(step, follower);
    return pictures;
}

std::vector<NeededMeasure> measuresOf(const Lesson& lesson, const Step& step) {
    std::vector<NeededPicture> pictures;
    std::vector<NeededMeasure> measures;
    Follower follower(lesson, pictures, &measures);
    followStep(step, follower);
    return measures;
}

bool isMeasuredIn(const Lesson& lesson, const NeededPicture& picture) {
    return std::any_of(lesson.steps.begin(), lesson.steps.end(), [&](const Step& step) {
        const std::vector<NeededMeasure> measures = measuresOf(lesson, step);
        const bool by_measure = std::any_of(measures.begin(), measures.end(), [&](const NeededMeasure& m) { return !readsAreas(*m.measure) && NeededPicture{m.scene, m.measure->instrument} == picture; });
        return by_measure || std::any_of(step.parts.begin(), step.parts.end(), [&](const Part& part) {
            const LessonScene* scene = lesson.findScene(part.scene.empty() ? step.scene : part.scene);
            const bool places = part.kind == Part::Kind::point || part.kind == Part::Kind::line || part.kind == Part::Kind::match;
            return places && scene != nullptr && NeededPicture{scene->name, part.kind == Part::Kind::match ? 0 : part.instrument} == picture;
        });
    });
}

bool showsPicture(const LessonFigure& figure) {
    static const std::set<std::string> looks{"show.bands", "show.stretch", "show.low_percent", "show.high_percent", "show.low_count", "show.high_count", "show.turned"};
    return figure.kind == "picture" && std::all_of(figure.set.begin(), figure.set.end(), [](const auto& one) { return looks.count(one.first) != 0; });
}

RuledWith besideOf(const Lesson& lesson, const Step& step) {
    RuledWith with;
    for (const LessonFigure& figure : step.figures) {
        const bool plain = std::any_of(figure.set.begin(), figure.set.end(), [](const auto& set) { return set.first == "figure.plain" && set.second == "true"; });
        if (plain) with.north = with.sun = false;
    }
    for (const Part* part : lesson.parts()) {
        if (part->kind == Part::Kind::number && asksPixelSize(lesson, *part)) with.scale = false;
        if (part->kind != Part::Kind::match) continue;
        for (const WantedSetting& setting : part->settings) {
            if (begins(setting.key, "sun.")) with.sun = false;
            if (begins(setting.key, "flight.") || setting.key.find("instrument.") != std::string::npos) with.scale = false;
            if (setting.key == "flight.heading") with.north = false;
        }
    }
    return with;
}

}  // namespace linefall
