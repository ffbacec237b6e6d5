// Rows for the store's tests, a writer that opens or throws, and what only tests ask of a database.
#pragma once

#include <chrono>
#include <memory>
#include <string>

#include "store/reader.hpp"
#include "store/sqlite.hpp"
#include "store/writer.hpp"

namespace dryclock::store {

inline constexpr Millis cap{10'000};
inline const Time noon = from_unix_ms(1'772'366'400'000);  // 2026-03-01T12:00:00Z

inline Entry message(std::string payload, Time at = noon, std::string topic = "bay/front") {
  return {.kind = RowKind::message,
          .message = {.topic = std::move(topic), .payload = std::move(payload), .received_at = at, .qos = 1},
          .key = {}};
}

inline Entry event(std::string json, std::string key) {
  return {.kind = RowKind::event,
          .message = {.topic = {}, .payload = std::move(json), .received_at = noon},
          .key = std::move(key)};
}

inline ScreenedReading reading(Seq seq, double value, Time at, Verdict verdict = Verdict::ok) {
  return {.seq = seq,
          .reading = {.sensor = "front-air",
                      .bay = "front",
                      .quantity = Quantity::air_temperature,
                      .at = at,
                      .source_time = true,
                      .raw = value,
                      .value = value},
          .verdict = verdict};
}

inline AlertRow alert(AlertStep step, Time raised) {
  return {.step = step,
          .alert = {.id = "bay-cold/front",
                    .rule = AlertRule::bay_cold,
                    .subject = "front",
                    .level = AlertLevel::urgent,
                    .raised = raised,
                    .cleared = {},
                    .acknowledged = {},
                    .what = {"alerts.bay-cold",
                             {say::text("bay", "front"), say::celsius("air", 12.0)},
                             "front is at 12 °C"},
                    .advice = {"advice.bay-cold"}}};
}

inline std::unique_ptr<Writer> open_writer(const std::filesystem::path& path, WriterHooks hooks = {},
                                           std::int64_t ballast_bytes = 0) {
  auto writer =
      Writer::open({.path = path, .ballast_bytes = ballast_bytes, .reopen_every = Millis{50}},
                   {.boot_id = "boot", .version = "test", .clock_state = "synchronized", .started = noon},
                   std::move(hooks));
  return std::move(writer).value();
}

inline Reader open_reader(const std::filesystem::path& path) {
  return Reader::open(path).value();
}

inline JournalRow row_of(const Reader& reader, Seq seq) {
  auto row = reader.rows(seq, 1).value().at(0);
  return row.seq == seq ? std::move(row) : JournalRow{};
}
inline std::int64_t rows_in(const std::filesystem::path& database, const std::string& table) {
  return Connection(database, Connection::Access::read_only).integer("SELECT count(*) FROM " + table);
}

}  // namespace dryclock::store
