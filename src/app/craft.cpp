#include "app/craft.h"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <iterator>

namespace linefall {

namespace {

/// Lines for which one stands while a picture is lit again: a coarse view at once, then finer ones.
constexpr int preview_steps[] = {32, 8, 1};

std::atomic<int> made = 0;  ///< so that two crafts never show the same version

double now_ms() {
    return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

}  // namespace

Craft::Craft(const Scene& scene, std::size_t index)
    : version_(1000 * ++made), index_(index), formation_(std::make_unique<Formation>(scene, index)), title_(scene.instruments.at(index).title) {
    manner_ = formation_->manner();
    takeShow(scene);
    makeLook();
    restale();
}

void Craft::makeLook() {
    // A few lines spread over the whole flight decide how all of it is shown: the picture does not flicker while it falls.
    for (const int line : stretchLines(formation_->lines())) formation_->form(line, line + 1, 1);
    look_ = lookOf(formation_->image(), bands_, stretch_);
}

void Craft::restale() {
    state_.assign(static_cast<std::size_t>(formation_->lines()), 0);
    stale_ = shown_ = std::min(shown_, formation_->lines());
    cursor_ = pass_ = 0;
    partly_ = {};
    partly_waits_ = true;
}

void Craft::update(const Scene& scene, bool keep_look) {
    const Ready kept = formation_->update(scene);
    title_ = scene.instruments.at(index_).title;
    manner_ = formation_->manner();
    const bool shown_otherwise = takeShow(scene);
    if (kept == Ready::counts && !shown_otherwise) return;
    if (kept == Ready::nothing) {
        hand_.reset();  // another line, or none
        ++version_;
        edges_made_ = false;
    }
    if (!keep_look || kept == Ready::nothing || shown_otherwise) makeLook();
    restale();
}

bool Craft::takeShow(const Scene& scene) {
    const ShowSettings show = scene.showSettings();
    const Stretch stretch = stretchOf(show);
    const bool otherwise = bands_ != show.bands || !(stretch_ == stretch);
    bands_ = show.bands;
    stretch_ = stretch;
    return otherwise;
}

void Craft::stretchAgain() {
    makeLook();
    restale();
}

void Craft::setLook(const std::string& bands, const PictureLook& look) {
    bands_ = bands;
    if (look == look_) return;
    look_ = look;
    restale();
}

void Craft::fell(int line, int height) {
    int last = line;  // a preview never covers a line that stands as formed
    for (; last < std::min(line + height, shown_) && (last == line || state_[static_cast<std::size_t>(last)] < 2); ++last) {
        std::uint8_t& state = state_[static_cast<std::size_t>(last)];
        const std::uint8_t next = last == line ? 2 : 1;
        if (state < 2 && next == 2) --stale_;
        state = std::max(state, next);
    }
    fallen_.push_back({line, last - line});
}

void Craft::formStale(double end_ms) {
    while (stale_ > 0 && now_ms() < end_ms) {
        const int step = preview_steps[pass_];
        if (cursor_ >= shown_) {
            cursor_ = 0;
            pass_ = std::min(pass_ + 1, static_cast<int>(std::size(preview_steps)) - 1);
            continue;
        }
        if (state_[static_cast<std::size_t>(cursor_)] == 2) {
            cursor_ += step;
            continue;
        }
        // A preview stands for its neighbours; the last pass takes lines in groups, so that two processors share them.
        const int last = step > 1 ? cursor_ + 1 : std::min(shown_, cursor_ + 8);
        formation_->form(cursor_, last, step > 1 ? 1 : 0);
        for (; cursor_ < last; ++cursor_) {
            if (state_[static_cast<std::size_t>(cursor_)] != 2) fell(cursor_, step);
        }
        if (step > 1) cursor_ += step - 1;
    }
}

Partly Craft::partlyAt(double time_s) const {
    const Instrument& instrument = formation_->instrument();
    const Moment now = momentAt(instrument, time_s);
    const SampleRun run = gatheredBy(instrument, now.line, time_s);
    if (now.line < formation_->linesBy(time_s) || run.count() == 0) return {};
    return {now.line, std::min(now.lines, formation_->lines() - now.line), run};
}

void Craft::formPartly(double time_s, double end_ms) {
    const Partly part = hand_ ? Partly{hand_->line(), hand_->lines(), {}} : partlyAt(time_s);
    partly_waits_ = false;
    for (int line = part.line; line < part.line + part.lines; ++line) {
        if (state_[static_cast<std::size_t>(line)] == 2) continue;
        if (now_ms() >= end_ms) {
            partly_waits_ = true;
            return;
        }
        formation_->form(line, line + 1, 1);
        state_[static_cast<std::size_t>(line)] = 2;
        fallen_.push_back({line, 1});
    }
}

bool Craft::standsAsFormed(int line, int lines) const {
    const auto first = state_.begin() + line;
    return std::all_of(first, first + lines, [](std::uint8_t state) { return state == 2; });
}

void Craft::takeByHand(double time_s) {
    const Instrument& instrument = formation_->instrument();
    const Moment now = momentAt(instrument, time_s);
    // It begins where the sweep begins: at starboard, or at port when the mirror sweeps back.
    const int last = instrument.samples() - 1;
    const bool back = dwellBegins_s(instrument, now.line, 0) > dwellBegins_s(instrument, now.line, last);
    hand_.emplace(now.line, std::min(now.lines, formation_->lines() - now.line), formation_->samples(), back ? last : 0);
    partly_ = {};
    partly_waits_ = true;
}

void Craft::moveHand(int sample, bool set_down) {
    if (hand_ && set_down) hand_->setTo(sample);
    else if (hand_) hand_->moveTo(sample);
}

std::vector<SampleRun> Craft::partlyRuns() const {
    if (partly_.lines == 0) return {};
    return hand_ ? hand_->runs() : std::vector<SampleRun>{partly_.run};
}

double Craft::advance(double time_s, double budget_ms) {
    const double start = now_ms();
    const int wanted = formation_->linesBy(time_s);
    // New lines a few at a time; when others wait to be lit again, half of the time is theirs.
    const double for_new = stale_ > 0 ? 0.5 * budget_ms : budget_ms;
    while (shown_ < wanted) {
        const int last = std::min(wanted, shown_ + 8);
        formation_->form(shown_, last);
        while (shown_ < last) {
            state_[static_cast<std::size_t>(shown_)] = 0;
            ++shown_;
            ++stale_;
            fell(shown_ - 1, 1);
        }
        if (now_ms() >= start + for_new) break;
    }
    if (shown_ >= wanted) formPartly(time_s, std::max(start + for_new, now_ms() + 1.0));
    formStale(start + budget_ms);
    if (shown_ >= wanted) return time_s;
    return shown_ > 0 ? std::min(time_s, formation_->instrument().lineDone_s(shown_ - 1)) : 0.0;
}

bool Craft::gathered(Pixel pixel) const {
    if (pixel.line < shown_) return true;
    if (hand_) return hand_->holds(pixel.line, pixel.sample) && standsAsFormed(pixel.line, 1);
    return pixel.line >= partly_.line && pixel.line < partly_.line + partly_.lines && pixel.sample >= partly_.run.first && pixel.sample < partly_.run.last;
}

void Craft::show(double time_s) {
    const int by = formation_->linesBy(time_s);
    partly_ = by > shown_ ? Partly{} : hand_ ? Partly{hand_->line(), hand_->lines(), {0, formation_->samples()}} : partlyAt(time_s);
    if (!standsAsFormed(partly_.line, partly_.lines)) {
        partly_ = {};
        partly_waits_ = true;
    }
    if (by >= shown_) return;
    for (int line = by; line < shown_; ++line) {
        if (state_[static_cast<std::size_t>(line)] < 2) --stale_;
    }
    shown_ = by;
}

const SwathEdges& Craft::edges() {
    if (!edges_made_) edges_ = swathEdges(*formation_, manner_, 96);
    edges_made_ = true;
    return edges_;
}

double Craft::duration_s() const {
    return std::max(formation_->motion().duration_s(), formation_->instrument().lineDone_s(formation_->lines() - 1));
}

void Craft::fallAgain() {
    fallen_.clear();
    for (std::size_t line = 0; line < state_.size(); ++line) {
        if (state_[line] == 2) fallen_.push_back({static_cast<int>(line), 1});
        else state_[line] = 0;
    }
    cursor_ = pass_ = 0;
}

std::vector<Fallen> Craft::takeFallen() {
    std::vector<Fallen> out;
    out.swap(fallen_);
    return out;
}

}  // namespace linefall
