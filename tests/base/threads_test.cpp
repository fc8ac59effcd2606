// The one pool of threads: everything once, errors and cancelling, and the same result from any number of threads.
#include <catch2/catch.hpp>

#include <numeric>
#include <stdexcept>
#include <thread>
#include <vector>

#include "base/random.h"
#include "base/threads.h"

using namespace linefall;

TEST_CASE("there is at least one processor") { CHECK(processors() >= 1); }

TEST_CASE("every index is worked on exactly once, on any number of threads") {
    for (const int threads : {0, 1, 2, 3, 8, 64}) {
        for (const int count : {0, 1, 2, 7, 1000}) {
            std::vector<std::atomic<int>> visits(static_cast<std::size_t>(count));
            CHECK(parallelFor(count, threads, [&](int i) { ++visits[static_cast<std::size_t>(i)]; }));
            int wrong = 0;
            for (const auto& n : visits) wrong += n == 1 ? 0 : 1;
            INFO(threads << " threads, " << count << " indices");
            CHECK(wrong == 0);
        }
    }
}

TEST_CASE("one thread works in order and in the caller's own thread") {
    std::vector<int> order;
    const auto here = std::this_thread::get_id();
    bool same = true;
    CHECK(parallelFor(100, 1, [&](int i) {
        order.push_back(i);
        same = same && std::this_thread::get_id() == here;
    }));
    std::vector<int> rising(100);
    std::iota(rising.begin(), rising.end(), 0);
    CHECK(order == rising);
    CHECK(same);
}

TEST_CASE("more than one thread really works when asked for") {
    // Two indices that wait for each other can only both end on two threads.
    std::atomic<int> arrived{0};
    CHECK(parallelFor(2, 2, [&](int) {
        ++arrived;
        while (arrived < 2) std::this_thread::yield();
    }));
    CHECK(arrived == 2);
}

TEST_CASE("the first exception comes back to the caller after all threads stopped") {
    for (const int threads : {1, 2, 8}) {
        std::atomic<int> inside{0};
        std::atomic<int> calls{0};
        try {
            parallelFor(10000, threads, [&](int i) {
                ++inside;
                ++calls;
                if (i == 37) {
                    --inside;
                    throw std::runtime_error("thirty-seven");
                }
                --inside;
            });
            FAIL("no exception");
        } catch (const std::runtime_error& error) {
            CHECK(std::string(error.what()) == "thirty-seven");
        }
        CHECK(inside == 0);
        CHECK(calls >= 38);  // indices are handed out in rising order
    }
    CHECK(parallelFor(10, 4, [](int) {}));  // and nothing is left broken
}

TEST_CASE("exceptions from several threads at once leave one of them") {
    CHECK_THROWS_AS(parallelFor(64, 8, [](int) { throw std::logic_error("each"); }), std::logic_error);
}

TEST_CASE("a job cancelled beforehand does nothing and says so") {
    for (const int threads : {1, 4}) {
        const Cancel cancel{true};
        std::atomic<int> calls{0};
        CHECK_FALSE(parallelFor(100, threads, [&](int) { ++calls; }, &cancel));
        CHECK(calls == 0);
    }
}

TEST_CASE("a job cancelled on the way ends early, and what was begun is finished") {
    for (const int threads : {1, 2, 8}) {
        Cancel cancel{false};
        std::atomic<int> begun{0};
        std::atomic<int> finished{0};
        CHECK_FALSE(parallelFor(100000, threads, [&](int) {
            if (++begun == 10) cancel = true;
            ++finished;
        }, &cancel));
        CHECK(begun == finished);
        CHECK(begun < 100000);
    }
}

TEST_CASE("cancelling after the last index was worked on still counts as done") {
    for (const int threads : {1, 2}) {
        Cancel cancel{false};
        std::atomic<int> calls{0};
        CHECK(parallelFor(8, threads, [&](int) {
            if (++calls == 8) cancel = true;
        }, &cancel));
    }
}

TEST_CASE("a result keyed by index is the same to the bit for any number of threads") {
    const auto form = [](int threads) {
        std::vector<double> values(5000);
        parallelFor(5000, threads, [&](int i) {
            const auto w = keyedWords(9, RandomUse::test, static_cast<std::uint32_t>(i), 0, 0);
            values[static_cast<std::size_t>(i)] = normalsFromWords(w[0], w[1])[0];
        });
        return values;
    };
    const std::vector<double> one = form(1);
    for (const int threads : {2, 3, 7, 0}) CHECK(form(threads) == one);
}

TEST_CASE("a background job runs beside the asker and hands its end over once") {
    Background background;
    CHECK_FALSE(background.running());
    CHECK_FALSE(background.ended());
    std::atomic<bool> go{false};
    int result = 0;
    background.start([&](const Cancel&) {
        while (!go) std::this_thread::yield();
        result = 42;
    });
    CHECK(background.running());
    CHECK_FALSE(background.ended());
    go = true;
    while (background.running()) std::this_thread::yield();
    CHECK(background.ended());
    background.finish();
    CHECK(result == 42);
    CHECK_FALSE(background.ended());
    background.finish();  // nothing to wait for
}

TEST_CASE("what a background job throws comes out of finish, once") {
    Background background;
    background.start([](const Cancel&) { throw std::runtime_error("in the back"); });
    CHECK_THROWS_WITH(background.finish(), "in the back");
    CHECK_NOTHROW(background.finish());
}

TEST_CASE("a new background job cancels the old one, waits for it and forgets what it threw") {
    Background background;
    std::atomic<bool> first_saw_cancel{false};
    background.start([&](const Cancel& cancel) {
        while (!cancel) std::this_thread::yield();
        first_saw_cancel = true;
        throw std::runtime_error("old");
    });
    bool second_ran = false;
    background.start([&](const Cancel& cancel) { second_ran = first_saw_cancel && !cancel; });
    CHECK_NOTHROW(background.finish());
    CHECK(second_ran);
}

TEST_CASE("a background job that is cancelled ends, and destroying it waits for it") {
    std::atomic<bool> ended{false};
    {
        Background background;
        background.start([&](const Cancel& cancel) {
            while (!cancel) std::this_thread::yield();
            ended = true;
        });
        background.cancel();
        background.finish();
        CHECK(ended);
        ended = false;
        background.start([&](const Cancel& cancel) {
            while (!cancel) std::this_thread::yield();
            ended = true;
        });
    }
    CHECK(ended);
}
