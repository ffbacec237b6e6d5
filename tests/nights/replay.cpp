#include "nights/replay.hpp"

#include "engine/engine.hpp"
#include "ingest/decode.hpp"
#include "nights/night.hpp"

namespace dryclock::nights {

Replayed replay(const Setup& setup, const std::vector<JournalRow>& rows, Time until, Millis cut) {
  engine::Engine engine{setup};
  Replayed out;
  Time now = rows.front().message.received_at;
  const auto tell = [&](const Effects& effects) {
    out.told.readings += fingerprint(effects.readings);
    out.told.milestones += fingerprint(effects.milestones);
    out.told.releases += fingerprint(effects.releases);
    out.told.gaps += fingerprint(effects.gaps);
    out.told.alerts += fingerprint(effects.alerts);
  };
  const auto pass = [&](Time to) {
    for (; cut > Millis{0} && now < to; now += cut) {
      tell(engine.advance(now));
    }
    now = to;
  };
  for (const auto& row : rows) {
    pass(row.message.received_at);
    tell(engine.apply(row, ingest::decode(row, engine.mappings())));
  }
  pass(until);
  tell(engine.advance(until));
  out.board = fingerprint(engine.board());
  return out;
}

}  // namespace dryclock::nights
