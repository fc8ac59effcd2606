#pragma once
// Inside the lesson module: one scene of one variant, made step by step as it is asked for.

#include <memory>
#include <optional>
#include <vector>

#include "flight/locate.h"
#include "flight/scene_facts.h"
#include "lesson/truth.h"

namespace linefall {

struct Truths::Flown {
    Scene scene;
    std::vector<std::unique_ptr<Formation>> formations;
    std::vector<bool> formed;
    std::vector<std::unique_ptr<Locator>> locators;
    std::vector<std::optional<Facts>> facts;
};

/// A fact by its name; nothing when there is none of that name. Throws std::runtime_error where the instrument has no such value.
[[nodiscard]] std::optional<Amount> factOf(const Facts& facts, const std::string& name);
/// The value of a declared number, flag or share; throws std::runtime_error for words and for what is derived.
[[nodiscard]] Amount settingAmount(const Scene& scene, const Parameter& row, int instrument);
/// A property of a thing, "height".
[[nodiscard]] std::optional<double> propertyOf(const Object& object, const std::string& property);
/// True for measures of counts: lines must be formed for them.
[[nodiscard]] bool readsCounts(const LessonMeasure& measure);
/// What a measure reads in a picture whose points are at `places`. Throws InputError at the measure.
[[nodiscard]] Amount readMeasure(const LessonMeasure& measure, Formation& formation, const std::vector<PicturePlace>& places, int area_pixels);

}  // namespace linefall
