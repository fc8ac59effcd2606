#include "app/cause_study.h"

#include <algorithm>
#include <cmath>

#include "app/machine.h"

namespace linefall {

namespace {

constexpr double between_counts_s = 0.5;  ///< the colours' limit moves no more often while lines fall

}  // namespace

CauseView causeViewOf(const Scene& scene) {
    const ShowSettings show = scene.showSettings();
    CauseView view;
    view.cause = causeNamed(show.cause).value_or(view.cause);
    view.difference = show.as == ShownAs::difference;
    view.map = show.as == ShownAs::map;
    view.places = show.displacement;
    view.resampling = show.resampling == MapResampling::nearest ? Resampling::nearest : Resampling::bilinear;
    view.level = show.map_height == MapHeight::datum ? MapLevel::datum : MapLevel::ground;
    return view;
}

void CauseStudy::match(Session& session, std::size_t index) {
    Pair& pair = pairs_[index];
    const Craft& own = *session.crafts()[index];
    if (pair.other && pair.scene_version == session.sceneVersion() && pair.own_version == own.version()) return;
    const Scene& scene = session.scene();
    pair.on = isOn(scene, cause_);
    const Scene otherwise = switched(scene, cause_, !pair.on);
    if (!pair.other || pair.own_version != own.version()) {
        checkMachine(scene, true);
        pair.other = std::make_unique<Craft>(otherwise, index);
    } else {
        pair.other->update(otherwise, true);
    }
    pair.scene_version = session.sceneVersion();
    pair.own_version = own.version();
    const Image &a = own.formation().image(), &b = pair.other->formation().image();
    pair.shown.difference = pair.on ? differenceOf(a, b, 0, 0) : differenceOf(b, a, 0, 0);
    pair.shown.stands.assign(static_cast<std::size_t>(a.lines()), 0);
    pair.shown.old = false;
    pair.taken.clear();
}

void CauseStudy::take(Session& session, std::size_t index) {
    Pair& pair = pairs_[index];
    const Craft& own = *session.crafts()[index];
    const int last = std::min(own.shown(), pair.other->shown());
    for (int line = 0; line < last; ++line) {
        char& stands = pair.shown.stands[static_cast<std::size_t>(line)];
        if (stands != 0 || !own.formation().ready(line) || !pair.other->formation().ready(line)) continue;
        const Image &a = own.formation().image(), &b = pair.other->formation().image();
        takeDifference(pair.shown.difference, pair.on ? a : b, pair.on ? b : a, line, line + 1);
        stands = 1;
        pair.taken.push_back(line);
        pair.counted = false;
    }
}

void CauseStudy::count(const Craft& own, Pair& pair) {
    Shown& shown = pair.shown;
    // Lines stand in runs; the numbers are those of the first run, which is all that fell once the image is formed.
    const auto end = std::find(shown.stands.begin(), shown.stands.begin() + own.shown(), 0);
    const int lines = static_cast<int>(end - shown.stands.begin());
    pair.counted = true;
    pair.since_s = 0.0;
    if (lines == 0) return;
    const double limit = differenceLimit(shown.difference, own.look().bands, 0, lines);
    shown.numbers.clear();
    for (int band = 0; band < static_cast<int>(shown.difference.bands.size()); ++band) shown.numbers.push_back(statisticsOf(shown.difference, band, 0, lines));
    if (std::abs(limit - shown.limit) <= 0.02 * shown.limit) return;
    shown.limit = limit;
    ++shown.version;
}

void CauseStudy::judge(const Session& session, double seconds) {
    bool whole = true;
    for (std::size_t i = 0; i < pairs_.size() && i < session.crafts().size(); ++i) {
        Shown& shown = pairs_[i].shown;
        const auto fallen = std::min<std::ptrdiff_t>(session.crafts()[i]->shown(), static_cast<std::ptrdiff_t>(shown.stands.size()));
        const auto standing = shown.old ? 0 : std::count_if(shown.stands.begin(), shown.stands.begin() + fallen, [](char stands) { return stands != 0; });
        shown.fresh = fallen == 0 ? 1.0 : static_cast<double>(standing) / static_cast<double>(fallen);
        whole = whole && shown.fresh > 0.98;  // while lines fall, the last few are always being taken
    }
    stale_s_ = whole ? 0.0 : stale_s_ + seconds;
}

void CauseStudy::frame(Session& session, double seconds, double budget_ms) {
    const CauseView view = session.loaded() ? causeViewOf(session.scene()) : CauseView{};
    if (!view.difference) {
        pairs_.clear();
        problem_.clear();
        return;
    }
    if (session.behind()) {  // both must fly under the same sun; what is shown is of the sun before
        for (Pair& pair : pairs_) pair.shown.old = true;
        return judge(session, seconds);
    }
    if (cause_ != view.cause) pairs_.clear();
    cause_ = view.cause;
    pairs_.resize(session.crafts().size());
    try {
        for (std::size_t i = 0; i < pairs_.size(); ++i) {
            Pair& pair = pairs_[i];
            const int before = pair.own_version;
            match(session, i);
            if (before != pair.own_version) ++pair.shown.version;
            Craft& own = *session.crafts()[i];
            (void)pair.other->advance(session.clock().time_s(), budget_ms / static_cast<double>(pairs_.size()));
            pair.other->show(session.clock().time_s());
            (void)pair.other->takeFallen();
            take(session, i);
            pair.since_s += seconds;
            const bool rests = own.settled() && pair.other->settled() && !session.clock().moving();
            if (!pair.counted && (rests || pair.since_s >= between_counts_s)) count(own, pair);
        }
        judge(session, seconds);
        problem_.clear();
    } catch (const InputError& error) {
        problem_ = error.what();
        pairs_.clear();
    }
}

bool CauseStudy::busy() const {
    return std::any_of(pairs_.begin(), pairs_.end(), [](const Pair& pair) { return !pair.counted || (pair.other && !pair.other->settled()); });
}

const CauseStudy::Shown* CauseStudy::shown(std::size_t craft) const {
    return craft < pairs_.size() && pairs_[craft].other ? &pairs_[craft].shown : nullptr;
}

std::vector<int> CauseStudy::takeLines(std::size_t craft) {
    std::vector<int> out;
    if (craft < pairs_.size()) out.swap(pairs_[craft].taken);
    return out;
}

}  // namespace linefall
