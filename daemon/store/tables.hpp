// The statements that write rows, prepared once a connection. Everything happens inside the caller's
// transaction; what it rolls back, it must also forget here (by making a new Tables). Throws SqlError.
#pragma once

#include <map>
#include <string>
#include <tuple>
#include <vector>

#include "domain/effects.hpp"
#include "domain/outbox.hpp"
#include "store/sqlite.hpp"
#include "store/writer.hpp"

namespace dryclock::store {

// Erases what tells who the vehicle's customer is. In a transaction.
void erase_personal(Connection& connection, VehicleId vehicle);

class Tables {
 public:
  Tables(Connection& connection, std::int64_t session);

  [[nodiscard]] static std::int64_t add_session(Connection& connection, const Session& session);

  // `boot_time`: CLOCK_BOOTTIME when the row was handed in. With what it keeps or erases beside the journal,
  // and with the row before it, whose number is one less.
  Appended append(const Entry& entry, Millis boot_time);
  // All or nothing, also where one value is at fault. True: the outbox has new rows.
  bool write(const Effects& effects);
  void mark(const OutboxMark& mark);
  void keep_channels(const std::vector<std::string>& channels);
  void clock_is(const std::string& state);
  void forget_old_messages();

 private:
  // All of the work's rows or none, where one value is at fault.
  template <class Work>
  auto as_one(Work work);
  Seq add_entry(const Entry& entry, Millis boot_time);
  Seq add_row(RowKind kind, const RawMessage& message, Millis boot_time, const std::string& key);
  void write_rows(const Effects& effects);
  // Hours of air of the clock that was wrong.
  void forget_hours(const DatedAnew& anew);
  void date_readings(const DatedAnew& anew);
  bool write_outbox(const std::vector<Outgoing>& messages);
  std::int64_t series_of(const Reading& reading);

  Connection& connection_;
  std::int64_t session_;
  Statement find_key_, append_, add_personal_;
  Statement find_series_, add_series_, add_reading_;
  Statement add_reject_, set_air_hour_, set_alert_, set_applied_;
  Statement replace_retained_, add_message_, mark_message_;
  std::map<std::tuple<std::string, Quantity, std::string>, std::int64_t> series_;
};

}  // namespace dryclock::store
