#pragma once
// The only file that starts threads. Everything is right with one thread; more are only faster.

#include <atomic>
#include <functional>

namespace linefall {

/// Set by whoever wants a long job to end early.
using Cancel = std::atomic<bool>;

/// Number of processors, at least 1.
[[nodiscard]] int processors();

/// Calls work(i) for every i in [0, count) on `threads` threads (0: all processors; 1: in this thread, in order).
/// Indices are handed out in rising order. The first exception thrown by work is rethrown here after all threads
/// stopped. Returns false when `cancel` became true before all were done.
bool parallelFor(int count, int threads, const std::function<void(int)>& work, const Cancel* cancel = nullptr);

}  // namespace linefall
