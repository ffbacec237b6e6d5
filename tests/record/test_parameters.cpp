#include "record/parameters.hpp"

#include <doctest/doctest.h>

#include "record/plain.hpp"
#include "support/small_shop.hpp"

namespace dryclock::record {

TEST_CASE("a witness plate of a film on the vehicle is told with what was seen") {
  const auto utc = LocalZone::find("UTC").value();
  Record record{std::make_shared<const wording::Words>(Manner{}, wording::Entries{}, utc)};
  PlateView plate;
  plate.id = 41;
  plate.plate.film = "open";
  plate.seen = {
      {44, parse_rfc3339("2026-03-02T10:00:00Z").value(), models::ZoneKind::edge, PlateSign::half_wet},
      {47, parse_rfc3339("2026-03-02T16:00:00Z").value(), models::ZoneKind::recess, PlateSign::none_wet}};
  record.plates = {plate};
  const Plain plain(utc);
  const auto rows = parameters_of(record, support::small_shop());
  const auto row = std::ranges::find_if(
      rows, [&](const Parameter& one) { return plain(one.name).starts_with("witness plate 41"); });
  REQUIRE(row != rows.end());
  CHECK(plain(row->name) == "witness plate 41 with film open: looks");
  CHECK(row->value == 2.0);
  const auto source = plain(row->source);
  CAPTURE(source);
  CHECK(source.starts_with("laid in row 41; edge: half-wet, "));
  CHECK(source.find("recess: none-wet, ") != std::string::npos);
  record.plates.front().seen.clear();
  for (const auto& one : parameters_of(record, support::small_shop())) {
    if (plain(one.name).starts_with("witness plate")) {
      CHECK(one.value == 0.0);
      CHECK(plain(one.source) == "laid in row 41; nobody looked");
    }
  }
}

}  // namespace dryclock::record
