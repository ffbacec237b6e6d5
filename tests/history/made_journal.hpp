// A journal whose boots, clocks and rows a test chooses.
#pragma once

#include <string>

#include "domain/types.hpp"
#include "store/reader.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::history {

class MadeJournal {
 public:
  MadeJournal();
  // Rows that follow are of this start of the daemon.
  void start(const std::string& boot, bool synchronized);
  // Its number. `wall`: what the machine's clock said then; `boot_time`: since the machine's boot.
  Seq add(RowKind kind, Time wall, Millis boot_time, const std::string& payload = {},
          const std::string& topic = {});
  [[nodiscard]] store::Reader reader() const;
  [[nodiscard]] std::int64_t session() const { return session_; }

 private:
  test::ScratchFolder folder_;
  std::int64_t session_ = 0;
  Seq last_ = 0;
};

}  // namespace dryclock::history
