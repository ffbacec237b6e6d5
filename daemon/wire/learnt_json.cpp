#include "wire/learnt_json.hpp"

#include <algorithm>
#include <cmath>

#include "wire/field_reader.hpp"
#include "wire/field_writer.hpp"

namespace dryclock::wire {
namespace {

bool is_amount(double value) {
  return std::isfinite(value) && value >= 0.0;
}

bool can_be(const LearntSign& sign) {
  return is_amount(sign.seen.seconds) && is_amount(sign.seen.front_squared) &&
         std::ranges::all_of(sign.seen.drunk, [](double drunk) { return std::isfinite(drunk); });
}

bool can_be(const LearntMargin& margin) {
  return is_amount(margin.width) && is_amount(margin.openness) && is_amount(margin.opened) &&
         is_amount(margin.opened_at.value_or(0.0));
}

bool can_be(const LearntZone& zone) {
  return std::isfinite(zone.usual) && zone.usual > 0.0 && can_be(zone.margin) &&
         std::ranges::all_of(zone.seen, [](const LearntSign& sign) { return can_be(sign); });
}

}  // namespace

std::string to_json(const Learnt& learnt) {
  return written(learnt);
}

Result<Learnt> read_learnt(VehicleId vehicle, std::string_view text) {
  auto learnt = read_as<Learnt>(Form::answer, text);
  if (!learnt) {
    return learnt;
  }
  if (vehicle == 0 || learnt->vehicle != vehicle) {
    return Problem{"must be the vehicle that the row's topic names", "/vehicle"};
  }
  for (std::size_t i = 0; i < learnt->pieces.size(); ++i) {
    const auto& zones = learnt->pieces[i].zones;
    for (std::size_t z = 0; z < zones.size(); ++z) {
      if (!can_be(zones[z])) {
        return Problem{"cannot be", fmt::format("/pieces/{}/zones/{}", i, z)};
      }
    }
  }
  return learnt;
}

}  // namespace dryclock::wire
