#include "record/rechecks.hpp"

#include <doctest/doctest.h>

#include "record/shop_story.hpp"
#include "store/reader.hpp"

namespace dryclock::record {
namespace {

const RecheckGroup& group(const std::vector<RecheckGroup>& all, const std::string& by,
                          const std::string& of) {
  for (const auto& one : all) {
    if (one.by == by && one.of == of) {
      return one;
    }
  }
  FAIL("no group " << by << " " << of);
  return all.front();
}

JournalRow told(Seq seq, const std::string& json) {
  return {.seq = seq, .kind = RowKind::event, .message = {.topic = {}, .payload = json, .received_at = {}}};
}

}  // namespace

TEST_CASE("a vehicle's rechecks are found with what was known when it left") {
  const auto reader = store::Reader::open(eventful().database()).value();
  const auto vehicles =
      rechecked_vehicles(history::events(reader, history::Dates::read(reader, false).value()).value());
  REQUIRE(vehicles.size() == 1);
  CHECK(vehicles.at(eventful().vehicle) == eventful().recheck);

  const auto pieces = rechecked_pieces(reader, eventful().vehicle, eventful().origin()).value();
  REQUIRE(pieces.size() == 2);  // bonnet and bumper were looked at again
  const auto& bonnet = pieces.front();
  const auto& bumper = pieces.back();
  CHECK(bumper.piece == eventful().bumper);
  CHECK(bumper.lifted);
  CHECK(bumper.lifted_zones == std::vector{models::ZoneKind::recess});
  CHECK(bumper.under_tension);
  CHECK(bumper.trimmed);
  CHECK(bonnet.piece == eventful().bonnet);
  CHECK(bonnet.panel == "bonnet");
  CHECK_FALSE(bonnet.lifted);
  CHECK_FALSE(bonnet.trimmed);
  CHECK_FALSE(bonnet.under_tension);
  // As the record says it: released before it was release-ready, or not.
  const auto& record = eventful_record();
  CHECK(bonnet.left_early == (*record.release_probability < record.announce_level));
}

TEST_CASE("a recheck that was taken back, and brought back, makes the vehicle be looked at anew") {
  std::vector<JournalRow> rows{
      told(1, R"({"what":"vehicle-in","reference":"a","bay":"front","at":"2026-03-01T08:00:00Z"})"),
      told(2, R"({"what":"lay","vehicle":1,"panel":"bonnet","at":"2026-03-01T09:00:00Z"})"),
      told(3, R"({"what":"rechecked","piece":2,"finding":"lifting","at":"2026-03-20T09:00:00Z"})")};
  CHECK(rechecked_vehicles(history::events(rows, {})).at(1) == 3);
  rows.push_back(told(4, R"({"what":"superseded","event":3,"at":"2026-03-20T09:01:00Z"})"));
  CHECK(rechecked_vehicles(history::events(rows, {})).at(1) == 4);
  rows.push_back(told(5, R"({"what":"superseded","event":4,"at":"2026-03-20T09:02:00Z"})"));
  CHECK(rechecked_vehicles(history::events(rows, {})).at(1) == 5);
}

TEST_CASE("pieces are counted by what they share") {
  using models::ZoneKind;
  std::vector<RecheckedPiece> pieces;
  for (int i = 0; i < 20; ++i) {
    RecheckedPiece piece{.vehicle = i + 1,
                         .piece = 100 + i,
                         .panel = i < 12 ? "bonnet" : "mirror-left",
                         .zones = {ZoneKind::field, ZoneKind::edge},
                         .lifted = i < 2 || i == 19,
                         .lifted_zones = {},
                         .trimmed = i != 5,
                         .trim_probability = i < 4 ? std::optional{0.3} : std::optional{0.95},
                         .under_tension = i >= 18,
                         .left_early = i < 3};
    if (i == 5) {
      piece.trim_probability.reset();
    }
    if (i >= 12) {
      piece.zones.push_back(ZoneKind::recess);
    }
    if (i == 0) {
      piece.lifted_zones = {ZoneKind::edge};
    } else if (i == 19) {
      piece.lifted_zones = {ZoneKind::edge, ZoneKind::recess};
    }
    pieces.push_back(piece);
  }
  const auto groups = grouped(pieces);
  const auto counts = [&](const char* by, const char* of) {
    const auto& one = group(groups, by, of);
    return std::pair{one.lifted, one.pieces};
  };
  CHECK(counts("all", "all") == std::pair{3, 20});
  CHECK(counts("panel", "bonnet") == std::pair{2, 12});
  CHECK(counts("panel", "mirror-left") == std::pair{1, 8});
  // Piece 1 lifts, and nobody said where: it is in no zone's row.
  CHECK(counts("zone", "recess") == std::pair{1, 8});
  CHECK(counts("zone", "edge") == std::pair{2, 19});
  CHECK(counts("zone", "field") == std::pair{0, 19});
  CHECK(counts("trim", "0-50 %") == std::pair{2, 4});
  CHECK(counts("trim", "90-100 %") == std::pair{1, 15});
  CHECK(counts("trim", "not-trimmed") == std::pair{0, 1});
  CHECK(counts("tension", "noted") == std::pair{1, 2});
  CHECK(counts("release", "early") == std::pair{2, 3});
  CHECK_FALSE(group(groups, "panel", "bonnet").few);
  CHECK(group(groups, "panel", "mirror-left").few);
  CHECK(group(groups, "all", "all").low < 0.15);
  CHECK(group(groups, "all", "all").high > 0.15);
  CHECK(groups.front().by == "all");
  CHECK(groups.back().of == "mirror-left");  // the panel with the fewest
  CHECK(grouped({}).empty());
}

}  // namespace dryclock::record
