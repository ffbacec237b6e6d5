// What the server asks of the rest of the daemon. The app fills every member; the server calls them on the
// thread that runs the io_context (core), one at a time, and never keeps what they return.
#pragma once

#include <cstdint>
#include <functional>
#include <stdexcept>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "domain/answers.hpp"
#include "domain/personal.hpp"
#include "domain/sensor_search.hpp"

namespace dryclock::http {

// An event that was not taken; nothing was written.
struct Refused {
  // 400 not an event, 409 cannot be now ("no vehicle 12"), 503 not yet: the disk refuses, or the journal is
  // being read again
  int status = 400;
  Problem problem;             // in English; `where`: the field, as a JSON pointer
  std::optional<Fact> fact{};  // the same, where the event itself cannot be
};
using SubmitAnswer = Result<Accepted, Refused>;
using DeedAnswer = Result<DeedTaken, Refused>;
// Called by Result::value() on a refusal: a bug in the caller, who had to ask first.
[[noreturn]] inline void throw_exception_from_error(const Refused& refused, const boost::source_location&) {
  throw std::runtime_error(to_string(refused.problem));
}

// A vehicle's evidence, as a file: for people, for machines, or for the customer (at the hand-over, on
// arrival).
enum class RecordForm : std::uint8_t { pdf, zip, handover, receipt };
struct RecordRequest {
  VehicleId vehicle = 0;
  RecordForm form = RecordForm::pdf;
  bool letter = false;                 // the paper; else A4
  std::optional<Language> language{};  // absent: the shop's
};
using RecordAnswer = Result<std::string>;  // the file's bytes

struct Services {
  std::function<Time()> now;
  std::function<Board()> board;
  std::function<CatalogueView()> catalogue;
  std::function<Health()> health;
  // (from, to]; Problem: no such bay (404).
  std::function<Result<std::vector<AirPoint>>(const std::string& bay, Time from, Time to)> air;
  // At each full hour to come; Problem: no such bay (404).
  std::function<Result<std::vector<AirHourAhead>>(const std::string& bay)> air_ahead;
  // In order of time; Problem: no such piece (404).
  std::function<Result<std::vector<HistoryPoint>>(PieceId piece)> piece_history;
  // In journal order, superseded ones included; 0: of all vehicles.
  std::function<std::vector<Event>(VehicleId vehicle)> events;
  // Raised in (from, to], newest first; Problem: the database (503).
  std::function<Result<std::vector<AlertSummary>>(Time from, Time to)> alert_history;
  // Plate and customer, where they were given and not erased; Problem: the database (503).
  std::function<Result<std::vector<PersonalText>>(VehicleId vehicle)> personal;
  std::function<Channels()> channels;
  // Sends a message over a channel, past what waits; answers once, on the core thread, when the channel has
  // answered. Problem: why it was not delivered; no such channel (404, `where` is "channel").
  std::function<void(std::string name, std::function<void(Result<void>)> answer)> test_channel;
  // Vehicles that have left, newest first, and one of them as it was then. Made from the journal off this
  // thread; answer once, on the core thread. Problem: no such vehicle (404, `where` is "vehicle"), else the
  // database (503).
  std::function<void(std::function<void(Result<HandedOverAnswer>)> answer)> handed_over;
  std::function<void(VehicleId vehicle, std::function<void(Result<VehicleSummary>)> answer)> past_vehicle;
  // What rechecks found, over all vehicles. Made off this thread; answers once, on the core thread. Problem:
  // the database (503).
  std::function<void(std::function<void(Result<RecheckReport>)> answer)> rechecks;
  // Journals, then applies; answers once, on the core thread, perhaps before it returns. `json` is the
  // request's body as it came: at most Options::body_limit bytes, otherwise unchecked.
  std::function<void(std::string json, std::function<void(SubmitAnswer)> answer)> submit;
  // Likewise, several as one.
  std::function<void(std::string json, std::function<void(DeedAnswer)> answer)> submit_deed;
  // Among all vehicles of the journal. Made off this thread; answers once, on the core thread. Problem: the
  // database (503).
  std::function<void(SearchQuery query, std::function<void(Result<SearchAnswer>)> answer)> search;
  // Made from the journal off this thread; answers once, on the core thread, perhaps before it returns.
  // Problem: no such vehicle (404, `where` is "vehicle"), else the database (503).
  std::function<void(RecordRequest request, std::function<void(RecordAnswer)> answer)> record;

  std::function<std::vector<SensorView>()> sensors;
  std::function<std::vector<CouponView>()> coupons;
  std::function<LearnedView()> learned;
  std::function<std::vector<PlateView>()> plates;
  std::function<std::vector<BondCouponView>()> bond_coupons;
  // Listens on every topic for so many seconds, from 5 to 600; a search that runs goes on until then.
  // Problem: no broker (503).
  std::function<Result<void>(int seconds)> search_sensors;
  std::function<SensorSearch()> sensor_search;
};

}  // namespace dryclock::http
