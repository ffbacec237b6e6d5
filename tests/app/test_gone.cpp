#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "app/gone.hpp"
#include "app/journalled_shop.hpp"
#include "support/scratch_folder.hpp"
#include "support/small_shop.hpp"
#include "wire/event_json.hpp"

namespace dryclock::app {
namespace {

PieceSummary piece(PieceId id, std::string panel, std::vector<CatalogueKind> gone) {
  PieceSummary out;
  out.id = id;
  out.panel = std::move(panel);
  out.film = "thick";
  out.solution = "slip";
  out.gone = std::move(gone);
  return out;
}

Board board() {
  Board out;
  BaySummary front, back;
  front.name = "front";
  front.gone = true;
  back.name = "back";
  out.bays = {front, back};
  VehicleSummary vehicle;
  vehicle.id = 12;
  vehicle.reference = "lot 5";
  vehicle.bay = "front";
  vehicle.pieces = {piece(13, "bonnet", {CatalogueKind::film}),
                    piece(14, "mirror", {CatalogueKind::panel, CatalogueKind::film})};
  out.vehicles = {vehicle};
  return out;
}

}  // namespace

TEST_CASE("what is gone from the files and in use is said with names and numbers") {
  CHECK(gone_and_in_use(board()) ==
        std::vector<std::string>{
            "bay 'front' is gone from the files: vehicle 12 (lot 5) stands in it",
            "film 'thick' is gone from the files: vehicle 12 (lot 5) has it on bonnet (piece 13), mirror "
            "(piece 14)",
            "panel 'mirror' is gone from the files: vehicle 12 (lot 5) has it on mirror (piece 14)"});
}

TEST_CASE("nothing is said of what is not in use any more") {
  auto moved = board();
  moved.vehicles[0].bay = "back";
  moved.vehicles[0].pieces[0].removed = Time{};
  moved.vehicles[0].pieces[1].replaced_by = 15;
  CHECK(gone_and_in_use(moved).empty());
  auto left = board();
  left.vehicles[0].released = Time{};
  CHECK(gone_and_in_use(left).empty());
  CHECK(gone_and_in_use(Board{}).empty());
}

TEST_CASE("what left the files before the journal's first settings is said too, at a check and at a start") {
  const test::ScratchFolder folder;
  const Time noon = from_unix_ms(1'772'366'400'000);  // 2026-03-01T12:00:00Z
  {
    auto writer = store::Writer::open({.path = folder / "a.db", .ballast_bytes = 0}, {}, {}).value();
    const auto tell = [&](EventDetail detail) {
      Event event;
      event.at = event.entered = noon;
      event.detail = std::move(detail);
      const RawMessage message{"", wire::to_json(event), noon, 0};
      REQUIRE(writer->append({RowKind::event, message, {}}, Millis{10'000}).has_value());
    };
    VehicleIn in;
    in.reference = "lot 5";
    in.bay = "front";
    tell(in);
    Lay lay;
    lay.vehicle = 1;
    lay.panel = "tow bar cover";
    lay.film = "thick";
    lay.solution = "slip";
    tell(lay);
    writer->stop();
  }
  const std::vector<std::string> expected{
      "film 'thick' is gone from the files: vehicle 1 (lot 5) has it on tow bar cover (piece 2)"};
  Config config;
  config.store.path = folder / "a.db";
  config.setup = support::small_shop();
  CHECK(compare_with_journal(config).value() == expected);
  const JournalledShop shop(folder / "a.db", support::small_shop(), noon);
  CHECK(gone_and_in_use(shop.engine().board()) == expected);
}

}  // namespace dryclock::app
