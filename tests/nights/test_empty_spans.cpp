// Years in which no row came: a machine that began in 1970 and then learnt the time, one that was off for a
// year, an arrival with a wrong date. They cost nothing, and a replay finds the same.
#include <doctest/doctest.h>

#include "ingest/decode.hpp"
#include "nights/night.hpp"
#include "nights/replay.hpp"
#include "wire/event_json.hpp"

using namespace dryclock;
using nights::fingerprint;
using nights::Night;
using nights::replay;
using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;

namespace {

// Cut by calls that pass by themselves, as a daemon's: some days after the last row, then the row.
void check_however_cut(Night& night) {
  const auto whole = replay(night.setup(), night.rows(), night.now());
  CHECK(bool{whole.board == fingerprint(night.engine())});
  engine::Engine cut{night.setup()};
  std::string alerts;
  const auto note = [&](const Effects& effects) { alerts += fingerprint(effects.alerts); };
  for (const auto& row : night.rows()) {
    const Time at = row.message.received_at;
    for (const Millis before :
         {Millis{days{10'000}}, Millis{days{40}}, Millis{hours{47}}, Millis{hours{1}}}) {
      if (at - before > night.rows().front().message.received_at) {
        note(cut.advance(at - before));
      }
    }
    note(cut.apply(row, ingest::decode(row, cut.mappings())));
  }
  note(cut.advance(night.now()));
  CHECK(bool{fingerprint(cut) == whole.board});
  CHECK(bool{alerts == whole.reported.alerts});
}

// One evening's work; the film is still wet at its end.
PieceId evening(Night& night) {
  night.air_is("front", 19.0, 55.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front", 12.0);
  night.passes_to(night.now() + minutes{30} + seconds{20});
  const auto bonnet = night.lays(van, "bonnet");
  night.passes_to(night.now() + hours{2});
  return bonnet;
}

}  // namespace

TEST_CASE("a clock that began in 1970 and then learns the time skips the years between") {
  Night night{"1970-01-01 00:10"};
  const auto bonnet = evening(night);
  const double before = night.piece(bonnet).standard_hours;
  const Time left = night.now();
  night.clock_steps_to("2026-03-02 18:00", "by 56 years");
  night.passes_to(night.now() + hours{3});
  // Silent from minutes after 1970's last reading until 2026's first.
  CHECK(night.timeline("raised clock-stepped/clock").size() == 1);
  REQUIRE(night.timeline("raised sensor-silent/probe").size() == 1);
  for (const auto& row : night.alerts()) {
    if (row.step == AlertStep::raised && row.alert.id == "sensor-silent/probe") {
      CHECK(row.alert.raised < left + minutes{15});
    }
  }
  CHECK(night.timeline("cleared sensor-silent/probe").size() == 1);
  REQUIRE(night.gaps().size() == 1);
  const auto piece = night.piece(bonnet);
  CHECK((piece.state.validity & models::bridged_gap) != 0);
  CHECK(piece.standard_hours > before + 1.0);  // it goes on where the readings do
  CHECK(piece.standard_hours < before + 4.0);
  CHECK(night.engine().air("front", Time{}, night.now()).size() < 600);
  // Its past is told by both ends of the hole, and what is told late is integrated from its lay.
  CHECK(night.engine().history(bonnet).value().size() < 100);
  night.does(HeatApplied{bonnet, HeatSource::lamp, 45.0, 20.0});
  const auto lamp = night.lays(night.board().vehicles.front().id, "lamp");
  night.passes_to(night.now() + hours{1});
  CHECK(night.piece(lamp).standard_hours > 0.5);
  check_however_cut(night);
}

TEST_CASE("a year in which the daemon was off is skipped, and what fell due in it is told after it") {
  Night night{"2025-03-02 18:00"};
  const auto bonnet = evening(night);
  night.does(HandOverAgreed{night.board().vehicles.front().id, night.now() + days{3}});
  night.falls_silent("front");
  night.passes_to(night.now() + hours{47});
  night.clock_steps_to("2026-03-03 18:00", "by a year");
  night.sends_every("front", minutes{1});
  night.passes_to(night.now() + hours{2});
  CHECK(night.timeline("raised sensor-silent/probe").size() == 1);
  CHECK(night.timeline("cleared sensor-silent/probe").size() == 1);
  CHECK((night.piece(bonnet).state.validity & models::bridged_gap) != 0);
  check_however_cut(night);
}

TEST_CASE("a lay that is told after the hole and happened before it is integrated over both sides of it") {
  Night night{"2026-03-02 18:00"};
  night.air_is("front", 19.0, 55.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front", 12.0);
  night.passes_to("22:00");
  night.clock_steps_to("2026-04-02 18:00", "by a month");
  night.passes_to("20:00");
  const auto bonnet = night.lays(van, "bonnet", "2026-03-02 20:00");
  night.passes_to("21:00");
  const auto piece = night.piece(bonnet);
  CHECK(piece.standard_hours > 3.0);  // two hours before the hole, three after it, colder than 21 C
  CHECK(piece.standard_hours < 6.0);
  CHECK((piece.state.validity & models::bridged_gap) != 0);
  check_however_cut(night);
}

TEST_CASE("dates that cannot be meant are refused at the door, and replayed where they are in the journal") {
  Night night{"2026-03-02 18:00"};
  night.air_is("front", 19.0, 55.0);
  night.sends_every("front", minutes{1});
  VehicleIn in;
  in.reference = "grey-van";
  in.bay = "front";
  CHECK(night.objection(in, "2006-03-02 18:00") ==
        "/at: Thu 2 Mar 18:00 lies more than 19 years back; is the date right?");
  CHECK(night.objection(in, "2025-03-03 18:00").empty());
  in.hand_over = night.at("2062-03-04 17:00");
  CHECK(night.objection(in).find("lies more than 35 years ahead; is the date right?") != std::string::npos);
  in.hand_over = night.at("2027-03-03 17:00");  // 366 days, an hour less
  CHECK(night.objection(in).empty());
  in.hand_over = night.at("2027-03-03 19:00");
  CHECK(night.objection(in).find("lies more than a year ahead") != std::string::npos);
  CHECK(night.objection(in, "2025-03-01 17:00").find("lies more than a year back") != std::string::npos);
  night.passes_to("19:00");
  const auto van = night.arrives("silver-car", "front");
  CHECK(night.objection(HandOverAgreed{van, night.at("2036-03-04 17:00")}).find("/hand_over") !=
        std::string::npos);

  // From before there was this bound.
  auto rows = night.rows();
  Event old;
  old.at = parse_rfc3339("1971-03-02T18:00:00Z").value();
  old.entered = night.now();
  old.who = "AB";
  in.hand_over.reset();
  old.detail = in;
  const auto journalled = [&](const Event& event) {
    JournalRow row;
    row.seq = static_cast<Seq>(rows.size()) + 1;
    row.kind = RowKind::event;
    row.message = {"", wire::to_json(event), night.now(), 1, false, false};
    rows.push_back(row);
    return row.seq;
  };
  const Seq arrival = journalled(old);
  Lay lay;
  lay.vehicle = arrival;
  lay.panel = "bonnet";
  old.at += hours{1};
  old.detail = lay;
  const Seq laid = journalled(old);
  engine::Engine engine{night.setup()};
  for (const auto& row : rows) {
    CHECK(engine.apply(row, ingest::decode(row, engine.mappings())).rejects.empty());
  }
  engine.advance(night.now() + minutes{1});
  REQUIRE(engine.vehicle(arrival).has_value());
  CHECK(engine.vehicle(arrival)->pieces.front().id == laid);
  CHECK(engine.vehicle(arrival)->pieces.front().standard_hours > 0.3);
  CHECK(engine.history(laid).value().size() < 20);
}
