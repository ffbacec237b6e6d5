#!/usr/bin/env bash
# What follows from the journal is dropped and filled again by dryclockd --rebuild: the same rows, and nothing is sent.
#   rebuild.sh BIN_FOLDER
# shellcheck source=shop.bash
source "$(dirname "${BASH_SOURCE[0]}")/shop.bash"
open_shop "$1"

cat >"$shop/shop.toml" <<END
$(story_settings UTC)
[[bay]]
name = "front"
cold_below_c = 12.0
$(sensor_in front bay/front /at)
END
start_daemon "$shop/shop.toml"

# Two days, a reading every ten minutes; a night too cold, a stretch of silence, and some that nobody can read.
night() {
  local minute at temperature
  for ((minute = $1; minute < $2; minute += 10)); do
    at=$(date --utc --date "2026-03-02 08:00 UTC + $minute minutes" +%FT%TZ)
    temperature=$((minute % 1440 > 720 && minute % 1440 < 1200 ? 9 : 21)).$((minute % 7))
    if ((minute > 900 && minute < 1020)); then
      continue
    fi
    printf '{"at":"%s","temperature":%s,"humidity":5%d.2}\n' "$at" "$temperature" $((minute % 9))
  done
}
send() {
  mosquitto_pub -h 127.0.0.1 -p "$broker_port" -q 1 -t bay/front -l
}
night 0 60 | send
wait_for "the first readings" 20 all_applied
client --at "2026-03-02 08:30" vehicle in job-1 --hand-over "2026-03-04 12:00" >/dev/null
client --at "2026-03-02 08:40" lay left headlamp --wetness dry-pulled >/dev/null
echo '{"temperature":"warm"}' | send
night 60 2880 | send
received() {
  [[ $(sql "SELECT count(*) FROM journal WHERE kind = 0") == "$1" ]] && all_applied
}
wait_for "all readings" 60 received $((288 - 11 + 1))
client --at "2026-03-04 07:00" trim headlamp >/dev/null
wait_for "the trimming" 20 all_applied
stop_daemon TERM

# Alerts about the machine follow from no row: disk-low, broker-dropping, solvent, store-failing and seal-failing; from
# outlooks: estimate-slipped and pace-low.
derived() {
  sqlite3 -readonly "$database" "SELECT * FROM reading JOIN series ON series.id = series ORDER BY sensor, quantity, at_ms, seq;
    SELECT * FROM reject ORDER BY seq, why; SELECT * FROM alert ORDER BY raised_ms, id; SELECT * FROM air_hour ORDER BY bay, until_ms;
    SELECT * FROM meta;" |
    sed -E 's/^([0-9]+\|[0-9]+\|[0-9]+\|[-0-9.]+\|[-0-9.]+\|[0-9]+\|[0-9]+)\|[0-9]+\|/\1|/; s/^[0-9]+\|([0-9]{13}\|)/\1/'
}
derived >"$shop/before.txt"
holds "readings, rejects, alerts and hours of air are there" test "$(sql "SELECT (SELECT count(*) FROM reading) > 500 AND
  (SELECT count(*) FROM reject) > 0 AND (SELECT count(*) FROM alert) > 0 AND (SELECT count(*) FROM air_hour) > 10")" = 1
sent=$(sql "SELECT count(*), max(id) FROM outbox")

rebuild() {
  "$bin/dryclockd" --config "$shop/shop.toml" --config-dir "$source_dir/config" --rebuild 2>>"$shop/rebuild.log"
}
rebuild
derived >"$shop/after.txt"
holds "a rebuild gives the same rows" cmp "$shop/before.txt" "$shop/after.txt"

# Somebody has meddled with what is derived.
sqlite3 "$database" "DELETE FROM reading WHERE seq % 3 = 0; DELETE FROM reject; DELETE FROM air_hour;
  UPDATE alert SET what = 'else' WHERE id LIKE 'bay-cold/%'"
derived >"$shop/spoilt.txt"
holds "the tables are spoilt" test -n "$(cmp "$shop/before.txt" "$shop/spoilt.txt" 2>&1 || true)"
rebuild
derived >"$shop/again.txt"
holds "and mended" cmp "$shop/before.txt" "$shop/again.txt"
equal "nothing was sent by it" "$sent" "$(sql "SELECT count(*), max(id) FROM outbox")"

# One that was cut short is not taken for whole.
sqlite3 "$database" "INSERT INTO meta VALUES ('rebuilding', 1)"
status=0
"$bin/dryclockd" --config "$shop/shop.toml" --config-dir "$source_dir/config" >"$shop/refused.txt" 2>&1 || status=$?
equal "exit code where a rebuild was cut short" 1 "$status"
holds "what to do is said" grep -q "run dryclockd --rebuild again" "$shop/refused.txt"
rebuild
start_daemon "$shop/shop.toml"
stop_daemon TERM
finish
