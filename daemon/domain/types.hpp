// The words that stages share: messages, readings, verdicts, what the journal holds. Data only.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/time.hpp"
#include "domain/quantities.hpp"

namespace dryclock {

// A journal row's number. Rows count from 1; 0 is "none".
using Seq = std::int64_t;

// Bytes of a payload that are kept: a longer one is cut, and RawMessage::cut says so.
inline constexpr std::size_t payload_limit = 64 * 1024;

// Stage 1: one MQTT message as it came.
struct RawMessage {
  std::string topic;
  std::string payload;
  Time received_at;
  int qos = 0;
  bool dup = false;       // the broker's hint that it may have been sent before
  bool retained = false;  // kept by the broker: its age is unknown
  bool cut = false;       // the payload was longer than is kept: its beginning
};

// Stage 2: what the journal keeps. Everything after it is a function of these rows, in order.
enum class RowKind : std::uint8_t {
  message,     // an MQTT message: topic and payload as received
  event,       // what the installer did: the payload is the event's JSON
  started,     // the daemon started; the payload tells its version
  clock_step,  // the wall clock moved against steady time; the payload tells by how much (old
               // journals alone have such rows; now it is `redated`)
  tick,        // nothing came for a while: time passed (so that silence, too, is in the journal)
  configured,  // the settings for the rows that follow: wire/setup_json.hpp
  shown,       // what the board said then, for the record: nothing follows from it
  redated,     // earlier rows had come under a wrong clock: the time that they are given
  announced,   // what was called ready or worth a look, or is no longer: domain/announced.hpp
  learnt,      // what a vehicle that has left taught of the shop: domain/learnt.hpp
};

struct Event;
struct JournalRow {
  Seq seq = 0;
  RowKind kind = RowKind::message;
  RawMessage message;        // for an event the topic is empty
  Millis boot_time{};        // when it was received, since the machine's boot, suspend included
  std::int64_t session = 0;  // which start of the daemon wrote it
  // Of an event: what the payload says, where that is known already. Absent: read the payload.
  std::shared_ptr<const Event> parsed{};
};

// Stage 3: one value of one quantity at one time. Temperatures in C, humidity in %RH over liquid water, speed
// in m/s.
struct Reading {
  std::string sensor;
  std::string bay;
  Quantity quantity = Quantity::air_temperature;
  Time at;                   // by the source's own clock where it tells, else the time of receipt
  bool source_time = false;  // whether the source told
  double raw = 0.0;          // as sent, in the sensor's unit
  double value = 0.0;        // unit converted, slope and offset applied; never altered later
  bool dup = false;
  bool retained = false;
  bool operator==(const Reading&) const = default;
};

enum class RejectReason : std::uint8_t {
  unknown_topic,
  too_large,
  not_json,
  no_such_field,
  not_a_number,
  not_finite,
  bad_time,
  bad_event,
};
inline constexpr std::size_t reject_reasons = 8;

struct Reject {
  RejectReason why = RejectReason::unknown_topic;
  std::string detail;
  bool operator==(const Reject&) const = default;
};

// Stage 4: what the screen thinks of a reading. Only `ok` readings reach the model; all are kept.
enum class Verdict : std::uint8_t {
  ok,
  duplicate,      // same sensor, quantity and source time as one before
  suspect_dup,    // the broker's duplicate hint, same value, no source time to tell by
  retained,       // age unknown: never feeds the model
  late,           // older than what the bay has already been integrated to
  skewed,         // the source's clock is ahead of ours by more than the limit
  implausible,    // outside what a bay can be (a Fahrenheit sensor set up as Celsius shows here)
  spike,          // jumped further than air can between two readings
  stuck,          // the same value for longer than real air allows
  being_checked,  // it lay over a salt solution: not the bay's air
};
inline constexpr std::size_t verdicts = 10;

struct ScreenedReading {
  Seq seq = 0;
  Reading reading;
  Verdict verdict = Verdict::ok;
};

// How a topic's payload becomes readings: from the configuration, or assigned on the page.
struct SensorMapping {
  std::string sensor;  // the sensor's name: one sensor may have several mappings
  std::string bay;
  std::string topic;  // MQTT filter, + and # allowed
  Quantity quantity = Quantity::air_temperature;
  std::string pointer;  // RFC 6901 into a JSON payload; empty: the payload is a plain number
  Unit unit = Unit::celsius;
  double slope = 1.0;  // applied in the raw unit, before conversion: slope * raw + offset
  double offset = 0.0;
  std::string
      time_pointer;  // RFC 6901 to RFC 3339 text or seconds/milliseconds since 1970; empty: time of receipt
  bool operator==(const SensorMapping&) const = default;
};
// What a sensor sent, corrected and in the units of a Reading.
[[nodiscard]] constexpr double converted(double raw, const SensorMapping& mapping) {
  return in_usual_unit(mapping.slope * raw + mapping.offset, mapping.unit);
}

}  // namespace dryclock
