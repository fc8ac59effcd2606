#include "app/hand_sweep.h"

#include <algorithm>

namespace linefall {

HandSweep::HandSweep(int line, int lines, int samples, int at)
    : line_(line), lines_(lines), at_(std::clamp(at, 0, samples - 1)), filled_(static_cast<std::size_t>(samples), std::uint8_t{0}) {}

void HandSweep::gather(int sample) {
    std::uint8_t& filled = filled_[static_cast<std::size_t>(sample)];
    if (filled == 0) ++count_;
    filled = 1;
}

void HandSweep::moveTo(int sample) {
    sample = std::clamp(sample, 0, samples() - 1);
    for (; at_ != sample; at_ += sample < at_ ? -1 : 1) gather(at_);
    gather(sample);
}

void HandSweep::setTo(int sample) {
    at_ = std::clamp(sample, 0, samples() - 1);
    gather(at_);
}

bool HandSweep::holds(int line, int sample) const {
    return line >= line_ && line < line_ + lines_ && sample >= 0 && sample < samples() && filled_[static_cast<std::size_t>(sample)] != 0;
}

std::vector<SampleRun> HandSweep::runs() const {
    std::vector<SampleRun> out;
    for (int s = 0; s < samples(); ++s) {
        if (filled_[static_cast<std::size_t>(s)] == 0) continue;
        if (out.empty() || out.back().last != s) out.push_back({s, s});
        out.back().last = s + 1;
    }
    return out;
}

}  // namespace linefall
