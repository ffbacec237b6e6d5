#include <doctest/doctest.h>

#include "record/handed_over.hpp"
#include "record/shop_story.hpp"

namespace dryclock::record {

using std::chrono::hours;

TEST_CASE("a vehicle that has left is listed with its pieces, its due time and what the recheck found") {
  const auto& story = eventful();
  const auto reader = store::Reader::open(story.database()).value();
  const auto dates = history::Dates::read(reader, false).value();
  const auto last = reader.extent().value().last_at;
  const auto list = handed_over(reader, dates, last).value();
  REQUIRE(list.size() == 1);
  const auto& gone = list.front();
  CHECK(gone.vehicle == story.vehicle);
  CHECK(gone.reference == eventful_record().reference);
  CHECK(gone.released == *eventful_record().released);
  CHECK(gone.recheck_from == gone.released + hours{14 * 24});
  CHECK(gone.recheck_until == gone.released + hours{21 * 24});
  // The lamp was laid again: the first piece is not on it any more.
  std::map<PieceId, std::optional<RecheckFinding>> found;
  for (const auto& piece : gone.pieces) {
    found[piece.id] = piece.finding;
    CHECK(piece.rechecked.has_value() == piece.finding.has_value());
  }
  CHECK(found.contains(story.second_lamp));
  CHECK_FALSE(found.contains(story.lamp));
  CHECK(found.at(story.bonnet) == RecheckFinding::sound);
  CHECK(found.at(story.bumper) == RecheckFinding::lifting);
  CHECK(found.at(story.second_lamp) == std::nullopt);

  CHECK(handed_over(reader, dates, gone.released + hours{60 * 24} - Millis{1}).value().size() == 1);
  CHECK(handed_over(reader, dates, gone.released + hours{60 * 24}).value().empty());  // no longer of interest
}

TEST_CASE("a vehicle in the shop has not left") {
  static const ShopStory story{ShopStory::Kind::quiet};
  const auto reader = store::Reader::open(story.database()).value();
  const auto dates = history::Dates::read(reader, false).value();
  CHECK(handed_over(reader, dates, reader.extent().value().last_at).value().empty());
}

}  // namespace dryclock::record
