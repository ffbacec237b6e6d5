// The loops of lane_loops.hpp for one width of packs: lane_loops.cpp includes this once for each, in a
// namespace and under a target of its own. No include guard for that reason, and no include of its own. What
// clang-tidy says of headers and of one Pack that is a plain double does not hold of such a body.
// NOLINTBEGIN(misc-definitions-in-headers,cppcoreguidelines-init-variables,bugprone-sizeof-expression)

#if DRYCLOCK_LANE_BYTES == 8
using Pack = double;
using Bits = std::uint64_t;
#else
using Pack = double __attribute__((vector_size(DRYCLOCK_LANE_BYTES)));
using Bits = std::uint64_t __attribute__((vector_size(DRYCLOCK_LANE_BYTES)));
#endif
constexpr std::size_t width = sizeof(Pack) / sizeof(double);

[[gnu::always_inline]] inline Pack load(const Lanes& lanes, std::size_t m) {
  Pack pack;
  std::memcpy(&pack, lanes.data() + m, sizeof pack);
  return pack;
}
[[gnu::always_inline]] inline void store(Lanes& lanes, std::size_t m, Pack pack) {
  std::memcpy(lanes.data() + m, &pack, sizeof pack);
}
[[gnu::always_inline]] inline Pack smaller(Pack a, Pack b) {
  return a < b ? a : b;
}
[[gnu::always_inline]] inline Pack larger(Pack a, Pack b) {
  return a > b ? a : b;
}
[[gnu::always_inline]] inline Pack all(double value) {
  return Pack{} + value;
}

[[gnu::always_inline]] inline Pack exponential(Pack x) {
  constexpr double to_integer = 0x1.8p52;  // adding it leaves the rounded integer in the low bits
  constexpr double ln2_high = 0x1.62e42fee00000p-1;
  constexpr double ln2_low = 0x1.a39ef35793c76p-33;
  x = larger(smaller(x, all(700.0)), all(-700.0));
  const Pack shifted = x * 0x1.71547652b82fep0 + to_integer;
  const Pack n = shifted - to_integer;
  const Pack r = (x - n * ln2_high) - n * ln2_low;
  // Pairs of terms first (Estrin), so that the chain of dependent operations is short.
  const Pack r2 = r * r;
  const Pack r4 = r2 * r2;
  const Pack low = (1.0 + r) + (1.0 / 2.0 + r * (1.0 / 6.0)) * r2;
  const Pack middle = (1.0 / 24.0 + r * (1.0 / 120.0)) + (1.0 / 720.0 + r * (1.0 / 5040.0)) * r2;
  const Pack high = (1.0 / 40320.0 + r * (1.0 / 362880.0)) + (1.0 / 3628800.0 + r * (1.0 / 39916800.0)) * r2;
  const Pack p = low + r4 * (middle + r4 * high);
  Bits exponent;
  std::memcpy(&exponent, &shifted, sizeof exponent);
  exponent = (exponent + 1023U) << 52U;
  Pack power;
  std::memcpy(&power, &exponent, sizeof power);
  return p * power;
}

void integrate(const Lanes& factor, const Simpson& over, ThermalStep& step, Lanes& inverse, Boundary& wet) {
  const Instant &begin = over.begin, &middle = over.middle, &end = over.end;
  const double sixth = over.seconds / 6.0;
  const double film_share = 1.0 - over.air_share;
  const double film_span =
      sixth * film_share *
      (begin.saturation / begin.film + 4.0 * middle.saturation / middle.film + end.saturation / end.film);
  const double per_film_span = 1.0 / film_span;
  const double dry0 = (1.0 - begin.activity) / film_share * begin.film;
  const double dry1 = (1.0 - middle.activity) / film_share * middle.film;
  const double dry2 = (1.0 - end.activity) / film_share * end.film;
  const double s0 = sixth * begin.saturation;
  const double s1 = 4.0 * sixth * middle.saturation;
  const double s2 = sixth * end.saturation;
  const double per_bend = 1.0 / (over.middle_lies * (over.middle_lies - 1.0));
  for (std::size_t m = 0; m < members; m += width) {
    const Pack f = load(factor, m);
    const Pack r0 = 1.0 / (f * begin.film + begin.air);
    const Pack r1 = 1.0 / (f * middle.film + middle.air);
    const Pack r2 = 1.0 / (f * end.film + end.air);
    const Pack t0 = s0 * r0;
    const Pack t1 = s1 * r1;
    const Pack t2 = s2 * r2;
    store(step.span, m, t0 + t1 + t2);
    store(step.imposed, m, t0 * begin.activity + t1 * middle.activity + t2 * end.activity);
    store(step.film_span, m, film_span / f);
    store(inverse, m, f * per_film_span);
    const Pack before = 1.0 - f * r0 * dry0;
    const Pack half = 1.0 - f * r1 * dry1;
    const Pack after = 1.0 - f * r2 * dry2;
    store(step.outer_before, m, before);
    store(step.outer_after, m, after);
    store(wet.change, m, after - before);
    store(wet.bend, m, (half - before - (after - before) * over.middle_lies) * per_bend);
  }
}

