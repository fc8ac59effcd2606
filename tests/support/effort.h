#pragma once
// How much work a test may do: all of it in an optimised build, a fiftieth with assertions on (debug, asan, tsan).

namespace linefall::test {

[[nodiscard]] constexpr int effort(int full) {
#ifdef NDEBUG
    return full;
#else
    return full / 50 > 0 ? full / 50 : 1;
#endif
}

}  // namespace linefall::test
