// The state is a function of journal rows: again, or cut anywhere, it is the same bit for bit.
#include <doctest/doctest.h>

#include "ingest/decode.hpp"
#include "nights/night.hpp"
#include "nights/replay.hpp"

using namespace dryclock;
using nights::fingerprint;
using nights::Night;
using nights::replay;
using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;

namespace {

// Kilobytes of hexadecimal digits are no help in a failure's message.
bool same(const std::string& a, const std::string& b) {
  return a == b;
}

// The first line holds `now`, which a late engine is ahead of.
std::string after_first_line(const std::string& board) {
  return board.substr(board.find('\n'));
}

// Everything at once: two bays, a move, a re-lay, an inspection, a drop-out, heat, a wrong entry taken back.
void play_all(Night& night) {
  night.air_is("front", 19.0, 55.0);
  night.air_is("back", 22.0, 45.0);
  night.sends_every("front", seconds{70});
  night.sends_every("back", minutes{3});
  night.passes_to("14:10:30");
  const auto van = night.arrives("grey-van", "front", 8.0, "2026-03-04 17:00");
  night.passes_to("15:00:20");
  const auto bonnet = night.lays(van, "bonnet");
  night.passes_to("15:40");
  const auto bumper = night.lays(van, "bumper", "15:20");
  night.passes_to("17:00");
  night.does(VehicleMoved{van, "back"});
  night.does(HeatApplied{bumper, HeatSource::heat_gun, 50.0, 3.0});
  night.does(LampSwitched{van, true, 300.0, bumper, models::ZoneKind::recess});
  night.passes_to("18:00");
  night.does(LampSwitched{van, true, 200.0});
  night.passes_to("19:00");
  night.does(LampSwitched{van, false, 0.0});
  const auto wrong = night.does(EdgeWrapped{bonnet}, "18:30");
  night.passes_to("19:20");
  night.does(Superseded{wrong});
  night.air_drifts("back", 15.0, 65.0, hours{4});
  night.passes_to("22:00:10");
  night.falls_silent("back");
  night.passes_to("23:30");
  night.sends_every("back", minutes{1});
  night.passes_to("06:00");
  night.does(Inspected{bumper, models::ZoneKind::recess, models::Finding::wet});
  night.does(EdgeOpened{bonnet});
  night.passes_to("07:00");
  night.lays(van, "bonnet", "", bonnet);
  night.passes_to("10:00");
}

}  // namespace

TEST_CASE("a restart applies the same rows to the same state and says the same") {
  Night night{"2026-03-02 14:00"};
  play_all(night);
  const auto once = replay(night.setup(), night.rows(), night.now());
  const auto again = replay(night.setup(), night.rows(), night.now());
  CHECK(same(once.board, again.board));
  CHECK(bool{once.reported == again.reported});
  CHECK(same(once.board, fingerprint(night.engine())));  // and as it was lived
  auto fewer = night.rows();
  fewer.resize(fewer.size() - 100);
  CHECK_FALSE(same(once.board, replay(night.setup(), fewer, night.now()).board));
}

TEST_CASE("however time is cut into calls, the state and what is reported are the same") {
  Night night{"2026-03-02 14:00"};
  play_all(night);
  const auto whole = replay(night.setup(), night.rows(), night.now());
  for (const Millis cut : {Millis{777}, Millis{seconds{7}}, Millis{seconds{61}}, Millis{minutes{37}}}) {
    CAPTURE(cut.count());
    const auto parts = replay(night.setup(), night.rows(), night.now(), cut);
    CHECK(same(parts.board, whole.board));
    CHECK(bool{parts.reported == whole.reported});
  }
}

TEST_CASE("a row that reaches the engine just after its minute does the same as in a replay") {
  Night night{"2026-03-02 14:00"};
  play_all(night);
  const auto in_order = replay(night.setup(), night.rows(), night.now());
  engine::Engine late{night.setup()};
  for (const auto& row : night.rows()) {
    late.advance(row.message.received_at + engine::settle - Millis{1});
    late.apply(row, ingest::decode(row, late.mappings()));
  }
  late.advance(night.now());
  CHECK(same(after_first_line(fingerprint(late)), after_first_line(in_order.board)));
}

TEST_CASE("told late is as good as told in time, and taken back is as if it had never been") {
  Night night{"2026-03-02 14:00"};
  night.air_is("front", 20.0, 50.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front");
  night.passes_to("15:00");
  const auto bonnet = night.lays(van, "bonnet");
  night.passes_to("16:00");
  const Seq heated = night.does(HeatApplied{bonnet, HeatSource::lamp, 45.0, 20.0});
  night.passes_to("17:00");
  const auto lamp = night.lays(van, "lamp");
  night.passes_to("23:00");

  // The same rows, numbers and contents, but two of them journalled hours after what they tell of.
  auto late = night.rows();
  for (const Seq seq : {heated, lamp}) {
    const auto row = std::find_if(late.begin(), late.end(), [&](const auto& r) { return r.seq == seq; });
    auto moved = *row;
    late.erase(row);
    moved.message.received_at = night.at("2026-03-02 22:59:30");
    late.push_back(moved);
  }
  std::stable_sort(late.begin(), late.end(), [](const auto& a, const auto& b) {
    return a.message.received_at < b.message.received_at;
  });
  const auto pieces = [](const std::string& board) {
    return board.substr(board.find("vehicle"), board.find("sensor-silent") - board.find("vehicle"));
  };
  const auto in_time = replay(night.setup(), night.rows(), night.now());
  CHECK(same(pieces(replay(night.setup(), late, night.now()).board), pieces(in_time.board)));

  // Without the two rows at all, against both superseded.
  auto without = night.rows();
  std::erase_if(without, [&](const auto& r) { return r.seq == heated || r.seq == lamp; });
  const auto never = replay(night.setup(), without, night.now());
  night.does(Superseded{heated});
  night.does(Superseded{lamp});
  CHECK(same(pieces(replay(night.setup(), night.rows(), night.now()).board), pieces(never.board)));
  CHECK(night.engine().events(van).size() == 6);  // both stay on record
}
