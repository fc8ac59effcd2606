#include "app/craft.h"

#include <algorithm>
#include <chrono>

namespace linefall {

namespace {

constexpr int preview_step = 8;

LookManner mannerOf(const Scene& scene, const Formation& formation) {
    return {scene.flightSettings().lean, formation.lightPath().effects.sweep_motion};
}

double now_ms() {
    return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

}  // namespace

Craft::Craft(const Scene& scene, std::size_t index)
    : index_(index), formation_(std::make_unique<Formation>(scene, index)), title_(scene.instruments.at(index).title) {
    manner_ = mannerOf(scene, *formation_);
    makeLook();
    restale();
}

void Craft::makeLook() {
    // Sixteen lines spread over the whole flight decide how all of it is shown: the picture does not flicker while it falls.
    std::vector<int> lines;
    const int count = std::min(16, formation_->lines());
    for (int i = 0; i < count; ++i) {
        const int line = static_cast<int>((i + 0.5) * formation_->lines() / count);
        formation_->form(line, line + 1, 1);
        lines.push_back(line);
    }
    look_ = lookOf(formation_->image(), bands_, Stretch{}, lines);
}

void Craft::restale() {
    state_.assign(static_cast<std::size_t>(formation_->lines()), 0);
    stale_ = shown_ = std::min(shown_, formation_->lines());
    cursor_ = 0;
}

void Craft::update(const Scene& scene, bool keep_look) {
    const Ready kept = formation_->update(scene);
    title_ = scene.instruments.at(index_).title;
    manner_ = mannerOf(scene, *formation_);
    if (kept == Ready::counts) return;
    if (kept == Ready::nothing) {
        ++version_;
        edges_made_ = false;
    }
    if (!keep_look || kept == Ready::nothing) makeLook();
    restale();
}

void Craft::setBands(const std::string& choice) {
    bands_ = choice;
    stretchAgain();
}

void Craft::stretchAgain() {
    makeLook();
    restale();
}

void Craft::fell(int line, int height) {
    for (int l = line; l < std::min(line + height, shown_); ++l) {
        std::uint8_t& state = state_[static_cast<std::size_t>(l)];
        const std::uint8_t next = height == 1 ? 2 : 1;
        if (state < 2 && next == 2) --stale_;
        state = std::max(state, next);
    }
    fallen_.push_back({line, std::min(height, shown_ - line)});
}

double Craft::advance(double time_s, double budget_ms, bool new_lines_only) {
    const double end = now_ms() + budget_ms;
    const int wanted = formation_->linesBy(time_s);
    // New lines first, a few at a time so that two processors share them.
    while (shown_ < wanted) {
        const int last = std::min(wanted, shown_ + 8);
        formation_->form(shown_, last);
        for (; shown_ < last;) {
            ++shown_;
            ++stale_;
            state_[static_cast<std::size_t>(shown_ - 1)] = 0;
            fell(shown_ - 1, 1);
        }
        if (now_ms() >= end) break;
    }
    if (!new_lines_only && stale_ > 0) {
        // Every eighth line is a preview of its neighbours; then all others in order.
        for (; cursor_ < shown_ && now_ms() < end; cursor_ += preview_step) {
            if (state_[static_cast<std::size_t>(cursor_)] == 2) continue;
            formation_->form(cursor_, cursor_ + 1, 1);
            fell(cursor_, preview_step);
            fell(cursor_, 1);
        }
        for (int line = 0; line < shown_ && stale_ > 0 && cursor_ >= shown_ && now_ms() < end;) {
            if (state_[static_cast<std::size_t>(line)] == 2) {
                ++line;
                continue;
            }
            const int last = std::min(shown_, line + preview_step);
            formation_->form(line, last);
            for (; line < last; ++line) {
                if (state_[static_cast<std::size_t>(line)] != 2) fell(line, 1);
            }
        }
    }
    if (shown_ >= wanted) return time_s;
    return shown_ > 0 ? std::min(time_s, formation_->instrument().lineDone_s(shown_ - 1)) : 0.0;
}

void Craft::show(double time_s) {
    const int by = formation_->linesBy(time_s);
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

std::vector<Fallen> Craft::takeFallen() {
    std::vector<Fallen> out;
    out.swap(fallen_);
    return out;
}

}  // namespace linefall
