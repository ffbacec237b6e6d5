#include <algorithm>
#include <utility>

#include "app/parts.hpp"
#include "app/systemd.hpp"
#include "app/voice.hpp"
#include "base/log.hpp"
#include "engine/facts.hpp"

namespace dryclock::app {
namespace {

constexpr Millis quiet{30'000};  // without a row for this long, a tick row says that time passed

}  // namespace

void App::Parts::start_timers() {
  last_row = std::chrono::steady_clock::now();
  using namespace std::chrono_literals;
  const auto every = [this](Millis interval, std::function<void()> work) {
    timers.push_back(std::make_unique<Every>(io, interval, std::move(work)));
  };
  every(1s, [this] {
    look_at_clock();
    look_for_silence();
  });
  every(2s, [this] {
    if (auto let_in = paired.changed()) {
      server->let_in(std::move(*let_in));
    }
  });
  every(5s, [this] {
    look_at_device_times();
    core.publish(clock.now());
  });
  every(10min, [this] { watch.look_at_disk(*reader, core.dates(), sealer->bytes()); });
  every(24h, [this] { writer->tidy(); });
  every(24h, [this] { look_for_drift(); });
  if (const auto interval = watchdog_interval()) {
    every(*interval, [] { tell_alive(); });
  }
  writer->tidy();  // a box that is switched off every night has no other time for it
  watch.look_at_disk(*reader, core.dates(), sealer->bytes());
  look_for_drift();
}

// The wall clock against boot time. What the daemon calls now does not move with it before the rows that came
// under the other clock are told to be dated anew.
void App::Parts::look_at_clock() {
  const MachineClock seen = clocks.look();
  const Millis moved = seen.booted - machine.booted;
  const bool set = std::chrono::abs(moved) > history::clock_slack;
  const bool vouched_for = seen.synchronized && !machine.synchronized && !(time_known && clock_trusted);
  const auto by_devices = time_known ? std::nullopt : device_times.booted();
  const bool devices_differ =
      by_devices &&
      (!judged_by_devices || std::chrono::abs(*by_devices - *judged_by_devices) > history::device_slack);
  const MachineClock before = std::exchange(machine, seen);
  if (state_of(seen) != "unsynchronized" && session.clock_state == "unsynchronized") {
    session.clock_state = state_of(seen);
    writer->clock_is(session.clock_state);
  }
  if (config.clock == ClockSource::messages) {
    clock.set(seen.booted);
    return;
  }
  if (!set && !vouched_for && !devices_differ) {
    clock.set(clock.booted() + moved);
    return;
  }
  const auto judged = judge_clock(seen, clocks.since_boot(), set, by_devices, *writer, *reader);
  if (!judged) {
    machine = before;  // to be seen again
    return;
  }
  for (const Redated& redated : judged->redated) {
    log::warning("clock: {}", for_log(engine::clock_fact(redated)));
    writer->append_async(entry_of(redated, judged->booted + clocks.since_boot()),
                         [this, before](const Result<store::Appended>& row) {
                           if (!row) {
                             post([this, before] { machine = before; });
                           }
                         });
  }
  clock.set(judged->booted);
  time_known = judged->known;
  clock_trusted = judged->trusted;
  judged_by_devices = by_devices;
}

// Where the clock may be right nothing is dated by what devices tell: their clocks may be the wrong ones.
void App::Parts::look_at_device_times() {
  if (config.clock == ClockSource::messages || !time_known) {
    return;
  }
  if (clock_trusted || machine.synchronized || machine.kept) {
    watch.device_times_apart(Millis{0});
  } else if (const auto by_devices = device_times.booted()) {
    watch.device_times_apart(*by_devices - clock.booted());
  }
}

void App::Parts::look_for_silence() {
  if (replay_due) {
    date_anew();
  }
  if (finder.ends(clock.now())) {
    notifier->post([this] { (void)client->search(false); });
  }
  if (config.clock == ClockSource::system && std::chrono::steady_clock::now() - last_row > quiet) {
    append_own(RowKind::tick, {});
  }
}

// On the pool, with a connection of its own: weeks of readings are many.
void App::Parts::look_for_drift() {
  const auto pairs = store::humidity_pairs(core.engine().mappings());
  for (const auto& alert : core.engine().board().alerts) {
    if (alert.rule == AlertRule::sensor_drift &&
        std::ranges::find(pairs, alert.subject, store::drift_subject) == pairs.end()) {
      core.clear(alert.rule, alert.subject);
    }
  }
  for (const auto& pair : pairs) {
    pool->submit(
        [path = config.store.path, pair,
         now = core.now(clock.now())]() -> Result<std::optional<store::Drift>> {
          const auto own = store::Reader::open(path);
          if (!own) {
            return own.error();
          }
          return store::drift_of(*own, pair, now);
        },
        [this, pair](const Result<std::optional<store::Drift>>& found) {
          if (found) {
            watch.drift(pair, *found);
          } else {
            log::warning("drift of {}: {}", pair.one.sensor, to_string(found.error()));
          }
        });
  }
}

}  // namespace dryclock::app
