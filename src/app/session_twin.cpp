// Two parts of the session's work: instruments exchanged in flight, and the line that is gathered by hand.

#include <algorithm>

#include "app/machine.h"
#include "app/session.h"

namespace linefall {

/// What the exchanging job makes: one craft of the scene with another instrument.
struct Session::Exchange {
    std::size_t index = 0;
    int generation = 0;
    InstrumentSetup setup;
    std::unique_ptr<Craft> craft;
};

void Session::exchangeInstrument(std::size_t index, const std::string& preset) {
    if (!loaded() || index > crafts_.size()) return;
    exchange_problem_.clear();
    exchange_ = std::make_shared<Exchange>();
    exchange_->index = index;
    exchange_->generation = generation_;
    exchanger_.start([scene = scene_, preset, out = exchange_](const Cancel&) {
        const Scene next = withInstrument(scene, out->index, preset);
        checkMachine(next);
        out->setup = next.instruments[out->index];
        out->craft = std::make_unique<Craft>(next, out->index);
    });
}

void Session::takeExchanged() {
    if (!exchange_ || !exchanger_.ended()) return;
    const std::shared_ptr<Exchange> made = std::move(exchange_);
    exchange_.reset();
    try {
        exchanger_.finish();
        if (made->generation != generation_ || made->index > crafts_.size()) return;  // another scene flies by now
        Scene next = scene_;
        const bool more = made->index == next.instruments.size();
        if (more) next.instruments.push_back(made->setup);
        else next.instruments[made->index] = made->setup;
        made->craft->update(next, false);  // what was changed meanwhile
        letPickGo(static_cast<int>(made->index));
        dropHand();
        if (more) crafts_.push_back(std::move(made->craft));
        else crafts_[made->index] = std::move(made->craft);
        scene_ = std::move(next);
        takeCrew();
    } catch (const InputError& error) {
        exchange_problem_ = error.problems().front().text();
    } catch (const std::exception& error) {
        exchange_problem_ = error.what();
    }
}

void Session::sendHome() {
    if (!sending_home_) return;
    sending_home_ = false;
    if (crafts_.size() < 2) return;
    dropHand();
    letPickGo(static_cast<int>(crafts_.size()) - 1);
    crafts_.pop_back();
    scene_.instruments.pop_back();
    exchange_problem_.clear();
    takeCrew();
}

/// A pick in a picture that goes stays on its ground in another picture that sees it, else it is given up.
void Session::letPickGo(int craft) {
    if (!picked_ || picked_->craft != craft) return;
    for (std::size_t i = 0; i < picked_->linked.size() && i < crafts_.size(); ++i) {
        if (static_cast<int>(i) == craft || !picked_->linked[i]) continue;
        pick(static_cast<int>(i), picked_->linked[i]->pixel);
        return;
    }
    picked_.reset();
}

/// The crafts are others than before: the same share of the flight has passed, and the pick is linked anew.
void Session::takeCrew() {
    sceneChanged();
    clock_.setDuration(longest_s());
    std::erase_if(problems_, [](const auto& problem) { return problem.first.rfind("instrument.", 0) == 0; });
    for (const auto& craft : crafts_) craft->show(clock_.time_s());
    refreshPicked();
}

void Session::watchHand() {
    const std::optional<int> by_hand = handCraft();
    if (!by_hand) return;
    const Craft& craft = *crafts_[static_cast<std::size_t>(*by_hand)];
    if (craft.hand()->complete() && craft.settled()) endHand();
    else if (clock_.moving()) dropHand();
}

void Session::beginHand(int craft) {
    Craft& own = *crafts_[static_cast<std::size_t>(craft)];
    const Instrument& instrument = own.formation().instrument();
    const int line = momentAt(instrument, clock_.time_s()).line;
    double time_s = sweepOf(instrument, line).begins_s;
    if (line > 0) time_s = std::max(time_s, instrument.lineDone_s(line - 1));
    clock_.setPaused(true);
    scrub(time_s);
    own.takeByHand(time_s);
}

void Session::endHand() {
    const std::optional<int> craft = handCraft();
    if (!craft) return;
    const Craft& own = *crafts_[static_cast<std::size_t>(*craft)];
    scrub(own.formation().instrument().lineDone_s(own.hand()->line()));
    clock_.setPaused(false);
}

void Session::dropHand() {
    for (const auto& craft : crafts_) craft->dropHand();
}

std::optional<int> Session::handCraft() const {
    for (std::size_t i = 0; i < crafts_.size(); ++i) {
        if (crafts_[i]->hand()) return static_cast<int>(i);
    }
    return std::nullopt;
}

}  // namespace linefall
