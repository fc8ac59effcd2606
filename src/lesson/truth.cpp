#include "lesson/truth.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "base/constants.h"
#include "lesson/answer.h"
#include "lesson/block_reader.h"
#include "lesson/flown.h"
#include "lesson/names.h"
#include "lesson/variant.h"
#include "lesson/world_point.h"
#include "scene/givens.h"

namespace linefall {

namespace {

/// Problems of a lesson's settings are told at the scene that makes them.
[[noreturn]] void atScene(const InputError& error, const LessonScene& scene) {
    Problems problems = error.problems();
    for (Problem& problem : problems) {
        if (problem.place.file.empty() || problem.place.file.rfind("--", 0) == 0) problem.place = scene.set_place;
    }
    throw InputError(problems);
}

}  // namespace

Truths::Truths(const Lesson& lesson, int variant, int threads) : lesson_(lesson), variant_(variant), threads_(threads) {}
Truths::~Truths() = default;

Truths::Flown& Truths::flown(const std::string& name) {
    const LessonScene* plan = lesson_.findScene(name);
    if (plan == nullptr) throw std::runtime_error("no scene '" + name + "'");
    std::unique_ptr<Flown>& kept = flown_[plan->name];
    if (kept) return *kept;
    const Givens givens = givensOf(lesson_, variant_);
    SceneRequest request;
    request.place = lessonFile(lesson_, withGivens(plan->ground, givens));
    request.flight = plan->flight.empty() ? "straight" : lessonFile(lesson_, withGivens(plan->flight, givens));
    for (const std::string& instrument : plan->instruments) request.instruments.push_back(lessonFile(lesson_, withGivens(instrument, givens)));
    for (const auto& [key, value] : plan->set) request.sets.push_back(key + "=" + withGivens(value, givens));
    const auto more = more_.find(plan->name);
    if (more != more_.end()) {
        for (const auto& [key, value] : more->second) {
            // A plan's setting takes the place of the scene's own.
            const std::string start = key + "=";
            request.sets.erase(std::remove_if(request.sets.begin(), request.sets.end(), [&](const std::string& set) { return set.rfind(start, 0) == 0; }), request.sets.end());
            request.sets.push_back(start + value);
        }
    }
    request.givens = givens;
    request.threads = threads_;
    auto made = std::make_unique<Flown>();
    try {
        made->scene = loadScene(request);
    } catch (const InputError& error) {
        atScene(error, *plan);
    }
    const std::size_t count = made->scene.instruments.size();
    made->formations.resize(count);
    made->formed.resize(count);
    made->locators.resize(count);
    made->facts.resize(count);
    kept = std::move(made);
    return *kept;
}

const Scene& Truths::scene(const std::string& name) { return flown(name).scene; }

Formation& Truths::looks(const std::string& scene, int instrument) {
    Flown& f = flown(scene);
    const auto i = static_cast<std::size_t>(instrument);
    if (i >= f.formations.size()) throw std::runtime_error(std::string("no instrument ") + static_cast<char>('A' + instrument));
    if (!f.formations[i]) f.formations[i] = std::make_unique<Formation>(f.scene, i);
    return *f.formations[i];
}

Formation& Truths::formation(const std::string& scene, int instrument) {
    Formation& made = looks(scene, instrument);
    std::vector<bool>& formed = flown(scene).formed;
    const auto i = static_cast<std::size_t>(instrument);
    if (!formed[i]) made.formAll(threads_);
    formed[i] = true;
    return made;
}

Vec3 Truths::world(const LessonPoint& point, const std::string& scene, double time_s) {
    Flown& f = flown(scene);
    LessonPoint placed = point;
    placed.object = withGivens(placed.object, givensOf(lesson_, variant_));
    const auto valueOf = [&](const Formula& formula) {
        const Amount amount = evaluate(formula, scene);
        if (!(amount.dimension == Dimension::of(Kind::length)))
            throw InputError(Problem{formula.place, "points." + point.name, amount.dimension.text(), "a length, m", ""});
        return amount.value;
    };
    const Sunlight sun = sunlight(sunKeys().read(f.scene.settings), f.scene.place->site, {});
    return worldPoint(placed, *f.scene.place->ground, sun.towards, valueOf, time_s);
}

std::optional<Truths::Met> Truths::met(const LessonPoint& point, const std::string& scene, int instrument) {
    Flown& f = flown(scene);
    auto& locator = f.locators.at(static_cast<std::size_t>(instrument));
    if (!locator) locator = std::make_unique<Locator>(f.scene, static_cast<std::size_t>(instrument));
    Vec3 at_m = world(point, scene);
    auto at = locator->locate(at_m);
    // What moves is met where it stands at the time of the look that meets it: each step shrinks the error by the thing's speed
    // over that of the flight. What stands still is found again where it was.
    for (int i = 0; i < 60 && at; ++i) {
        const double time_s = at->ray.time_s;
        at_m = world(point, scene, time_s);
        at = locator->locate(at_m);
        if (at && std::abs(at->ray.time_s - time_s) < 1e-9) break;
    }
    const bool inside = at && at->sample >= 0.0 && at->line >= 0.0 && at->sample <= locator->aim().samples() && at->line <= locator->aim().lines();
    return inside ? std::optional<Met>(Met{at_m, {at->sample, at->line}}) : std::nullopt;
}

namespace {

const LessonPoint& findPoint(const Lesson& lesson, const std::string& name) {
    const auto point = std::find_if(lesson.points.begin(), lesson.points.end(), [&](const LessonPoint& p) { return p.name == name; });
    if (point == lesson.points.end()) throw std::runtime_error("no point '" + name + "'");
    return *point;
}

}  // namespace

Vec3 Truths::point_m(const std::string& name, const std::string& scene) { return world(findPoint(lesson_, name), scene); }

PicturePlace Truths::place(const std::string& name, const std::string& scene, int instrument) {
    const LessonPoint& point = findPoint(lesson_, name);
    if (const auto found = met(point, scene, instrument)) return found->place;
    throw InputError(Problem{point.place, "points." + name,
                             "variant " + std::to_string(variant_ + 1) + ": outside the picture of " + std::string(1, static_cast<char>('A' + instrument)) + " in scene " + lesson_.findScene(scene)->name,
                             "a point that the picture shows", ""});
}

std::string Truths::hiddenBy(const std::string& name, const std::string& scene, int instrument) {
    const auto found = met(findPoint(lesson_, name), scene, instrument);
    if (!found) return "";
    const auto seen = flown(scene).locators.at(static_cast<std::size_t>(instrument))->seen(found->at_m);
    return seen && !seen->visible ? seen->hidden_by : "";
}

std::optional<PicturePlace> Truths::seen(const LessonPoint& point, const std::string& scene, int instrument) {
    try {
        const auto found = met(point, scene, instrument);
        return found ? std::optional<PicturePlace>(found->place) : std::nullopt;
    } catch (const InputError&) {  // no shadow on the ground, for one
        return std::nullopt;
    }
}

std::optional<Amount> Truths::given(const std::string& name) const {
    const std::string* text = givenText(lesson_, variant_, name);
    if (text == nullptr) return std::nullopt;
    const ReadNumber number = readNumber(*text);
    if (!number.ok()) throw std::runtime_error(name + " is '" + *text + "' in this variant, where a number is expected");
    return number.amount(*findUnit(""));
}

Amount Truths::measured(const LessonMeasure& measure, const std::string& scene) {
    const std::string& in = measure.scene.empty() ? scene : measure.scene;
    const std::string key = measure.name + "\n" + lesson_.findScene(in)->name;
    if (const auto found = kept_.find(key); found != kept_.end()) return found->second;
    std::vector<PicturePlace> places;
    for (const std::string& point : measure.points) places.push_back(place(point, in, measure.instrument));
    int size = 9;
    if (measure.size.given()) {
        const Amount asked = evaluate(measure.size, in);
        if (!asked.dimension.pure() || !(asked.value >= 1.0 && asked.value <= 999.0))
            throw InputError(Problem{measure.size.place, "size", textOf(asked), "an odd number of pixels, 1 to 999", ""});
        size = static_cast<int>(asked.value);
    }
    // Where a pixel looks needs no light: lengths and angles are those of the very looks that a formed line keeps. Counts need
    // the lines that are read, and no others.
    Formation& made = looks(in, measure.instrument);
    if (readsCounts(measure)) {
        const int line = static_cast<int>(places.front().line), half = size / 2 + 1;
        made.form(std::max(line - half, 0), std::min(line + half + 1, made.lines()), threads_);
    }
    return kept_[key] = readMeasure(measure, made, places, size);
}

Amount Truths::plain(const std::string& name, const std::string& scene, int instrument, const Stand* stand) {
    if (stand != nullptr && instrument < 0) {
        if (const auto own = stand->find(name); own != stand->end()) return own->second;
    }
    if (instrument < 0) {
        if (const auto amount = given(name)) return *amount;
        for (const auto& [let, formula] : lesson_.names) {
            if (let == name) return evaluate(formula, scene, stand);
        }
        for (const LessonMeasure& measure : lesson_.measures) {
            if (measure.name == name) return measured(measure, scene);
        }
    }
    Flown& f = flown(scene);
    const int i = std::max(instrument, 0);
    if (name.rfind("object.", 0) == 0) {
        const std::size_t last = name.rfind('.');
        const std::string object = last > 7 ? name.substr(7, last - 7) : "";
        const Object* found = findObject(*f.scene.place->ground, object);
        if (found == nullptr) throw std::runtime_error("no thing '" + object + "' in the place");
        if (const auto value = propertyOf(*found, name.substr(last + 1))) return {*value, Dimension::of(Kind::length)};
        throw std::runtime_error("height, east, north, base, length or width of a thing");
    }
    auto& facts = f.facts.at(static_cast<std::size_t>(i));
    if (std::any_of(factNames().begin(), factNames().end(), [&](const FactName& fact) { return fact.name == name; })) {
        if (!facts) facts = factsOfScene(f.scene, static_cast<std::size_t>(i));
        return *factOf(*facts, name);
    }
    int own = i;
    if (const Parameter* row = findLessonKey(f.scene, name, own)) return settingAmount(f.scene, *row, own);
    throw std::runtime_error("a name that stands for something: given, let, measure, fact or declared key");
}

Amount Truths::named(const std::string& name, const std::string& scene, const Stand* stand) {
    if (name == "pi") return {constants::pi, {}};
    const CutName cut = cutName(lesson_, name);
    const std::string& in = cut.scene.empty() ? scene : cut.scene;
    const std::string key = cut.rest + "\n" + in + "\n" + std::to_string(cut.instrument);
    if (!asking_.insert(key).second) throw std::runtime_error("'" + name + "' leads back to itself");
    try {
        const Amount amount = plain(cut.rest, in, cut.instrument, stand);
        asking_.erase(key);
        return amount;
    } catch (...) {
        asking_.erase(key);
        throw;
    }
}

Amount Truths::evaluate(const Formula& formula, const std::string& scene, const Stand* stand) {
    try {
        return formula.expression.evaluate([&](const std::string& name) { return named(name, scene, stand); });
    } catch (const InputError&) {
        throw;
    } catch (const ExpressionError& error) {
        Place place = formula.place;
        place.column += static_cast<int>(error.offset) + 1;
        throw InputError(Problem{place, "", "'" + formula.expression.text() + "' (variant " + std::to_string(variant_ + 1) + ")", error.what(), ""});
    }
}

bool Truths::holds(const Formula& formula, const std::string& scene) {
    const Amount value = evaluate(formula, scene);
    if (!value.dimension.pure()) throw InputError(Problem{formula.place, "", value.dimension.text(), "a condition, such as a < b", ""});
    return value.value != 0.0;
}

std::string Truths::shown(const std::string& asked, const std::string& scene) {
    std::vector<std::string> parts(1);
    for (const char c : asked) {
        if (c == '|') parts.emplace_back();
        else parts.back() += c;
    }
    if (parts.size() == 1) {
        if (const std::string* text = givenText(lesson_, variant_, parts[0])) return *text;
    }
    Formula formula;
    formula.place = {lesson_.file, 0, 0};
    try {
        formula.expression = Expression(parts[0]);
    } catch (const ExpressionError& error) {
        throw InputError(Problem{formula.place, "", "'{" + asked + "}'", error.what(), ""});
    }
    const Amount amount = evaluate(formula, scene);
    const UnitOfText* unit = parts.size() > 1 ? findUnit(parts[1]) : nullptr;
    const int figures = parts.size() > 2 ? std::clamp(std::atoi(parts[2].c_str()), 1, 9) : 3;
    if (parts.size() > 1 && (unit == nullptr || !(unit->dimension == amount.dimension)))
        throw InputError(Problem{formula.place, "", "'{" + asked + "}'", "a unit of " + amount.dimension.text(), ""});
    return unit != nullptr ? textIn(*unit, amount.value, figures) : textOf(amount, figures);
}

std::string Truths::text(const std::string& text, const std::string& scene) {
    return filledText(text, [&](const std::string& name) { return shown(name, scene); });
}

std::vector<Prose> Truths::text(const std::vector<Prose>& blocks, const std::string& scene) {
    return filled(blocks, [&](const std::string& name) { return shown(name, scene); });
}

std::unique_ptr<Truths> Truths::planned(const std::string& scene, const std::vector<std::pair<std::string, std::string>>& set) const {
    auto other = std::make_unique<Truths>(lesson_, variant_, threads_);
    other->more_ = more_;
    auto& more = other->more_[lesson_.findScene(scene)->name];
    more.insert(more.end(), set.begin(), set.end());
    return other;
}

const Parameter* findLessonKey(const Scene& scene, const std::string& key, int& instrument) {
    if (const Parameter* row = findSceneRow(key)) return row;
    std::string bare = key;
    if (key.size() > 2 && key[1] == '.' && key[0] >= 'A' && key[0] <= 'Z') {
        instrument = key[0] - 'A';
        bare = key.substr(2);
    }
    if (instrument < 0 || instrument >= static_cast<int>(scene.instruments.size())) return nullptr;
    return findInstrumentRow(scene.instruments[static_cast<std::size_t>(instrument)].kindOf(), bare);
}

}  // namespace linefall