// Over z = rate * span: e^-z; Integral over x in 0..1 of e^-z(1-x) and of e^-z(1-x) (2x - 1). By series where
// the quotients lose their digits.
void respond(const Lanes& span, const Lanes& inverse, double rate, double projection, const Boundary& outside,
             Lanes& decay, Lanes& drive) {
  const double per_rate = 1.0 / rate;
  for (std::size_t m = 0; m < members; m += width) {
    const Pack z = rate * load(span, m);
    const auto small = z < 0.02;
    const Pack e = exponential(-z);
    const Pack per_z = small ? all(1.0) : per_rate * load(inverse, m);
    const Pack even_far = (1.0 - e) * per_z;
    const Pack tilted_far = 2.0 * (1.0 - even_far) * per_z - even_far;
    const Pack even_near =
        1.0 - z * (1.0 / 2.0 - z * (1.0 / 6.0 - z * (1.0 / 24.0 - z * (1.0 / 120.0 - z / 720.0))));
    const Pack tilted_near = z * (1.0 / 6.0 - z * (1.0 / 12.0 - z * (1.0 / 40.0 - z / 180.0)));
    const Pack even = small ? even_near : even_far;
    const Pack tilted = small ? tilted_near : tilted_far;
    store(decay, m, e);
    store(drive, m, projection * (load(outside.change, m) * even + load(outside.bend, m) * tilted));
  }
}

void follow(const Lanes& inverse, double rate, double projection, const Boundary& outside, Lanes& decay,
            Lanes& drive) {
  const double per_rate = 1.0 / rate;
  for (std::size_t m = 0; m < members; m += width) {
    const Pack even = per_rate * load(inverse, m);
    store(decay, m, Pack{});
    store(drive, m,
          projection * even * (load(outside.change, m) + load(outside.bend, m) * (1.0 - 2.0 * even)));
  }
}

void step_wet(const FilmModes& modes, const ThermalStep& step, const Lanes& activity, const WetField& before,
              WetField& after, Lanes& liquid) {
  const double conductance = 1.0 / modes.resistance;
  for (std::size_t m = 0; m < members; m += width) {
    Pack released{};
    for (std::size_t k = 0; k < wet_modes; ++k) {
      const Pack was = load(before[k], m);
      const Pack is = was * load(step.wet_decay[k], m) - load(step.wet_drive[k], m);
      released += modes.inner[k] * (was - is);
      store(after[k], m, is);
    }
    const Pack tail = modes.inner_outer * (load(step.outer_after, m) - load(step.outer_before, m));
    const Pack steady = (load(activity, m) * load(step.span, m) - load(step.imposed, m)) * conductance;
    store(liquid, m, load(liquid, m) - (steady - released + tail));
  }
}

void shrink(const WaterLayer& layer, const Lanes& liquid_before, const Lanes& liquid_after,
            double margin_before, double margin_after, Shrinking& shrinking) {
  const double w_c = layer.break_up;
  const double per_w_c = 1.0 / w_c;
  Pack least = all(1.0);
  for (std::size_t m = 0; m < members; m += width) {
    const Pack over_before = (load(liquid_before, m) - w_c) * per_w_c;
    const Pack over_after = (load(liquid_after, m) - w_c) * per_w_c;
    const Pack log_before = smaller(over_before, Pack{}) + margin_before;
    const Pack log_after = smaller(over_after, Pack{}) + margin_after;
    const auto breaks = (over_before > 0.0) & (over_after < 0.0);
    const Pack passed = breaks ? over_before - over_after : all(1.0);
    const Pack part = breaks ? -over_after / passed : all(1.0);
    store(shrinking.log_before, m, log_before);
    store(shrinking.log_after, m, log_after);
    store(shrinking.fall, m, larger(log_before - log_after, Pack{}));
    store(shrinking.part, m, part);
    least = smaller(part, least);
  }
  Lanes leasts{};
  store(leasts, 0, least);
  shrinking.breaks_inside = false;
  for (std::size_t i = 0; i < width; ++i) {
    shrinking.breaks_inside = shrinking.breaks_inside || leasts[i] < 1.0;
  }
}

