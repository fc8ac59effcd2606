#include "base/threads.h"

#include <algorithm>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace linefall {

int processors() { return std::max(1, static_cast<int>(std::thread::hardware_concurrency())); }

bool parallelFor(int count, int threads, const std::function<void(int)>& work, const Cancel* cancel) {
    const auto cancelled = [cancel] { return cancel != nullptr && cancel->load(std::memory_order_relaxed); };
    const int wanted = std::min(threads > 0 ? threads : processors(), count);
    if (wanted <= 1) {
        for (int i = 0; i < count; ++i) {
            if (cancelled()) return false;
            work(i);
        }
        return true;
    }

    std::atomic<int> next{0};
    std::atomic<bool> failed{false};
    std::atomic<int> done{0};
    std::exception_ptr failure;
    std::mutex failure_mutex;
    const auto run = [&] {
        while (!failed.load(std::memory_order_relaxed) && !cancelled()) {
            const int i = next.fetch_add(1, std::memory_order_relaxed);
            if (i >= count) return;
            try {
                work(i);
                done.fetch_add(1, std::memory_order_relaxed);
            } catch (...) {
                const std::lock_guard lock(failure_mutex);
                if (!failure) failure = std::current_exception();
                failed = true;
            }
        }
    };
    {
        std::vector<std::thread> helpers;
        struct Join {
            std::vector<std::thread>& threads;
            ~Join() {
                for (std::thread& thread : threads) thread.join();
            }
        } join{helpers};
        helpers.reserve(static_cast<std::size_t>(wanted - 1));
        for (int i = 1; i < wanted; ++i) helpers.emplace_back(run);
        run();
    }
    if (failure) std::rethrow_exception(failure);
    return done.load() == count;
}

struct Background::Job {
    Cancel cancel{false};
    std::atomic<bool> done{true};
    std::exception_ptr failure;
    std::thread thread;
};

Background::Background() : job_(std::make_unique<Job>()) {}

Background::~Background() {
    cancel();
    if (job_->thread.joinable()) job_->thread.join();
}

void Background::start(std::function<void(const Cancel&)> job) {
    cancel();
    if (job_->thread.joinable()) job_->thread.join();
    job_ = std::make_unique<Job>();
    Job* state = job_.get();
    state->done = false;
    try {
        job_->thread = std::thread([state, work = std::move(job)] {
            try {
                work(state->cancel);
            } catch (...) {
                state->failure = std::current_exception();
            }
            state->done.store(true, std::memory_order_release);
        });
    } catch (...) {  // no thread to be had: nothing runs
        state->done = true;
        throw;
    }
    started_ = true;
}

bool Background::running() const { return !job_->done.load(std::memory_order_acquire); }

void Background::cancel() { job_->cancel = true; }

void Background::finish() {
    if (job_->thread.joinable()) job_->thread.join();
    started_ = false;
    if (job_->failure) {
        const std::exception_ptr failure = job_->failure;
        job_->failure = nullptr;
        std::rethrow_exception(failure);
    }
}

}  // namespace linefall
