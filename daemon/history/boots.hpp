// When did each boot of the machine begin? Within a boot, boot time counts; what the wall clock said is a
// label that may be wrong, and may contradict itself or another boot.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "domain/redated.hpp"

namespace dryclock::history {

// Rows that came one after the other while the wall clock went with boot time, or drifted from it a little at
// a time.
struct Stretch {
  Time booted;                      // wall time less boot time, at its first row
  Millis first, last;               // boot times of its first and last row
  Seq first_row = 0, last_row = 0;  // 0: no row yet
  Time ended = booted;              // wall time less boot time, at its last row
};

struct Boot {
  std::string id;
  std::vector<Stretch> stretches;  // not empty
  // A time server or a clock chip vouched for its clock, or somebody set it: what it said last is right.
  bool trusted = false;
  std::optional<Time> by_devices = std::nullopt;  // when it began, as devices tell: history/device_times.hpp
};

struct Judged {
  std::vector<Redated> redated;  // boots whose rows are to be dated anew; the last may have none
  Time booted;                   // of the last boot
  bool known = true;             // whether its time is
  bool trusted = false;          // whether anybody but devices vouches for its clock
};

// Less than this is no contradiction: times of receipt wait for the disk, and clocks are put right by little.
inline constexpr Millis clock_slack{10'000};

// `boots` in order, the last one running. Of a boot that contradicts itself, what its clock said last counts.
// A boot that begins before the rows of the one before it end: either the earlier clock was ahead, or this
// one's is behind, as that of a machine without a clock of its own is (it starts from 1970, or from the time
// at which it was last put down). Behind is one that says a time before this program was; or that nobody
// vouches for, where the earlier one was vouched for, or it says less than two hours before those rows, or a
// time before the whole journal.
//
// A clock that is behind is dated by what devices tell, unless that is before the rows that came before; else
// it follows those. Devices that agree with a clock prove nothing: they may stand behind a gateway on this
// same machine, which tells its time.
[[nodiscard]] Judged judge(const std::vector<Boot>& boots);

}  // namespace dryclock::history
