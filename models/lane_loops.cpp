#include "models/lane_loops.hpp"

#include <cstdint>
#include <cstring>

#include "models/bond.hpp"

// Vector types of the compiler (GCC and Clang have them); the target decides which registers they become.
namespace dryclock::models {
namespace {

namespace bytes_8 {
#define DRYCLOCK_LANE_BYTES 8
#include "models/lane_loops_body.hpp"
#undef DRYCLOCK_LANE_BYTES
}  // namespace bytes_8

namespace bytes_16 {
#define DRYCLOCK_LANE_BYTES 16
#include "models/lane_loops_body.hpp"
#undef DRYCLOCK_LANE_BYTES
}  // namespace bytes_16

#if defined(__x86_64__) && !defined(__clang__)
#define DRYCLOCK_WIDER_LANES
#pragma GCC push_options
#pragma GCC target("avx2")
namespace bytes_32 {
#define DRYCLOCK_LANE_BYTES 32
#include "models/lane_loops_body.hpp"
#undef DRYCLOCK_LANE_BYTES
}  // namespace bytes_32
#pragma GCC pop_options

#pragma GCC push_options
#pragma GCC target("avx512f")
namespace bytes_64 {
#define DRYCLOCK_LANE_BYTES 64
#include "models/lane_loops_body.hpp"
#undef DRYCLOCK_LANE_BYTES
}  // namespace bytes_64
#pragma GCC pop_options
#endif

bool has_width(std::size_t bytes) {
#if defined(DRYCLOCK_WIDER_LANES)
  __builtin_cpu_init();
  if (bytes == 64) return __builtin_cpu_supports("avx512f") != 0;
  if (bytes == 32) return __builtin_cpu_supports("avx2") != 0;
#endif
  return bytes == 8 || bytes == 16;
}

// The widest there is; what it is changes the speed alone.
std::size_t width_in_use = has_width(64) ? 64 : has_width(32) ? 32 : 16;

template <class Function>
Function* by_width(Function* one, Function* two, [[maybe_unused]] Function* four,
                   [[maybe_unused]] Function* eight) {
  switch (width_in_use) {
    case 8:
      return one;
    case 32:
      return four;
    case 64:
      return eight;
    default:
      return two;
  }
}

#if defined(DRYCLOCK_WIDER_LANES)
#define DRYCLOCK_BY_WIDTH(loop) by_width(bytes_8::loop, bytes_16::loop, bytes_32::loop, bytes_64::loop)
#else
#define DRYCLOCK_BY_WIDTH(loop) by_width(bytes_8::loop, bytes_16::loop, bytes_16::loop, bytes_16::loop)
#endif

}  // namespace

std::size_t lane_width() {
  return width_in_use;
}

bool use_lane_width(std::size_t bytes) {
  if (!has_width(bytes)) return false;
  width_in_use = bytes;
  return true;
}

double lane_exp(double x) {
  return bytes_8::exponential(x);
}

void integrate(const Lanes& factor, const Simpson& over, ThermalStep& step, Lanes& inverse, Boundary& wet) {
  DRYCLOCK_BY_WIDTH(integrate)(factor, over, step, inverse, wet);
}

void respond(const Lanes& span, const Lanes& inverse, double rate, double projection, const Boundary& outside,
             Lanes& decay, Lanes& drive) {
  DRYCLOCK_BY_WIDTH(respond)(span, inverse, rate, projection, outside, decay, drive);
}

void follow(const Lanes& inverse, double rate, double projection, const Boundary& outside, Lanes& decay,
            Lanes& drive) {
  DRYCLOCK_BY_WIDTH(follow)(inverse, rate, projection, outside, decay, drive);
}

void step_wet(const FilmModes& modes, const ThermalStep& step, const Lanes& activity, const WetField& before,
              WetField& after, Lanes& liquid) {
  DRYCLOCK_BY_WIDTH(step_wet)(modes, step, activity, before, after, liquid);
}

void shrink(const WaterLayer& layer, const Lanes& liquid_before, const Lanes& liquid_after,
            double margin_before, double margin_after, Shrinking& shrinking) {
  DRYCLOCK_BY_WIDTH(shrink)(layer, liquid_before, liquid_after, margin_before, margin_after, shrinking);
}

void step_dry(const FilmModes& modes, const ThermalStep& step, const Lanes& activity, const WetField& before,
              const WetField& after, const Shrinking& shrinking, DryField& dry) {
  DRYCLOCK_BY_WIDTH(step_dry)(modes, step, activity, before, after, shrinking, dry);
}

void extremes(const Lanes& values, Extremes& result) {
  DRYCLOCK_BY_WIDTH(extremes)(values, result);
}

void touch(const Shrinking& shrinking, double level, double clock_before, double clock_after,
           Lanes& contact) {
  DRYCLOCK_BY_WIDTH(touch)(shrinking, level, clock_before, clock_after, contact);
}

void add_dry_columns(const FilmModes& modes, const DryField& dry, Lanes& excess) {
  DRYCLOCK_BY_WIDTH(add_dry_columns)(modes, dry, excess);
}

void add_wet_columns(const FilmModes& modes, const WaterLayer& layer, double margin, const WetColumns& wet,
                     double outside, Lanes& excess) {
  DRYCLOCK_BY_WIDTH(add_wet_columns)(modes, layer, margin, wet, outside, excess);
}

}  // namespace dryclock::models
