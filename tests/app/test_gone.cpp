#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "app/gone.hpp"

namespace dryclock::app {
namespace {

PieceSummary piece(PieceId id, std::string panel, std::vector<std::string> gone) {
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
  vehicle.pieces = {piece(13, "bonnet", {"film"}), piece(14, "mirror", {"panel", "film"})};
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

}  // namespace dryclock::app
