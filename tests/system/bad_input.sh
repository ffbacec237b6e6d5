#!/usr/bin/env bash
# What goes wrong in a shop: mistakes in the configuration are told all at once; whatever arrives over MQTT is kept as it
# came, counted with its reason, and stops nothing.
#   bad_input.sh BIN_FOLDER
# shellcheck source=shop.bash
source "$(dirname "${BASH_SOURCE[0]}")/shop.bash"
open_shop "$1"

# ---- Five mistakes, in lines 2, 5, 8, 15 and 16.
cat >"$shop/five.toml" <<'END'
[site]
language = "british"
time_zone = "Europe/London"
[http]
port = 808080
# [mqtt]
[screen]
stuk_after_h = 6
[[bay]]
name = "front"
[[sensor]]
name = "front-air"
bay = "front"
reads = [
  { quantity = "air-temperature", topic = "a/#/b", unit = "C" },
  { quantity = "relative-humidity", topic = "b", unit = "furlong" },
]
END
status=0
"$bin/dryclockd" --config "$shop/five.toml" --config-dir "$source_dir/config" >"$shop/five.txt" 2>&1 || status=$?
equal "exit code for a wrong configuration" 78 "$status"
for line in 2 5 8 15 16; do
  holds "the mistake in line $line is told with its place" grep -q "five.toml:$line:" "$shop/five.txt"
done
equal "so many mistakes are told" 5 "$(grep -c 'five.toml:[0-9]*:' "$shop/five.txt")"
equal "and counted" "5 mistakes in the configuration; nothing was started" "$(tail -n 1 "$shop/five.txt")"
printf '[[bay]]\nnam = "front"\nname = "front"\n' >"$shop/one.toml"
equal "one is told as one" "1 mistake in the configuration; nothing was started" \
  "$("$bin/dryclockd" --config "$shop/one.toml" --config-dir "$source_dir/config" 2>&1 | tail -n 1)"
if ((failures > 0)); then
  cat "$shop/five.txt"
fi

# ---- Bad messages. The first configuration leaves a subscription behind that the second one knows nothing of.
configuration() {
  cat <<END
$(store_and_ports)
$(front_bay "$1")
END
}
publish() {
  mosquitto_pub -p "$broker_port" -q 1 "$@"
}
all_received() {
  [[ $(sql "SELECT count(*) FROM journal WHERE kind = 0") -ge $1 ]] && all_applied
}
rejected() {
  sql "SELECT count(*) FROM reject WHERE why = $(reject_number "$1")"
}
judged() {
  sql "SELECT count(*) FROM reading WHERE verdict = $(verdict_number "$1")"
}

configuration "old/topic" >"$shop/old.toml"
start_daemon "$shop/old.toml"
stop_daemon TERM
publish -r -t sensors/front-air -m '{"temperature": 20.0, "humidity": 50.0}'
publish -t old/topic -m '{"temperature": 20.0, "humidity": 50.0}'

configuration "sensors/front-air" >"$shop/dryclock.toml"
start_daemon "$shop/dryclock.toml"
wait_for "the retained and the unknown message" 20 all_received 2
equal "unknown topic" 1 "$(rejected unknown-topic)"
equal "a retained reading is kept, and not believed" 2 "$(judged retained)"

head -c 3000000 /dev/zero | tr '\0' 7 >"$shop/3-MB"
head -c 5000000 /dev/zero | tr '\0' 7 >"$shop/5-MB"
head -c 200000 /dev/zero | tr '\0' 7 >"$shop/200-kB"
bad=(
  '{"temperature": 20.'                           # broken: one reject for each quantity
  '{"temperature": NaN, "humidity": 50.0}'        # no JSON either
  '{"temperature": "nan", "humidity": "inf"}'     # text that reads as no finite number
  '{"temperature": 1e400, "humidity": -1e400}'    # beyond any number
  '{"temperature": 1e308, "humidity": 1e308}'     # numbers, of another world
  '{"temperature": 20.0, "humidity": -4.0}'       # the humidity is implausible
  '{"temperature": 68.9, "humidity": 50.0}'       # Fahrenheit, set up as Celsius
  '{"humidity": true}'                            # a field missing, the other no number
  ''
)
for payload in "${bad[@]}"; do
  publish -t sensors/front-air -m "$payload"
done
publish -t sensors/front-air -f "$shop/200-kB"
publish -t sensors/front-air -f "$shop/3-MB"
# The client told the broker that it takes no such packet; the broker drops it, and the next one must still come.
publish -t sensors/front-air -f "$shop/5-MB" || true
publish -t sensors/front-air -m '{"temperature": 20.5, "humidity": 48.0}'
wait_for "all but the 5 MB" 20 all_received 14

equal "not JSON" 6 "$(rejected not-json)"
equal "not finite" 4 "$(rejected not-finite)"
equal "too large, each for two quantities" 4 "$(rejected too-large)"
equal "what is kept of them" "65536 65536" "$(sql "SELECT length(payload) FROM journal WHERE flags & 4" | paste -sd ' ')"
equal "a missing field" 1 "$(rejected no-such-field)"
equal "not a number" 1 "$(rejected not-a-number)"
equal "implausible" 4 "$(judged implausible)"
equal "ok: the humidity beside the Fahrenheit, the temperature beside the negative humidity, the good one" 4 "$(judged ok)"
equal "kept as it came" 1 "$(sql "SELECT count(*) FROM journal WHERE payload = CAST('${bad[4]}' AS BLOB)")"
holds "the daemon still runs" daemon_runs
holds "the client shows the good reading" grep -q '20.5' <(client board)
# The daemon's own counters say the same as its database.
counters() {
  client board --json |
    node --print 'const counted = JSON.parse(require("fs").readFileSync(0)).counters.rejects;
      process.argv.slice(1).map((reason) => counted[reason]).join(" ")' "$@"
}
equal "counters on the board" "1 6 4 4 1 1" \
  "$(counters unknown-topic not-json not-finite too-large no-such-field not-a-number)"
stop_daemon TERM
finish
