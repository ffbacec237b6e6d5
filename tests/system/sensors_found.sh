#!/usr/bin/env bash
# A shop without a sensor: what its broker has to offer is found, set up, read, kept over a kill, and retired.
#   sensors_found.sh BIN_FOLDER
# shellcheck source=shop.bash
source "$(dirname "${BASH_SOURCE[0]}")/shop.bash"
open_shop "$1"
cat >"$shop/shop.toml" <<END
[store]
path = "$database"
ballast_mib = 0
[http]
port = $(free_port)
[mqtt]
port = $broker_port
[[bay]]
name = "front"
[[bay]]
name = "back"
END
start_daemon "$shop/shop.toml"

send() {
  mosquitto_pub -p "$broker_port" -q 1 -t "$1" -m "$2"
}
# One payload with nested values; a value a topic; who is there at all.
devices_send() {
  send shop/bench/telemetry '{"air":{"temp":68.5,"rh":0.47},"battery":{"temperature":22.1,"level":91}}'
  send probe/7/temperature 17.25
  send probe/7/humidity 61.5
  send probe/7/availability online
}
mosquitto_pub -p "$broker_port" -q 1 -r -t probe/7/status -m offline
while sleep 0.5; do devices_send; done &
senders=$!

client sensors find --seconds 6 >"$shop/found.txt" 2>/dev/null
cat "$shop/found.txt"
holds "the nested values are proposed" grep -q '^  air temperature in °F: 68.5 on shop/bench/telemetry at /air/temp$' "$shop/found.txt"
holds "and the humidity as a fraction" grep -q '^  relative humidity in fraction: 0.47 on shop/bench/telemetry at /air/rh$' "$shop/found.txt"
holds "a value a topic is one sensor" grep -q '^  relative humidity in %: 61.5 on probe/7/humidity$' "$shop/found.txt"
holds "availability is known for what it is" grep -q 'probe/7/availability *online *(tells that a device is there)' "$shop/found.txt"
holds "a retained one too" grep -q 'probe/7/status *offline *(tells that a device is there)' "$shop/found.txt"
equal "a battery's temperature is not proposed" 0 "$(grep -c '/battery/temperature' "$shop/found.txt" || true)"
equal "nothing that was overheard is journalled" 0 "$(sql 'SELECT count(*) FROM journal WHERE kind = 0')"

client sensors assign bench --bay front
client sensors assign wall --found 7 --bay back
readings_of() {  # of both quantities
  [[ $(client sensors | awk -v name="$1" '$1 == name && $10 + 0 > 0' | wc -l) == 2 ]]
}
wait_for "readings of the bench" 20 readings_of bench
wait_for "readings of the wall" 20 readings_of wall
client sensors | tee "$shop/list.txt"
holds "68.5 F is 20.3 C" grep -q '^bench *front *assigned *air temperature *20.3 °C' "$shop/list.txt"
holds "0.47 is 47 %" grep -q '^bench *front *assigned *relative humidity *47 %RH' "$shop/list.txt"
holds "the wall's own topics" grep -q '^wall *back *assigned *air temperature *17.2 °C' "$shop/list.txt"

client sensors find --seconds 5 >"$shop/again.txt" 2>/dev/null
holds "what is set up is said" grep -q 'probe/7/temperature .*(set up already)' "$shop/again.txt"

# The configuration file reads what was exported; a name that stands in it is the file's.
client sensors export >"$shop/sensors.toml"
cat "$shop/shop.toml" "$shop/sensors.toml" >"$shop/with_sensors.toml"
holds "the export is a sound configuration" "$bin/dryclockd" --config "$shop/with_sensors.toml" --config-dir "$source_dir/config" --check

kill "$senders"
wait "$senders" 2>/dev/null || true
wait_for "everything applied" 20 all_applied
journalled=$(sql "SELECT count(*) FROM journal WHERE kind = 0")
stop_daemon KILL
start_daemon "$shop/shop.toml"
client sensors >"$shop/after.txt"
holds "a restart knows them" grep -q '^bench *front *assigned *air temperature *20.3 °C' "$shop/after.txt"
equal "no reading was journalled anew" "$journalled" "$(sql "SELECT count(*) FROM journal WHERE kind = 0")"

client sensors retire bench
equal "a retired one is gone" 0 "$(client sensors | grep -c bench || true)"
wall_rows() {
  sql "SELECT count(*) FROM journal WHERE topic LIKE 'probe/7/%'"
}
sleep 1  # the broker hears of it after the client has its answer
before=$(wall_rows)
devices_send
devices_send
four_more() {
  (($(wall_rows) >= before + 4))
}
wait_for "the wall's next readings" 20 four_more
equal "each counts once" $((before + 4)) "$(wall_rows)"
equal "the retired one's topic is not listened to any more" 0 \
  "$(sql "SELECT count(*) FROM journal WHERE topic = 'shop/bench/telemetry' AND seq > (SELECT max(seq) FROM journal WHERE kind = 1)")"
stop_daemon TERM
finish
