#pragma once
// One row of the bench: a rate of ours, a rate of a peer in the same run, and their ratio.

#include <string>
#include <vector>

namespace linefall {

struct BenchRow {
    std::string what;
    std::string ours;        ///< how we do it
    double ours_value = 0.0;
    std::string peer;        ///< against what; empty: no peer
    double peer_value = 0.0;
    std::string unit;
    bool more_is_better = true;
    int threads = 1;
    /// Above 1 we are the better one.
    [[nodiscard]] double ratio() const {
        if (peer.empty() || ours_value <= 0.0 || peer_value <= 0.0) return 0.0;
        return more_is_better ? ours_value / peer_value : peer_value / ours_value;
    }
};

/// Median of the wall times of `runs` runs after one that is not counted, s.
template <class Work>
double medianSeconds(int runs, const Work& work);

void benchLooks(std::vector<BenchRow>& rows, bool quick);
void benchForming(std::vector<BenchRow>& rows, bool quick);
void benchWindow(std::vector<BenchRow>& rows, bool quick);

}  // namespace linefall

#include <algorithm>
#include <chrono>

namespace linefall {

template <class Work>
double medianSeconds(int runs, const Work& work) {
    std::vector<double> times;
    for (int i = 0; i <= runs; ++i) {
        const auto start = std::chrono::steady_clock::now();
        work();
        const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - start;
        if (i > 0) times.push_back(taken.count());
    }
    std::sort(times.begin(), times.end());
    return times[times.size() / 2];
}

}  // namespace linefall
