#pragma once
// One baseline binary: marked functions are compiled twice and the processor's better one is chosen at start.
// Floating-point contraction is off everywhere, so both give the same bits.

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
#define LINEFALL_VECTORISED
#elif defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__)
#define LINEFALL_VECTORISED __attribute__((target_clones("avx2", "default")))
#else
#define LINEFALL_VECTORISED
#endif

/// For the small functions that such loops call: without it the compiler may leave a call in one of the versions.
#if defined(__GNUC__)
#define LINEFALL_INLINE inline __attribute__((always_inline))
#else
#define LINEFALL_INLINE inline
#endif
