// When each row of the journal came, and what it says. Every walk over rows decodes them here: the one place
// where times are put right, be it by `redated` rows or by what messages carry.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "ingest/decode.hpp"
#include "store/reader.hpp"

namespace dryclock::history {

class Dates {
 public:
  // `by_messages`: the times that messages carry are the daemon's time (a recorded night is being played).
  // Problem: the database.
  [[nodiscard]] static Result<Dates> read(const store::Reader& reader, bool by_messages);

  // Stage 3, with the row's time of receipt put right, and with it the times in an event that were read off
  // the daemon's clock: when it was entered, and when it happened unless a person's own watch said so. When
  // something was announced or learnt moves with its row too.
  // `now`: the newest time of the rows before.
  [[nodiscard]] Decoded decode(JournalRow& row, const ingest::Mappings& mappings, Time now) const;

  // When a row came.
  [[nodiscard]] Time of(const store::Stamp& stamp) const;

  // All that the rows count a boot's time from, in journal order.
  [[nodiscard]] std::vector<Time> begins_of(const std::string& boot) const;

  // The first row received at `at` or later; one after the last where there is none, 1 where messages tell
  // the time. Problem: the database.
  [[nodiscard]] Result<Seq> first_at_or_after(const store::Reader& reader, Time at) const;

  // The journal's, with its times put right. Problem: the database.
  [[nodiscard]] Result<store::Extent> extent(const store::Reader& reader) const;

 private:
  struct Redating {  // in journal order
    Time booted;
    std::optional<Millis> until;  // boot time up to which it counts: the row was written in this boot
  };

  bool by_messages_ = false;
  std::map<std::int64_t, std::string> boots_;  // by session
  std::map<std::string, std::vector<Redating>> redatings_;
};

}  // namespace dryclock::history
