#include "app/rebuild.hpp"

#include "app/core.hpp"
#include "app/startup.hpp"
#include "base/clock.hpp"
#include "base/log.hpp"
#include "store/reader.hpp"
#include "store/rebuild.hpp"
#include "store/writer.hpp"

namespace dryclock::app {
namespace {

std::vector<AlertRule> rules_without_rows() {
  std::vector<AlertRule> rules;
  for (std::size_t i = 0; i < alert_rule_names.size(); ++i) {
    if (const auto rule = static_cast<AlertRule>(i); !engine::follows_from_rows(rule)) {
      rules.push_back(rule);
    }
  }
  return rules;
}

// Before the tables are emptied: they tell which events an older program kept and did not apply.
Result<void> settle_settings(const Config& config) {
  const Time now = SystemClock{}.now();
  auto writer = store::Writer::open({.path = config.store.path, .ballast_bytes = 0},
                                    this_session(now, machine_clock()), {});
  if (!writer) {
    return writer.error();
  }
  const auto reader = store::Reader::open(config.store.path);
  if (reader && config.clock == ClockSource::system) {
    if (const auto judged = tell_time({}, **writer, *reader); !judged) {
      return judged.error();
    }
  }
  auto settings = reader ? tell_settings(config.setup, now, **writer, *reader) : Result<void>{reader.error()};
  (*writer)->stop();
  return settings;
}

Result<Replayed> fill(const Config& config) {
  auto writer = store::Writer::open({.path = config.store.path, .ballast_bytes = 0},
                                    this_session(SystemClock{}.now(), machine_clock()), {});
  if (!writer) {
    return writer.error();
  }
  const auto reader = store::Reader::open(config.store.path);
  if (!reader) {
    return reader.error();
  }
  Core core = offline_core(config, [&](Effects effects) {
    effects.outgoing.clear();  // it was sent when it happened
    (*writer)->commit(std::move(effects));
  });
  auto done = replay_journal(core, *reader);
  (*writer)->stop();
  if (done && (*writer)->health().failing) {
    return Problem{(*writer)->health().text, config.store.path.string()};
  }
  return done;
}

}  // namespace

int rebuild(const Config& config) {
  const auto settings = settle_settings(config);
  const auto begun = settings ? store::begin_rebuild(config.store.path, rules_without_rows())
                              : Result<void>{settings.error()};
  const auto filled = begun ? fill(config) : Result<Replayed>{begun.error()};
  const auto ended = filled ? store::finish_rebuild(config.store.path) : Result<void>{filled.error()};
  if (!ended) {
    log::error("not rebuilt: {}", to_string(ended.error()));
    return 1;
  }
  log::info("rebuilt from {} rows of the journal", filled->recovered);
  return 0;
}

}  // namespace dryclock::app