void step_dry(const FilmModes& modes, const ThermalStep& step, const Lanes& activity, const WetField& before,
              const WetField& after, const Shrinking& shrinking, DryField& dry) {
  for (std::size_t m = 0; m < members; m += width) {
    const Pack fall = load(shrinking.fall, m);
    const Pack share_before = exponential(load(shrinking.log_before, m));
    const Pack share_after = exponential(load(shrinking.log_after, m));
    const Pack left = exponential(-fall);
    const Pack feeding = share_before * fall;
    const Pack dry_share = 1.0 - 0.5 * (share_before + share_after);
    const Pack span = load(step.film_span, m) * load(shrinking.part, m);
    const Pack outer_before = load(step.outer_before, m);
    const Pack outer_after = load(step.outer_after, m);
    const Pack wet_before = load(activity, m) - outer_before;
    const Pack wet_after = load(activity, m) - outer_after;
    for (std::size_t j = 0; j < dry_modes; ++j) {
      Pack first =
          wet_before * modes.dry_inner[j] + (outer_before - step.activity_before) * modes.dry_content[j];
      Pack last = wet_after * modes.dry_inner[j] + (outer_after - step.activity_after) * modes.dry_content[j];
      for (std::size_t k = 0; k < wet_modes; ++k) {
        first += modes.cross[j][k] * load(before[k], m);
        last += modes.cross[j][k] * load(after[k], m);
      }
      const Pack whole_decay = load(step.dry_decay[j], m);
      const Pack y = modes.dry_rate[j] * span;
      const Pack decay = shrinking.breaks_inside ? exponential(-y) : whole_decay;
      const Pack z = y - fall;
      const auto near = (z < 0.03) & (z > -0.03);
      const Pack per_z = 1.0 / (near ? all(1.0) : z);
      const Pack even_far = (left - decay) * per_z;
      const Pack tilted_far = (left - even_far) * per_z;
      const Pack even_near = decay * (1.0 + z * (1.0 / 2.0 + z * (1.0 / 6.0 + z * (1.0 / 24.0))));
      const Pack tilted_near = decay * (1.0 / 2.0 + z * (1.0 / 3.0 + z * (1.0 / 8.0 + z * (1.0 / 30.0))));
      const Pack even = near ? even_near : even_far;
      const Pack tilted = near ? tilted_near : tilted_far;
      const Pack fed = feeding * (first * even + (last - first) * tilted);
      store(dry[j], m, load(dry[j], m) * whole_decay + fed - dry_share * load(step.dry_drive[j], m));
    }
  }
}

void extremes(const Lanes& values, Extremes& extremes) {
  Pack high = load(values, 0);
  Pack low = high;
  for (std::size_t m = width; m < members; m += width) {
    high = larger(high, load(values, m));
    low = smaller(low, load(values, m));
  }
  Lanes highs{}, lows{};
  store(highs, 0, high);
  store(lows, 0, low);
  extremes = {highs[0], lows[0]};
  for (std::size_t i = 1; i < width; ++i) {
    extremes.highest = highs[i] > extremes.highest ? highs[i] : extremes.highest;
    extremes.lowest = lows[i] < extremes.lowest ? lows[i] : extremes.lowest;
  }
}

void touch(const Shrinking& shrinking, double level, double clock_before, double clock_after,
           Lanes& contact) {
  const double passed = clock_after - clock_before;
  for (std::size_t m = 0; m < members; m += width) {
    const Pack log_after = load(shrinking.log_after, m);
    const Pack was = load(contact, m);
    const auto touches = (log_after < level) & (was == never);
    const Pack fall = touches ? load(shrinking.fall, m) : all(1.0);
    const Pack since = load(shrinking.part, m) * (level - log_after) / fall;
    store(contact, m, touches ? clock_after - passed * smaller(since, all(1.0)) : was);
  }
}

void add_dry_columns(const FilmModes& modes, const DryField& dry, Lanes& excess) {
  for (std::size_t m = 0; m < members; m += width) {
    Pack sum = load(excess, m);
    for (std::size_t j = 0; j < dry_modes; ++j) {
      sum += modes.dry_content[j] * load(dry[j], m);
    }
    store(excess, m, sum);
  }
}

void add_wet_columns(const FilmModes& modes, const WaterLayer& layer, double margin, const WetColumns& wet,
                     double outside, Lanes& excess) {
  for (std::size_t m = 0; m < members; m += width) {
    Pack holds{};
    for (std::size_t k = 0; k < wet_modes; ++k) {
      holds += (modes.inner[k] + modes.outer[k]) * load(wet.modes[k], m);
    }
    const Pack outer = load(wet.outer, m);
    holds += (load(wet.activity, m) - outer) * modes.inner_content + (outer - outside) * modes.capacity;
    const Pack over = (load(wet.liquid, m) - layer.break_up) / layer.break_up;
    store(excess, m, load(excess, m) + margin * exponential(smaller(over, Pack{})) * holds);
  }
}
// NOLINTEND(misc-definitions-in-headers,cppcoreguidelines-init-variables,bugprone-sizeof-expression)
