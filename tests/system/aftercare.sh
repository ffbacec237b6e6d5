#!/usr/bin/env bash
# From the plan to the recheck: a vehicle is planned, laid on and handed over more than two weeks ago; after a kill the
# list of those that are due still holds it, and the recheck is taken. A channel is tested on the way.
#   aftercare.sh BIN_FOLDER
# shellcheck source=shop.bash
source "$(dirname "${BASH_SOURCE[0]}")/shop.bash"
open_shop "$1"
cat >"$shop/shop.toml" <<END
[site]
time_zone = "UTC"
$(store_and_ports)
$(front_bay sensors/front)
[[notify]]
name = "bell"
kind = "command"
command = ["/bin/sh", "-c", "cat >> $shop/bell.txt"]
[[notify]]
name = "broken"
kind = "command"
command = ["/bin/false"]
END
start_daemon "$shop/shop.toml"
ago() {
  date --utc --date "$1 ago" '+%Y-%m-%d %H:%M'
}

# ---- A vehicle that left 16 days ago: told late, in its order.
client --at "$(ago '18 days')" vehicle in demo-1 --bay front >/dev/null
client --at "$(ago '18 days')" vehicle plan demo-1 front-bumper-only >/dev/null
holds "what is planned is still to lay" grep -q 'still to lay: front bumper' <(client)
client --at "$(ago '17 days')" lay front bumper -v demo-1 --who KM >/dev/null
equal "nothing more is" 0 "$(client | grep -c 'still to lay' || true)"
client --at "$(ago '16 days')" trim front bumper -v demo-1 >/dev/null
client --at "$(ago '16 days')" vehicle release demo-1 --advised "no wash for a week" >/dev/null
equal "it is on the board no more" 0 "$(client vehicle list | grep -c demo-1 || true)"
holds "and is due for its recheck" grep -q 'demo-1.*RECHECK DUE' <(client vehicle list --handed-over)
holds "who laid it stands with it" grep -q 'lay.*KM' <(client events)

# ---- The power fails.
stop_daemon KILL
start_daemon "$shop/shop.toml"
holds "after a kill it still is" grep -q 'demo-1.*RECHECK DUE' <(client vehicle list --handed-over)
client recheck front bumper lifting -v demo-1 >/dev/null
holds "the recheck is taken" grep -q 'demo-1.*  rechecked' <(client vehicle list --handed-over)
stop_daemon TERM
start_daemon "$shop/shop.toml"
holds "and kept" grep -q '"finding":"lifting"' <(client vehicle list --handed-over --json)

# ---- One that leaves now is read from the journal as it was.
client vehicle in demo-2 --bay front >/dev/null
client lay bonnet -v demo-2 >/dev/null
client trim bonnet -v demo-2 >/dev/null
client vehicle release demo-2 --advised "keep it dry" >/dev/null
number=$(client vehicle list --handed-over --json | grep -o '"id":[0-9]*,"reference":"demo-2"' | grep -o '[0-9]*' | head -n 1)
past=$(curl --silent "$DRYCLOCK_URL/api/v1/handed-over/$number")
holds "as it was" grep -q '"reference":"demo-2"' <<<"$past"
holds "with the panel that was laid" grep -q '"panel":"bonnet"' <<<"$past"
equal "no such vehicle" 404 \
  "$(curl --silent --output /dev/null --write-out '%{http_code}' "$DRYCLOCK_URL/api/v1/handed-over/9999")"

# ---- Channels.
status=0
client alerts test >"$shop/test.txt" || status=$?
equal "one channel that fails is told by the exit code" 1 "$status"
holds "MQTT takes the test" grep -q '^mqtt: delivered' "$shop/test.txt"
holds "so does the bell" grep -q '^bell: delivered' "$shop/test.txt"
holds "the broken one says why" grep -q '^broken: not delivered: ' "$shop/test.txt"
holds "the bell has rung" grep -q "A test of dryclock's alerts" "$shop/bell.txt"

# ---- What was delivered is known for 10,000 messages, also on a box that is switched off every night.
stop_daemon TERM
sqlite3 "$database" "INSERT INTO outbox (channel, topic, payload, retained, state)
  SELECT 'bell', 'of long ago', value, 0, 1 FROM generate_series(1, 12000)"
start_daemon "$shop/shop.toml"
few_are_kept() {
  (($(sql "SELECT count(*) FROM outbox WHERE topic = 'of long ago'") <= 10000))
}
wait_for "the oldest messages to be forgotten" 20 few_are_kept
stop_daemon TERM
finish
