#include "cli/naming.hpp"

#include <doctest/doctest.h>

#include "cli/failure.hpp"
#include "cli/some_board.hpp"

using namespace dryclock;

namespace {

PieceId found(const std::string& name, const std::string& vehicle = "") {
  static const auto board = test::some_board();
  return cli::find_piece(board, test::some_shop(), test::some_words(), name, vehicle).piece->id;
}

template <class Call>
std::string refusal(Call call) {
  try {
    call();
  } catch (const cli::Failure& failure) {
    CHECK(failure.code() == cli::ExitCode::usage);
    return failure.what();
  }
  return "";
}

}  // namespace

TEST_CASE("pieces by number, by panel in any language, by part") {
  CHECK(found("12") == 12);
  CHECK(found("2") == 2);  // of a vehicle that has left: by number alone
  CHECK(found("bonnet") == 12);
  CHECK(found("hood") == 12);
  CHECK(found("motorhaube") == 12);
  CHECK(found("stoßfänger vorn 2") == 14);
  CHECK(found("Bonnet", "demo-1") == 12);
  CHECK(found("front bumper 2") == 14);
  CHECK(found("front-bumper 1", "3") == 13);
}

TEST_CASE("a name that fits several pieces, or none, lists what there is") {
  CHECK(refusal([] { found("front bumper"); }) ==
        "\"front bumper\" may be any of these, say its number:\n     13  front bumper 1/2 on demo-1\n     14 "
        " front "
        "bumper 2/2 on demo-1");
  const auto none = refusal([] { found("mirror"); });  // it was pulled
  CHECK(none.starts_with("no piece \"mirror\" is laid. Laid now:\n     12  bonnet on demo-1\n"));
  CHECK(refusal([] { found("99"); }) == "no piece 99");
  const auto board = test::some_board();
  CHECK(refusal([&] {
          (void)cli::find_piece(board, test::some_shop(), test::some_words(Language::german), "bumper", "");
        }).find("     12  Motorhaube on demo-1\n") != std::string::npos);
}

TEST_CASE("vehicles by reference, by number, or the only one in the shop") {
  auto board = test::some_board();
  CHECK(cli::find_vehicle(board, "demo-1").id == 3);
  CHECK(cli::find_vehicle(board, "1").id == 1);
  CHECK(cli::find_vehicle(board, "").id == 3);
  CHECK(refusal([&] { (void)cli::find_vehicle(board, "demo-9"); }) ==
        "no vehicle \"demo-9\". In the shop:\n      3  demo-1");
  // A reference is free again when its vehicle has left.
  board.vehicles[1].reference = "demo-1";
  CHECK(cli::find_vehicle(board, "demo-1").id == 3);
  board.vehicles[1].released.reset();
  board.vehicles[1].reference = "demo-0";
  CHECK(refusal([&] {
          (void)cli::find_vehicle(board, "");
        }).starts_with("several vehicles are in the shop, say which with --vehicle:"));
  board.vehicles.clear();
  CHECK(refusal([&] { (void)cli::find_vehicle(board, ""); }).starts_with("no vehicle is in the shop"));
}

TEST_CASE("panels by key or by the word of any language; own words only when asked") {
  const auto shop = test::some_shop();
  CHECK(cli::find_panel(shop, "Front Fender", false) == "front-wing");
  CHECK(cli::find_panel(shop, "front-wing", false) == "front-wing");
  CHECK(cli::find_panel(shop, "KOTFLÜGEL", false) == "front-wing");
  CHECK(refusal([&] {
          (void)cli::find_panel(shop, "bonet", false);
        }).starts_with("no panel \"bonet\" in the catalogue, did you mean \"bonnet\"?"));
  CHECK(cli::find_panel(shop, "side skirt insert", true) == "side skirt insert");
}
