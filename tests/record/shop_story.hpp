// An invented job in an invented shop, with all that a record has to tell: played by nights::Night, written
// to a database of its own by the daemon's writer.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "nights/night.hpp"
#include "record/gather.hpp"
#include "record/record.hpp"
#include "seal/chain_writer.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::record {

class ShopStory {
 public:
  // Three days: three pieces and one laid again, a step done early, one told late, one taken back, a gap in
  // the night, a step of the clock, a reading nobody believes, a message nobody can read; released with a
  // word to the customer, rechecked after two weeks: one piece lifts. The bumper's film had been measured by
  // a coupon, the sensor checked over a salt. `quiet`: a day without any of that, one piece still to lay, and
  // no release. `late_release`: the same, released after a day, which is told two days later. `kept`: the
  // eventful one, where rows keep what was shown before the wrap and the release, with values that no
  // estimate gave, and alerts. `unkept`: the same without those rows, and without the messages in whose
  // places they stand. `late_kept`: `late_release` with rows of what was shown, rechecked after two weeks.
  enum class Kind { eventful, quiet, late_release, kept, unkept, late_kept };
  // `manner`: how the shop is spoken to.
  explicit ShopStory(Kind kind, Manner manner = {});

  [[nodiscard]] const Setup& setup() const { return night_.setup(); }
  [[nodiscard]] const std::filesystem::path& database() const { return database_; }
  [[nodiscard]] Origin origin() const;
  // In the shop's language where none is named.
  [[nodiscard]] Record record(std::optional<Language> language = {}) const;
  // More rows for its journal.
  void goes_on(const std::vector<JournalRow>& rows) const;
  // As journalled: Night's rows with what was spoilt on purpose.
  [[nodiscard]] const std::vector<JournalRow>& rows() const { return rows_; }

  VehicleId vehicle = 0;
  PieceId bonnet = 0, bumper = 0, lamp = 0, second_lamp = 0;
  Seq wrap = 0, trim = 0, release = 0, taken_back = 0, recheck = 0, refit = 0;
  Seq coupon = 0, film_measured = 0;
  Seq announced_row = 0;  // of `kept` and `unkept`: the bonnet worth a look, and the vehicle ready

 private:
  void checks_sensor(double shown_pct, models::SensorVerdict verdict);
  void play_eventful();
  void play_quiet();
  void play_late_release();
  void play_late_kept();
  void put(Seq until, VehicleId whose, std::string payload);
  [[nodiscard]] Seq message_at(std::string_view time) const;
  void keep_shown();
  void keep_alerts();
  void keep_announced();
  void keep_shown_late();
  void write();

  Manner manner_;
  test::ScratchFolder folder_;
  std::filesystem::path database_;
  nights::Night night_{"2026-03-02 06:00", "Europe/London"};
  std::vector<JournalRow> rows_;
};

// Made once: most checks only read it.
[[nodiscard]] ShopStory& eventful();
[[nodiscard]] const Record& eventful_record();
[[nodiscard]] const Record& eventful_record_in_german();
[[nodiscard]] const ShopStory& kept();

// With an invented checkpoint.
[[nodiscard]] Record sealed(Record record);
// Seals the eventful story's journal into <folder>/seal, with its keys in <folder>/keys.
[[nodiscard]] seal::ChainWriter story_chain(const std::filesystem::path& folder, Seq most_rows = 50'000);

// A program's standard output; fails the test unless it ends with 0.
[[nodiscard]] std::string output_of(const std::vector<std::string>& command);
void write_file(const std::filesystem::path& path, const std::string& bytes);
[[nodiscard]] std::string text_of_pdf(const std::string& pdf);
// Without what separates words: tables wrap where they like.
[[nodiscard]] std::string squeezed(const std::string& text);
// That these words stand in a squeezed text.
[[nodiscard]] bool has(const std::string& text, const std::string& wanted);

}  // namespace dryclock::record
