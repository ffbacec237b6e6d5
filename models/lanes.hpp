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
// relative error below 1e-14 (2^n times the Taylor polynomial of degree 11 on |r| <= ln 2/2).
[[gnu::always_inline]] inline double lane_exp(double x) {
  constexpr double to_integer = 0x1.8p52;  // adding it leaves the rounded integer in the low bits
  constexpr double ln2_high = 0x1.62e42fee00000p-1;
  constexpr double ln2_low = 0x1.a39ef35793c76p-33;
  x = x < -700.0 ? -700.0 : x;
  x = x > 700.0 ? 700.0 : x;
  const double shifted = x * 0x1.71547652b82fep0 + to_integer;
  const double n = shifted - to_integer;
  const double r = (x - n * ln2_high) - n * ln2_low;
  // Pairs of terms first (Estrin), so that the chain of dependent operations is short.
  const double r2 = r * r;
  const double r4 = r2 * r2;
  const double low = (1.0 + r) + (1.0 / 2.0 + r * (1.0 / 6.0)) * r2;
  const double middle = (1.0 / 24.0 + r * (1.0 / 120.0)) + (1.0 / 720.0 + r * (1.0 / 5040.0)) * r2;
  const double high =
      (1.0 / 40320.0 + r * (1.0 / 362880.0)) + (1.0 / 3628800.0 + r * (1.0 / 39916800.0)) * r2;
  const double p = low + r4 * (middle + r4 * high);
  return p * std::bit_cast<double>((std::bit_cast<std::uint64_t>(shifted) + 1023U) << 52U);
}

}  // namespace dryclock::models
