#pragma once
// The only file that starts threads. Everything is right with one thread; more are only faster.

#include <atomic>
#include <exception>
#include <functional>
#include <memory>

namespace linefall {

/// Set by whoever wants a long job to end early.
using Cancel = std::atomic<bool>;

/// Number of processors, at least 1.
[[nodiscard]] int processors();

/// Calls work(i) for every i in [0, count) on `threads` threads (0: all processors; 1: in this thread, in order).
/// Indices are handed out in rising order. The first exception thrown by work is rethrown here after all threads
/// stopped. Returns false when `cancel` became true before all were done.
bool parallelFor(int count, int threads, const std::function<void(int)>& work, const Cancel* cancel = nullptr);

/// One job at a time, beside the thread that asks. Ask `running()` now and then, and `finish()` when it ended.
class Background {
public:
    Background();
    Background(const Background&) = delete;
    Background& operator=(const Background&) = delete;
    /// Cancels the job and waits for it.
    ~Background();

    /// Starts a job; an earlier one is cancelled and waited for, and what it threw is forgotten.
    void start(std::function<void(const Cancel&)> job);
    /// True from start() until the job returned.
    [[nodiscard]] bool running() const;
    /// True when a job returned and was not yet finished.
    [[nodiscard]] bool ended() const { return started_ && !running(); }
    /// Asks the job to end early; it goes on until it notices.
    void cancel();
    /// Waits for the job and rethrows what it threw.
    void finish();

private:
    struct Job;
    std::unique_ptr<Job> job_;
    bool started_ = false;
};

}  // namespace linefall
