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
          (void)cli::find_piece(board, test::some_shop(), test::some_words(Language::german), "mirror", "");
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

TEST_CASE("sides and places in any order, and beginnings that one piece alone has") {
  const auto shop = test::some_shop();
  auto board = test::some_board();
  auto left = test::piece(21, "front-wing");
  left.side = Side::left;
  auto right = test::piece(22, "front-wing");
  right.side = Side::right;
  auto upper = test::piece(23, "mirror", 1, 2);
  upper.place = "upper-half";
  for (const auto& one : {left, right, upper}) {
    board.vehicles[0].pieces.push_back(one);
  }
  const auto id = [&](const char* name, Language language = Language::english_uk) {
    return cli::find_piece(board, shop, test::some_words(language), name, "").piece->id;
  };
  for (const auto* name :
       {"left front wing", "front wing left", "wing left", "left fender", "l f w", "Left Front-Wing"}) {
    CAPTURE(name);
    CHECK(id(name) == 21);
  }
  CHECK(id("right wing") == 22);
  CHECK(id("wing nearside") == 21);
  CHECK(id("fender passenger", Language::english_us) == 22);
  CHECK(id("kotflügel rechts", Language::german) == 22);
  CHECK(id("mirror upper") == 23);
  CHECK(id("bon") == 12);
  CHECK(refusal([&] { (void)id("front wing"); }) ==
        "\"front wing\" may be any of these, say its number:\n     21  left front wing on demo-1\n     22  "
        "right "
        "front wing on demo-1");
  CHECK(refusal([&] { (void)id("middle wing"); }).starts_with("no piece \"middle wing\" is laid"));
}

TEST_CASE("a vehicle before the piece is taken off what was typed") {
  const auto board = test::some_board();
  std::vector<std::string> words{"demo-1", "bonnet"};
  CHECK(cli::take_vehicle(board, words, "") == "demo-1");
  CHECK(words == std::vector<std::string>{"bonnet"});
  CHECK(cli::take_vehicle(board, words, "").empty());  // a word by itself is the piece
  words = {"demo-0", "bonnet"};
  CHECK(cli::take_vehicle(board, words, "").empty());  // it has left
  words = {"demo-1", "bonnet"};
  CHECK(cli::take_vehicle(board, words, "other") == "other");
  CHECK(words.size() == 2);
}

TEST_CASE("panels by key or by the word of any language; own words only when asked") {
  auto shop = test::some_shop();
  shop.panels.at(2).sides = std::vector{Side::left, Side::right};  // front wing
  const auto words = test::some_words();
  const auto panel = [&](const char* name, bool own_words = false) {
    return cli::find_panel(shop, words, name, own_words);
  };
  CHECK(panel("bonnet") == PlannedPiece{"bonnet", 1, 1});
  CHECK(panel("Front Fender left") == PlannedPiece{"front-wing", 1, 1, Side::left});
  CHECK(panel("right front-wing").side == Side::right);
  CHECK(panel("KOTFLÜGEL left").panel == "front-wing");
  CHECK(refusal([&] { (void)panel("front wing"); }) ==
        "\"front wing\" may be any of these:\n  left front wing\n  right front wing");
  CHECK(refusal([&] {
          (void)panel("bonet");
        }).starts_with("no panel \"bonet\" in the catalogue, did you mean \"bonnet\"?"));
  CHECK(panel("bon").panel == "bonnet");
  CHECK(panel("bon", true).panel == "bon");  // no beginning of something else
  CHECK(panel("Bonnet", true).panel == "bonnet");
  CHECK(panel("side skirt insert", true) == PlannedPiece{"side skirt insert", 1, 1});
}
