#include "record/handover.hpp"

#include <doctest/doctest.h>

#include "models/pace.hpp"
#include "record/shop_story.hpp"

namespace dryclock::record {
namespace {

constexpr std::size_t clear = static_cast<std::size_t>(models::Milestone::clear);
constexpr std::size_t leave = static_cast<std::size_t>(models::Milestone::may_leave);

std::string handover_words(const Record& record) {
  return squeezed(text_of_pdf(handover_pdf(record, Paper::a4).value()));
}

}  // namespace

TEST_CASE("the sheet says what was done, what to avoid and when to come back") {
  const auto text = handover_words(eventful_record());
  CHECK(has(text, "demo-7"));
  CHECK(has(text, "You were told bumper recess still moist, no wash for a week"));
  CHECK(has(text, "keep to the film maker's care and data sheet"));
  // Released on 2026-03-04: two to three weeks (common practice, no source).
  CHECK(has(text, "Between 2026-03-18 and 2026-03-25"));
  CHECK(has(text, "no guarantee and no legal promise"));
  CHECK(has(text, "front bumper"));
  CHECK(has(text, "joins, relief cuts, film under tension"));
}

TEST_CASE("what the sheet says of colder and damper air is what the model says") {
  Record record = eventful_record();
  record.at_end.pieces.front().milestones[leave] = {};  // something is still to dry
  CHECK(
      has(handover_words(record), "at 10 °C and 80 %RH some six times more slowly than at 21 °C and 50 %RH"));
  const double pace = models::pace(models::Celsius{10.0}, models::Celsius{10.0}, models::Humidity{0.8});
  CHECK(1.0 / pace == doctest::Approx(6.0).epsilon(0.08));
}

TEST_CASE("a piece still drying is named with the estimate's time; one without liquid has what is wanted") {
  Record record = eventful_record();
  record.at_end.full_strength.reset();
  auto& shown = record.at_end.pieces;
  for (auto& piece : shown) {
    piece.milestones[leave] = {};
    piece.milestones[leave].probability = 1.0;
    for (auto& zone : piece.state.zones) {
      zone.wet_share = {};
    }
  }
  CHECK(care_of(record).all_ready);
  CHECK(has(handover_words(record), "By the estimate nothing is left to dry"));
  CHECK(has(handover_words(record), "For the first days: do not wash the vehicle"));

  const Time late = *record.released + std::chrono::hours{30};
  PieceSummary* bumper = nullptr;
  for (auto& piece : shown) {
    bumper = piece.id == eventful().bumper ? &piece : bumper;
  }
  REQUIRE(bumper != nullptr);
  REQUIRE_FALSE(bumper->state.zones.empty());
  bumper->milestones[leave].probability = 0.0;
  bumper->milestones[leave].held_by = {"", {}, "edge: bond 89 %, 90 % wanted"};
  bumper->milestones[leave].expected = {record.released, *record.released + std::chrono::hours{20}, late};
  CHECK_FALSE(care_of(record).all_ready);
  CHECK(care_of(record).until == std::optional{late});
  auto text = handover_words(record);
  CHECK(has(text, "GAINING STRENGTH: edge: bond 89 %, 90 % wanted"));
  CHECK(has(text, "front bumper: the adhesive has not reached its strength yet."));
  CHECK_FALSE(has(text, "STILL DRYING"));
  CHECK_FALSE(has(text, "0.0 %"));
  CHECK(has(text, "Until Thu 2026-03-05 23:00: do not wash the vehicle"));

  // A tenth of a zone is wet: its liquid has not gone (the milestones' default).
  bumper->state.zones.front().wet_share = {0.02, 0.10, 0.3};
  bumper->milestones[clear].expected = {record.released, *record.released + std::chrono::hours{20}, late};
  text = handover_words(record);
  CHECK(has(text, "STILL DRYING: likely dry by Thu 2026-03-05 13:00, very likely by Thu 2026-03-05 23:00"));
  CHECK(has(text, "front bumper: some water may still be under the film at its"));

  bumper->milestones[leave].expected.late.reset();
  CHECK(care_of(record).beyond);
  CHECK(has(handover_words(record), "Until your next visit: do not wash the vehicle"));

  bumper->milestones[leave].announced = record.released;
  bumper->milestones[leave].by_word = true;
  CHECK(has(handover_words(record), "FIT TO LEAVE by what was seen"));
}

TEST_CASE(
    "until the adhesive is at its full strength nothing is washed or pressed, also where all may leave") {
  Record record = eventful_record();
  for (auto& piece : record.at_end.pieces) {
    piece.milestones[leave] = {};
    piece.milestones[leave].announced = record.released;
  }
  record.at_end.full_strength = *record.released + std::chrono::hours{40};
  CHECK(care_of(record).all_ready);
  const auto text = handover_words(record);
  CHECK(has(
      text,
      "the adhesive reaches its full strength by Fri 2026-03-06 09:00: no wash and no pressure until then"));
  CHECK(has(text, "Until Fri 2026-03-06 09:00: do not wash the vehicle"));
  // What is past is not asked for.
  record.at_end.full_strength = *record.released - std::chrono::hours{1};
  CHECK_FALSE(has(handover_words(record), "full strength"));
}

TEST_CASE("a checkpoint's hash is printed as the anchor outside") {
  Record record = eventful_record();
  CHECK(has(handover_words(record), "no sealed checkpoint on this sheet"));
  record.checkpoint = std::string(64, 'a');
  record.checkpoint_number = 7;
  record.checkpoint_at = parse_rfc3339("2026-03-04T16:36:00Z").value();
  record.key_sha256 = std::string(64, 'b');
  CHECK(has(handover_words(record), "Checkpoint 7, made Wed 2026-03-04 16:36 Its SHA-256 " +
                                        std::string(64, 'a') + "First key, SHA-256" + std::string(64, 'b')));
}

}  // namespace dryclock::record
