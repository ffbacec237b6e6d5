#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "compute/outlook.hpp"
#include "domain/milestones.hpp"
#include "domain/names.hpp"
#include "engine/engine.hpp"
#include "ingest/decode.hpp"
#include "record/gather.hpp"
#include "record/shop_story.hpp"

namespace dryclock::record {
namespace {

const PieceRecord& piece_of(const Record& record, PieceId id) {
  const auto found =
      std::ranges::find_if(record.pieces, [&](const PieceRecord& piece) { return piece.summary.id == id; });
  REQUIRE(found != record.pieces.end());
  return *found;
}

// The daemon's own engine, fed with the whole journal as it came, up to the release.
struct Daemon {
  explicit Daemon(const ShopStory& story) : engine(story.setup()) {
    for (const auto& row : story.rows()) {
      if (row.seq < story.release) {
        (void)engine.apply(row, ingest::decode(row, story.setup().mappings));
      }
    }
  }
  engine::Engine engine;
};

}  // namespace

TEST_SUITE("identities") {
  TEST_CASE("a piece's history is the daemon's own, to the last bit") {
    const auto& story = eventful();
    const auto& record = eventful_record();
    Daemon daemon(story);
    for (const PieceId id : {story.bonnet, story.bumper, story.second_lamp}) {
      const auto live = daemon.engine.history(id).value();
      const auto& replayed = piece_of(record, id).history;
      REQUIRE(live.size() > 50);
      REQUIRE(replayed.size() >= live.size());
      bool same = true;
      for (std::size_t i = 0; i < live.size(); ++i) {
        const auto& a = live[i];
        const auto& b = replayed[i];
        same = same && a.at == b.at && a.pace == b.pace && a.zones.size() == b.zones.size();
        for (std::size_t z = 0; same && z < a.zones.size(); ++z) {
          same = a.zones[z].water.likely == b.zones[z].water.likely &&
                 a.zones[z].water.high == b.zones[z].water.high &&
                 a.zones[z].bond.likely == b.zones[z].bond.likely;
        }
      }
      CHECK(same);
    }
  }

  TEST_CASE("the estimate at a step is what the board showed just before it") {
    const auto& story = eventful();
    engine::Engine engine(story.setup());
    for (const auto& row : story.rows()) {
      if (row.seq == story.wrap) {
        (void)engine.advance(row.message.received_at);
        for (auto& task : engine.outlook_tasks()) {
          (void)engine.apply(compute::answer(std::move(task)));
        }
        break;
      }
      (void)engine.apply(row, ingest::decode(row, story.setup().mappings));
    }
    double shown = -1.0;
    for (const auto& vehicle : engine.board().vehicles) {
      for (const auto& piece : vehicle.pieces) {
        shown =
            piece.id == story.bonnet ? milestone_of(piece, models::Milestone::wrap_ready).probability : shown;
      }
    }
    const auto& steps = piece_of(eventful_record(), story.bonnet).steps;
    REQUIRE(steps.size() == 2);
    CHECK(steps[0].event == story.wrap);
    CHECK(std::abs(steps[0].probability.value_or(-1.0) - shown) < 1e-12);  // mixed of courses there
    CHECK(steps[1].step == "released");
  }

  TEST_CASE("the same journal gives the same record whenever it is made") {
    // Weeks later, with another vehicle's rows behind it.
    const auto& once = eventful_record();
    const Record again = eventful().record();
    REQUIRE(once.readings.size() == again.readings.size());
    CHECK(once.as_of == again.as_of);
    CHECK(once.last_row == again.last_row);
    CHECK(once.release_probability == again.release_probability);
  }
}

TEST_CASE("a record tells who, where and when") {
  const auto& story = eventful();
  const auto& record = eventful_record();
  CHECK(record.reference == "demo-7");
  CHECK(record.stays.size() == 1);
  CHECK(record.released == std::optional{record.to});
  CHECK(record.advised == "bumper recess still moist, no wash for a week");
  CHECK(record.last_row == story.recheck);
  CHECK(record.pieces.size() == 4);
  CHECK(piece_of(record, story.bumper).lot == "L-0815");
  CHECK(piece_of(record, story.lamp).summary.replaced_by == std::optional{story.second_lamp});
}

TEST_CASE("events stand in the record with what became of them") {
  const auto& story = eventful();
  const auto& record = eventful_record();
  const auto at = [&](Seq seq) {
    const auto found =
        std::ranges::find_if(record.events, [&](const EventEntry& one) { return one.event.seq == seq; });
    REQUIRE(found != record.events.end());
    return *found;
  };
  CHECK(at(story.taken_back).superseded);
  CHECK_FALSE(at(story.wrap).superseded);
  CHECK(at(story.recheck).event.entered > *record.released);
  // Taken back: no step of the piece any more.
  for (const auto& step : piece_of(record, story.bumper).steps) {
    CHECK(step.event != story.taken_back);
  }
}

TEST_CASE("what is missing or was not used is there") {
  const auto& record = eventful_record();
  REQUIRE(record.gaps.size() == 2);
  CHECK(record.gaps[0].why == GapWhy::no_readings);
  CHECK(record.gaps[1].why == GapWhy::clock_step);
  CHECK(record.clock_steps.size() == 1);
  REQUIRE(record.rejects.size() == 2);  // temperature and humidity of the one message
  CHECK(record.rejects[0].reject.why == RejectReason::not_json);
  std::uint64_t implausible = 0;
  for (const auto& sensor : record.sensors) {
    CHECK(sensor.mapping.bay == "front");  // of the bay it stood in, and no other
    implausible += sensor.counts[static_cast<std::size_t>(Verdict::implausible)];
  }
  CHECK(implausible == 1);
}

TEST_CASE("every reading of the stay is there, and none of the time before") {
  const auto& story = eventful();
  const auto& record = eventful_record();
  std::size_t expected = 0;
  for (const auto& row : story.rows()) {
    const Time at = row.message.received_at;
    if (row.kind == RowKind::message && at > record.from && at <= record.to &&
        row.message.payload[5] != 'w') {
      expected += 2;  // temperature and humidity
    }
  }
  const auto rejects = record.rejects.size();
  CHECK(record.readings.size() + rejects == expected);
}

TEST_CASE("a vehicle still in the shop has a record up to the last row") {
  ShopStory story(ShopStory::Kind::quiet);
  const Record record = story.record();
  CHECK_FALSE(record.released);
  CHECK(record.to == story.rows().back().message.received_at);
  CHECK(record.gaps.empty());
  CHECK(record.rejects.empty());
  CHECK(piece_of(record, story.bonnet).steps.empty());
  // Of the device: the check over salt that came before the vehicle did.
  REQUIRE(record.sensor_papers.size() == 1);
  const auto& paper = record.sensor_papers.front();
  REQUIRE(paper.checked);
  CHECK(*paper.checked < record.from);
  REQUIRE(paper.result);
  CHECK(paper.result->verdict == models::SensorVerdict::off);
  CHECK(paper.result->shown_pct == 80.3);
  // With its outlook, as the page shows it.
  const auto& leave = milestone_of(record.at_end.pieces.at(0), models::Milestone::may_leave);
  CHECK((leave.announced || leave.expected.likely));
}

// The board lets a vehicle go a day after its release: here it was gone before the release was told.
TEST_CASE("a release that is told two days late makes a record, with the air up to the release") {
  const ShopStory story(ShopStory::Kind::late_release);
  const auto record = story.record();
  REQUIRE(record.released);
  CHECK(story.rows().back().message.received_at - *record.released > std::chrono::hours{48});
  CHECK(record.to == *record.released);
  REQUIRE(record.pieces.size() == 1);
  const auto& history = record.pieces.front().history;
  REQUIRE(history.size() > 50);
  CHECK(history.front().at < record.from + std::chrono::hours{2});
  CHECK(*record.released - history.back().at < std::chrono::minutes{11});
  CHECK(record.air.size() == 1);
  CHECK(record.at_end.id == story.vehicle);
}

TEST_CASE("no such vehicle is a problem") {
  const auto reader = store::Reader::open(eventful().database());
  REQUIRE(reader.has_value());
  const auto none = gather(*reader, eventful().bonnet, eventful().origin());
  REQUIRE_FALSE(none.has_value());
  CHECK(none.error().where == "vehicle");
}

}  // namespace dryclock::record
