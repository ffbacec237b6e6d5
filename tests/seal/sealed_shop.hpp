// A small shop whose journal is sealed: two sensors, two vehicles, several checkpoints over two days.
#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "seal/chain_writer.hpp"
#include "seal/extract.hpp"
#include "seal/verify.hpp"
#include "store/writer.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::seal {

inline const Time evening = from_unix_ms(1'772'394'900'000);  // 2026-03-01T19:55:00Z

// As the app does it: the event's JSON through ingest.
[[nodiscard]] std::optional<EventDetail> read_event(const JournalRow& row);

class SealedShop {
 public:
  SealedShop();

  [[nodiscard]] ChainOptions options() const;
  [[nodiscard]] ChainWriter open() const { return ChainWriter::open(options()).value(); }
  [[nodiscard]] std::filesystem::path folder() const { return scratch_ / "seal"; }
  [[nodiscard]] std::filesystem::path keys() const { return scratch_ / "keys"; }
  [[nodiscard]] std::filesystem::path scratch() const { return scratch_.path(); }

  Seq reading(const std::string& topic, const std::string& payload, Time at);
  Seq event(const std::string& json, Time at);
  Seq own(RowKind kind, Time at);

  // `hours` hours from `evening` on, each with readings of both sensors and a checkpoint; vehicle 1 comes in
  // during the first and vehicle 2 during the second.
  void live(int hours);
  [[nodiscard]] VehicleId first_vehicle() const { return vehicles_.at(0); }
  [[nodiscard]] VehicleId second_vehicle() const { return vehicles_.at(1); }

 private:
  Seq append(store::Entry entry);
  test::ScratchFolder scratch_;
  std::unique_ptr<store::Writer> writer_;
  std::vector<VehicleId> vehicles_;
};

// What the first vehicle's record needs: one sensor, its own events, the daemon's rows, from its arrival to
// `last`.
[[nodiscard]] Wanted first_vehicles_part(const SealedShop& shop, Seq last);

// A plain read and a plain write, for tests that damage files.
[[nodiscard]] std::string content(const std::filesystem::path& file);
void overwrite(const std::filesystem::path& file, const std::string& bytes);
// The files of a folder, relative, sorted.
[[nodiscard]] std::vector<std::string> files_of(const std::filesystem::path& folder);
// Lines of all segments in a folder that are about row `seq`.
[[nodiscard]] std::vector<std::string> lines_of(const std::filesystem::path& folder, Seq seq);

// All findings, one a line.
[[nodiscard]] std::string findings(const Report& report);

}  // namespace dryclock::seal
