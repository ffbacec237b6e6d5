// From the journal to the state: which rows a start has to replay, and the replay itself.
#pragma once

#include <functional>
#include <optional>

#include "app/core.hpp"
#include "base/clock.hpp"
#include "base/result.hpp"
#include "domain/configured.hpp"
#include "history/look_at_boots.hpp"
#include "store/reader.hpp"
#include "store/writer.hpp"

namespace dryclock::app {

struct MachineClock {
  Time booted;                // what it says, less boot time
  bool synchronized = false;  // with a time server, as the kernel is told
  bool kept = false;  // the machine has a clock of its own that goes on while it is off, and says the same
};
[[nodiscard]] MachineClock machine_clock();
// As sessions tell it: who vouches for it.
[[nodiscard]] std::string state_of(const MachineClock& clock);

// How the machine's clocks are asked; a test moves its own.
struct MachineClocks {
  std::function<MachineClock()> look = machine_clock;
  std::function<Millis()> since_boot = boot_time;  // any thread
};

// What this start is: kernel boot, version, whether the clock can be believed.
[[nodiscard]] store::Session this_session(Time now, const MachineClock& clock);

// What the journal's rows say of the machine's clock, `since_boot`, and what is to be told of it.
// `by_devices`: when the machine booted, as devices tell. Problem: the database.
[[nodiscard]] Result<history::Judged> judge_clock(const MachineClock& clock, Millis since_boot,
                                                  bool set_just_now, std::optional<Time> by_devices,
                                                  const store::Writer& writer, const store::Reader& reader);
[[nodiscard]] store::Entry entry_of(const Redated& redated, Time now);
// The same at a start, before any other row: waits until the rows that date others anew are on disk.
[[nodiscard]] Result<history::Judged> tell_time(const MachineClocks& clocks, store::Writer& writer,
                                                const store::Reader& reader);

// Writes a `configured` row where the journal's newest does not tell these settings and this program; comes
// before any other row of this start but those of tell_time(). In a journal that has rows beside these and no
// such one it is marked as assumed for them, with the events that were refused then. Problem: the database.
[[nodiscard]] Result<void> tell_settings(const Setup& setup, Time now, store::Writer& writer,
                                         const store::Reader& reader);

// A core that nothing comes out of but what it would commit: to live the journal without a daemon.
[[nodiscard]] Core offline_core(const Config& config, std::function<void(Effects)> commit);

struct Replayed {
  Seq last = 0;               // the last row in the journal
  std::size_t rows = 0;       // replayed, events from before the window included
  std::size_t recovered = 0;  // of these, rows whose effects a crash had kept from being committed
};

// Every event, all settings and all that was learnt, and every other row from a day before the arrival of the
// oldest vehicle that is not yet released or learnt from: the screen's memory and the bay's air are shorter
// than that day. What outlooks have learnt of the air before comes from its table. The core begins anew: also
// when rows have been dated anew. Problem: the database cannot be read.
[[nodiscard]] Result<Replayed> replay_journal(Core& core, const store::Reader& reader);

}  // namespace dryclock::app
