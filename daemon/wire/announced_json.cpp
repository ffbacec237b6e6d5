#include "wire/announced_json.hpp"

#include "wire/field_reader.hpp"
#include "wire/field_writer.hpp"

namespace dryclock::wire {
namespace {

// What is wrong with it, in the field's name; empty: nothing.
std::string_view wrong_field(const Announcement& said) {
  if (said.piece < 0 || (said.piece == 0 && said.which != models::Milestone::may_leave)) {
    return said.piece < 0 ? "piece" : "which";
  }
  return said.probability >= chance.least && said.probability <= chance.most ? "" : "probability";
}

}  // namespace

std::string to_json(const Announced& announced) {
  return written(announced);
}

Result<Announced> read_announced(VehicleId vehicle, std::string_view text) {
  auto announced = read_as<Announced>(Form::answer, text);
  if (!announced) {
    return announced;
  }
  if (vehicle == 0 || announced->vehicle != vehicle) {
    return Problem{"must be the vehicle that the row's topic names", "/vehicle"};
  }
  for (std::size_t i = 0; i < announced->announcements.size(); ++i) {
    if (const auto wrong = wrong_field(announced->announcements[i]); !wrong.empty()) {
      return Problem{"cannot be", fmt::format("/announcements/{}/{}", i, wrong)};
    }
  }
  return announced;
}

}  // namespace dryclock::wire
