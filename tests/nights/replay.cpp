#include "nights/replay.hpp"

#include "engine/engine.hpp"
#include "ingest/decode.hpp"
#include "nights/night.hpp"

namespace dryclock::nights {

Replayed replay(const Setup& setup, const std::vector<JournalRow>& rows, Time until, Millis cut) {
  engine::Engine engine{setup};
  Replayed out;
  Time now = rows.front().message.received_at;
  const auto note = [&](const Effects& effects) {
    out.reported.readings += fingerprint(effects.readings);
    out.reported.milestones += fingerprint(effects.milestones);
    out.reported.releases += fingerprint(effects.releases);
    out.reported.gaps += fingerprint(effects.gaps);
    out.reported.alerts += fingerprint(effects.alerts);
  };
  const auto pass = [&](Time to) {
    for (; cut > Millis{0} && now < to; now += cut) {
      note(engine.advance(now));
    }
    now = to;
  };
  for (const auto& row : rows) {
    pass(row.message.received_at);
    note(engine.apply(row, ingest::decode(row, engine.mappings())));
  }
  pass(until);
  note(engine.advance(until));
  out.board = fingerprint(engine);
  return out;
}

}  // namespace dryclock::nights
