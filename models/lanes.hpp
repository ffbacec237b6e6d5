// The members of an ensemble side by side: one double each, in loops of fixed length that the compiler turns
// into vector instructions. No contraction and no reordering is allowed (ISO mode), so that every vector
// width gives the same bits as one lane at a time.
#pragma once

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>

// On x86 a loop marked so is compiled twice, and the wider one is chosen at start where the processor has it.
// ARM64 has one width. ThreadSanitizer cannot run the chooser, which is called before its start.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_THREAD__)
#define DRYCLOCK_LANE_LOOPS __attribute__((target_clones("avx2", "default")))
#else
#define DRYCLOCK_LANE_LOOPS
#endif

namespace dryclock::models {

inline constexpr std::size_t members = 32;
using Lanes = std::array<double, members>;

// exp(x) without branch or table, so that it can be inlined into lane loops. [-] x is clamped to -700..700;
// relative error below 4e-16 (exp = 2^n times a Taylor polynomial of degree 13 on |r| <= ln 2/2).
[[gnu::always_inline]] inline double lane_exp(double x) {
  constexpr double to_integer = 0x1.8p52;  // adding it leaves the rounded integer in the low bits
  constexpr double ln2_high = 0x1.62e42fee00000p-1;
  constexpr double ln2_low = 0x1.a39ef35793c76p-33;
  x = x < -700.0 ? -700.0 : x;
  x = x > 700.0 ? 700.0 : x;
  const double shifted = x * 0x1.71547652b82fep0 + to_integer;
  const double n = shifted - to_integer;
  const double r = (x - n * ln2_high) - n * ln2_low;
  double p = 1.0 / 6227020800.0;
  p = p * r + 1.0 / 479001600.0;
  p = p * r + 1.0 / 39916800.0;
  p = p * r + 1.0 / 3628800.0;
  p = p * r + 1.0 / 362880.0;
  p = p * r + 1.0 / 40320.0;
  p = p * r + 1.0 / 5040.0;
  p = p * r + 1.0 / 720.0;
  p = p * r + 1.0 / 120.0;
  p = p * r + 1.0 / 24.0;
  p = p * r + 1.0 / 6.0;
  p = p * r + 0.5;
  p = p * r + 1.0;
  p = p * r + 1.0;
  return p * std::bit_cast<double>((std::bit_cast<std::uint64_t>(shifted) + 1023U) << 52U);
}

}  // namespace dryclock::models
