#!/usr/bin/env bash
# Twelve pieces are laid, then three days of recorded weather pass through a real broker. Once undisturbed; once while
# the daemon is killed with -9 again and again. Both must end with the same past of every piece, bit for bit, and hold every
# published reading exactly once with verdict ok. What was announced is a row, and so it outlives a kill.
#   replay_under_kill.sh BIN_FOLDER      DRYCLOCK_LONG=1: twenty kills instead of four
# shellcheck source=shop.bash
source "$(dirname "${BASH_SOURCE[0]}")/shop.bash"

weather=$reference/nyc_hourly_weather_2013.csv
if [[ ! -f $weather ]]; then
  echo "skipped: no recorded weather at $weather (DRYCLOCK_REFERENCE names its folder)"
  exit 77
fi
kills=4
if [[ ${DRYCLOCK_LONG:-} == 1 ]]; then
  kills=20
fi

open_shop "$1"
# An unheated bay in spring, the sensor in Fahrenheit. Recorded rain holds 100 % for hours: that sensor is not stuck.
cat >"$shop/dryclock.toml" <<END
clock = "messages"
[site]
time_zone = "America/New_York"
$(store_and_ports)
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
  client vehicle in demo-1 --bay yard --at "$at"
  for panel in bonnet left-front-wing front-bumper rear-bumper left-mirror left-headlamp roof-front left-a-pillar \
    left-front-door-cup left-sill left-front-wheel-arch; do
    client lay "$panel" --at "$at"
  done
  client lay left-rear-wing --wetness wet --at "$at"
}

# Three days of readings, one in four minutes, from the moment of laying (17:00 in New York).
published=1080
# replay SPEED [PART OF]: all of it, or the given part.
replay() {
  local part=${2:-1} of=${3:-1}
  local minutes=$((72 * 60 / of))
  "$bin/dryclock_play" recorded --broker "tcp://127.0.0.1:$broker_port" --file "$weather" --station JFK \
    --from "$(date --utc --date "2013-05-14 21:00 UTC + $(((part - 1) * minutes)) minutes" +%FT%TZ)" \
    --hours "$((minutes / 60)).$((minutes % 60 * 10 / 6))" --every 240 --speed "$1" --topic weather/jfk
}

all_received() {
  [[ $(sql "SELECT count(DISTINCT payload) FROM journal WHERE kind = 0") == "$published" ]] && all_applied
}

# What must not depend on kills: what each zone held since it was laid, to the last bit.
outcome() {
  local piece
  for piece in $(client vehicle show --json | node --print '
    JSON.parse(require("fs").readFileSync(0)).pieces.map((piece) => piece.id).join(" ")'); do
    curl --silent --fail "$DRYCLOCK_URL/api/v1/pieces/$piece/history"
    echo
  done
}
# What was announced, and when. By which outlook that is depends on when its answer comes.
announced() {
  client vehicle show --json | node --print '
    const vehicle = JSON.parse(require("fs").readFileSync(0));
    const said = (piece) => piece.milestones.map(({which, look, announced}) => [piece.panel, which, look, announced].join(" "));
    [...vehicle.pieces.flatMap(said), ["release", vehicle.release_look, vehicle.release_ready].join(" ")].join("\n")'
}
is_announced() {
  announced | grep -qE '^bonnet trim-ready 2013-05-'
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
wait_for "something to be announced" 60 is_announced
stop_daemon TERM
rm -r "$database"* "$shop/seal" "$shop/keys" # with what was sealed of it: a seal that fails is an alert, and that is a row

echo "killed $kills times on the way"
start_daemon "$shop/dryclock.toml"
lay_twelve_pieces >/dev/null
for ((kill = 1; kill <= kills; ++kill)); do
  # Each part takes two seconds, and the kill comes within them; what the daemon missed waits at the broker.
  replay $((3 * 86400 / (2 * kills))) "$kill" "$kills" >"$shop/played.$kill" &
  player=$!
  sleep "0.$((2 + RANDOM % 8))"
  received=$(sql 'SELECT count(*) FROM journal WHERE kind = 0')
  stop_daemon KILL
  echo "  kill $kill after $received messages"
  holds "the kill comes while readings are on their way" test "$received" -lt $((published * kill / kills))
  wait "$player"
  start_daemon "$shop/dryclock.toml"
done
wait_for "every reading" 60 all_received
check_readings "killed"
outcome >"$shop/killed"
holds "the same outcome, bit for bit" diff "$shop/undisturbed" "$shop/killed"
wait_for "something to be announced" 60 is_announced
stop_daemon KILL
sql "SELECT CAST(payload AS TEXT) FROM journal WHERE kind = 8 ORDER BY seq" >"$shop/rows"
start_daemon "$shop/dryclock.toml"
wait_for "the rows to be applied" 60 all_applied
sql "SELECT CAST(payload AS TEXT) FROM journal WHERE kind = 8 ORDER BY seq" >"$shop/rows_later"
holds "what was announced is still announced" is_announced
equal "and no row of it is lost" "$(cat "$shop/rows")" "$(head -n "$(wc -l <"$shop/rows")" "$shop/rows_later")"
equal "the database is sound" ok "$(sql 'PRAGMA integrity_check')"
finish
