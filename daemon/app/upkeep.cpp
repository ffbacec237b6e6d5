#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/parts.hpp"
#include "app/systemd.hpp"
#include "base/log.hpp"

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
  every(1s, [this] { look_at_clock(); });
  every(2s, [this] {
    if (auto let_in = paired.changed()) {
      server->let_in(std::move(*let_in));
    }
  });
  every(5s, [this] { core.publish(clock.now()); });
  every(10min, [this] { watch.look_at_disk(*reader, sealer->bytes()); });
  every(24h, [this] { writer->tidy(); });
  every(24h, [this] { look_for_drift(); });
  if (const auto interval = watchdog_interval()) {
    every(*interval, [] { tell_alive(); });
  }
  watch.look_at_disk(*reader, sealer->bytes());
  look_for_drift();
}

// The wall clock against steady time, and whether anything came lately.
void App::Parts::look_at_clock() {
  const auto steady = std::chrono::steady_clock::now();
  if (const auto moved = clock_watch.look(clock.now(), steady)) {
    log::warning("the clock moved by {} ms", moved->count());
    append_own(RowKind::clock_step, fmt::format("{} by {:.1f} s", moved->count() > 0 ? "forward" : "back",
                                                std::abs(static_cast<double>(moved->count())) / 1000.0));
  }
  if (finder.ends(clock.now())) {
    notifier->post([this] { (void)client->search(false); });
  }
  if (config.clock == ClockSource::system && steady - last_row > quiet) {
    append_own(RowKind::tick, {});
  }
}

// On the pool, with a connection of its own: a week of readings is many.
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
