#include "measure/histogram.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace linefall {

namespace {

/// Counts of pixels, in four tables by turns: neighbours of one value then do not wait for one another.
class Tally {
public:
    explicit Tally(int most) {
        for (auto& table : tables_) table.assign(static_cast<std::size_t>(most) + 1, 0);
    }
    void add(std::span<const std::uint16_t> counts, std::span<const std::uint8_t> sky) {
        for (std::size_t i = 0; i < counts.size(); ++i) {
            if (sky[i] == 0) ++tables_[i % 4][counts[i]];
            else ++sky_;
        }
    }
    [[nodiscard]] std::vector<std::uint64_t> sum() const {
        std::vector<std::uint64_t> out(tables_[0].size());
        for (std::size_t i = 0; i < out.size(); ++i) {
            for (const auto& table : tables_) out[i] += table[i];
        }
        return out;
    }
    [[nodiscard]] std::uint64_t sky() const { return sky_; }

private:
    std::array<std::vector<std::uint32_t>, 4> tables_;
    std::uint64_t sky_ = 0;
};

std::span<const std::uint16_t> countsOf(const Image& image, int band, const PixelRun& run) {
    return image.counts[static_cast<std::size_t>(band)].row(run.line).subspan(static_cast<std::size_t>(run.first), static_cast<std::size_t>(run.last - run.first));
}
std::span<const std::uint8_t> skyOf(const Image& image, const PixelRun& run) {
    return image.sky.row(run.line).subspan(static_cast<std::size_t>(run.first), static_cast<std::size_t>(run.last - run.first));
}

constexpr std::size_t fine_steps = 65536;

}  // namespace

std::uint64_t Bins::highest() const { return values.empty() ? 0 : *std::max_element(values.begin(), values.end()); }

Histogram::Histogram(const Image& image, int band, int first_line, int last_line) {
    Tally tally(image.most_count);
    for (int line = std::max(0, first_line); line < std::min(last_line, image.lines()); ++line) {
        const PixelRun run{line, 0, image.samples()};
        tally.add(countsOf(image, band, run), skyOf(image, run));
    }
    fine_ = tally.sum();
    sky_ = tally.sky();
    at_zero_ = fine_.front();
    at_most_ = fine_.back();
    settle();
}

Histogram::Histogram(const Formation& formation, int band, Scale scale, const Region& region) {
    const Image& image = formation.image();
    std::vector<PixelRun> runs;
    for (const PixelRun& run : pixelsIn(region, image.samples(), image.lines())) {
        if (formation.ready(run.line)) runs.push_back(run);
    }
    if (scale == Scale::counts) {
        Tally tally(image.most_count);
        for (const PixelRun& run : runs) tally.add(countsOf(image, band, run), skyOf(image, run));
        fine_ = tally.sum();
        sky_ = tally.sky();
        at_zero_ = fine_.front();
        at_most_ = fine_.back();
        settle();
        return;
    }
    // First the values, then the steps that divide their range.
    std::size_t pixels = 0;
    for (const PixelRun& run : runs) pixels += static_cast<std::size_t>(run.last - run.first);
    std::vector<float> values;
    values.reserve(pixels);
    std::vector<double> row, falloffs;
    for (const PixelRun& run : runs) {
        const LineScale line(formation, scale, run.line);
        if (!line.defined()) continue;
        const auto counts = countsOf(image, band, run);
        const auto sky = skyOf(image, run);
        row.resize(counts.size());
        falloffs.resize(counts.size());
        line.falloffsOf(run.first, falloffs);
        line.valuesOf(band, counts, falloffs, row);
        for (std::size_t i = 0; i < counts.size(); ++i) {
            if (sky[i] != 0) {
                ++sky_;
                continue;
            }
            if (counts[i] == 0) ++at_zero_;
            if (counts[i] == image.most_count) ++at_most_;
            values.push_back(static_cast<float>(row[i]));
        }
    }
    if (values.empty()) return;
    const auto [least, most] = std::minmax_element(values.begin(), values.end());
    low_ = static_cast<double>(*least);
    const double range = static_cast<double>(*most) - low_;
    step_ = range > 0.0 ? range / (fine_steps - 1) : 1.0;
    fine_.assign(fine_steps, 0);
    const double per_step = 1.0 / step_;
    for (const float value : values) ++fine_[std::min(fine_steps - 1, static_cast<std::size_t>((static_cast<double>(value) - low_) * per_step))];
    settle();
}

void Histogram::settle() {
    up_to_.resize(fine_.size());
    total_ = 0;
    bool any = false;
    for (std::size_t i = 0; i < fine_.size(); ++i) {
        total_ += fine_[i];
        up_to_[i] = total_;
        if (fine_[i] == 0) continue;
        if (!any) first_ = i;
        last_ = i;
        any = true;
    }
}

double Histogram::percentile(double percent) const {
    if (total_ == 0) return 0.0;
    const double wanted = std::clamp(percent, 0.0, 100.0) / 100.0 * static_cast<double>(total_);
    const auto at = std::lower_bound(up_to_.begin(), up_to_.end(), wanted, [](std::uint64_t so_far, double w) { return static_cast<double>(so_far) < w; });
    return valueAt(std::max(first_, static_cast<std::size_t>(at - up_to_.begin())));
}

double Histogram::shareUpTo(double value) const {
    const double place = std::floor((value - low_) / step_);
    if (total_ == 0 || !(place >= 0.0)) return 0.0;
    const auto i = static_cast<std::size_t>(std::min(place, static_cast<double>(up_to_.size() - 1)));
    return static_cast<double>(up_to_[i]) / static_cast<double>(total_);
}

Bins Histogram::bins(int wanted) const { return bins(wanted, least(), most() + step_); }

Bins Histogram::bins(int wanted, double low, double high) const {
    Bins out;
    // Whole steps from the one that holds `low` to the one that ends at or after `high`.
    const double last_step = std::max(0.0, static_cast<double>(fine_.size()) - 1.0);
    const auto from = static_cast<std::size_t>(std::clamp(std::floor((low - low_) / step_ + 1e-9), 0.0, last_step));
    const auto to = static_cast<std::size_t>(std::clamp(std::ceil((high - low_) / step_ - 1e-9), static_cast<double>(from) + 1.0, last_step + 1.0));
    const auto parts = static_cast<std::size_t>(std::max(1, wanted));
    const std::size_t merged = std::max<std::size_t>(1, (to - from + parts - 1) / parts);
    out.low = valueAt(from);
    out.width = step_ * static_cast<double>(merged);
    if (fine_.empty()) return out;
    out.values.assign((to - from + merged - 1) / merged, 0);
    for (std::size_t i = 0; i < fine_.size(); ++i) {
        if (i < from) out.below += fine_[i];
        else if (i >= from + merged * out.values.size()) out.above += fine_[i];
        else out.values[(i - from) / merged] += fine_[i];
    }
    return out;
}

}  // namespace linefall
