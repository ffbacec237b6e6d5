#!/usr/bin/env bash
# Twelve pieces are laid, then three days of recorded weather pass through a real broker. Once undisturbed; once while
# the daemon is killed with -9 again and again. Both must end with the same milestones, bit for bit, and hold every
# published reading exactly once with verdict ok.
#   replay_under_kill.sh BIN_FOLDER      DRYCLOCK_LONG=1: twenty kills instead of six
# shellcheck source=shop.bash
source "$(dirname "${BASH_SOURCE[0]}")/shop.bash"

weather=$reference/nyc_hourly_weather_2013.csv
if [[ ! -f $weather ]]; then
  echo "skipped: no recorded weather at $weather (DRYCLOCK_REFERENCE names its folder)"
  exit 77
fi
kills=6
if [[ ${DRYCLOCK_LONG:-} == 1 ]]; then
  kills=20
fi

open_shop "$1"
# An unheated bay in spring, the sensor in Fahrenheit. Recorded rain holds 100 % for hours: that sensor is not stuck.
cat >"$shop/dryclock.toml" <<END
clock = "messages"
[site]
time_zone = "America/New_York"
[store]
path = "$database"
ballast_mib = 0
[http]
port = 0
[mqtt]
port = $broker_port
[screen]
stuck_after_h = 72
[[bay]]
name = "yard"
[[sensor]]
name = "yard-air"
bay = "yard"
topic = "weather/jfk"
time_pointer = "/at"
reads = [
  { quantity = "air-temperature", pointer = "/temperature", unit = "F" },
  { quantity = "relative-humidity", pointer = "/humidity", unit = "%" },
]
END

lay_twelve_pieces() {
  local at='2013-05-14 17:00' panel
  "$bin/dryclock" vehicle in demo-1 --bay yard --at "$at"
  for panel in bonnet front-wing front-bumper rear-bumper mirror headlamp roof-front a-pillar door-cup sill wheel-arch; do
    "$bin/dryclock" lay "$panel" --at "$at"
  done
  "$bin/dryclock" lay rear-wing --wetness wet --at "$at"
}

# replay SPEED: three days of readings at five minutes, from the moment of laying (17:00 in New York).
published=864
replay() {
  "$bin/dryclock_play" recorded --broker "tcp://127.0.0.1:$broker_port" --file "$weather" --station JFK \
    --from 2013-05-14T21:00:00Z --hours 72 --every 300 --speed "$1" --topic weather/jfk
}

all_received() {
  [[ $(sql "SELECT count(DISTINCT payload) FROM journal WHERE kind = 0") == "$published" ]] && all_applied
}

# What must not depend on kills: milestones with their probabilities to the last bit, and each zone's state.
outcome() {
  sql "SELECT piece, which, announced_ms, printf('%!.17g', probability) FROM milestone ORDER BY piece, which"
  sql "SELECT vehicle, announced_ms FROM release"
  "$bin/dryclock" vehicle show --json |
    node --print 'JSON.stringify(JSON.parse(require("fs").readFileSync(0)).pieces.map((piece) => piece.state))'
}

check_readings() {
  local ok
  ok=$(verdict_number ok)
  equal "$1: readings with verdict ok" $((2 * published)) "$(sql "SELECT count(*) FROM reading WHERE verdict = $ok")"
  equal "$1: of these, different ones" $((2 * published)) \
    "$(sql "SELECT count(*) FROM (SELECT DISTINCT series, at_ms FROM reading WHERE verdict = $ok)")"
  equal "$1: other verdicts than ok and duplicate" 0 \
    "$(sql "SELECT count(*) FROM reading WHERE verdict NOT IN ($ok, $(verdict_number duplicate))")"
  equal "$1: rejects" 0 "$(sql 'SELECT count(*) FROM reject')"
}

echo "undisturbed, at 100,000 times real time"
start_daemon "$shop/dryclock.toml"
lay_twelve_pieces >"$shop/laid.log"
equal "pieces laid" 12 "$(grep -c laid "$shop/laid.log")"
replay 100000
wait_for "every reading" 60 all_received
check_readings "undisturbed"
outcome >"$shop/undisturbed"
holds "milestones were reached" grep -qE '^[0-9]+\|[0-9]\|[0-9]{13}\|' "$shop/undisturbed"
stop_daemon TERM
rm "$database"*

echo "killed $kills times on the way"
start_daemon "$shop/dryclock.toml"
lay_twelve_pieces >/dev/null
# Two seconds a kill: the daemon is up again, and at work, when the next one comes.
replay $((3 * 86400 / (2 * kills))) &
player=$!
for ((kill = 1; kill <= kills; ++kill)); do
  sleep "1.$((RANDOM % 10))"
  received=$(sql 'SELECT count(*) FROM journal WHERE kind = 0')
  echo "  kill $kill after $received messages"
  holds "the kill comes while readings are still on their way" test "$received" -lt "$published"
  stop_daemon KILL
  start_daemon "$shop/dryclock.toml"
done
wait "$player"
wait_for "every reading" 60 all_received
check_readings "killed"
outcome >"$shop/killed"
holds "the same outcome, bit for bit" diff "$shop/undisturbed" "$shop/killed"
equal "the database is sound" ok "$(sql 'PRAGMA integrity_check')"
finish
