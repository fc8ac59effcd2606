#include <catch2/catch.hpp>

#include <chrono>
#include <stdexcept>
#include <thread>

#include "base/threads.h"

namespace linefall {

namespace {

void waitFor(const Background& job) {
    while (job.running()) std::this_thread::sleep_for(std::chrono::milliseconds(1));
}

}  // namespace

TEST_CASE("A background job runs once, ends, and is finished") {
    Background job;
    CHECK_FALSE(job.running());
    CHECK_FALSE(job.ended());
    int made = 0;
    job.start([&made](const Cancel&) { made += 7; });
    waitFor(job);
    CHECK(job.ended());
    job.finish();
    CHECK_FALSE(job.ended());
    CHECK(made == 7);
}

TEST_CASE("What a background job throws comes out when it is finished") {
    Background job;
    job.start([](const Cancel&) { throw std::runtime_error("no such place"); });
    waitFor(job);
    CHECK(job.ended());
    CHECK_THROWS_WITH(job.finish(), "no such place");
    CHECK_NOTHROW(job.finish());
}

TEST_CASE("A background job is cancelled by the next one, by hand and at the end of its owner") {
    std::atomic<int> cancelled{0};
    const auto endless = [&cancelled](const Cancel& cancel) {
        while (!cancel) std::this_thread::sleep_for(std::chrono::milliseconds(1));
        ++cancelled;
    };
    {
        Background job;
        job.start(endless);
        CHECK(job.running());
        job.start(endless);  // waits for the first
        CHECK(cancelled == 1);
        job.cancel();
        job.finish();
        CHECK(cancelled == 2);
        job.start(endless);
    }
    CHECK(cancelled == 3);
}

}  // namespace linefall
