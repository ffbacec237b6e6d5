#!/usr/bin/env bash
# A phone is let in while the daemon runs, may look or do, and is shut out again while it looks on.
#   pairing.sh BIN_FOLDER
# shellcheck source=shop.bash
source "$(dirname "${BASH_SOURCE[0]}")/shop.bash"
host=$(hostname --all-ip-addresses | tr ' ' '\n' | grep -m 1 '\.' || true)
if [[ -z $host ]]; then
  echo "skipped: this machine has no address besides loopback"
  exit 77
fi
open_shop "$1"
page_port=$(free_port)
cat >"$shop/shop.toml" <<END
[store]
path = "$database"
ballast_mib = 0
[http]
address = "0.0.0.0"
port = $page_port
token_file = "tokens"
[mqtt]
port = $broker_port
[[bay]]
name = "front"
END
start_daemon "$shop/shop.toml"
shop_url=http://$host:$page_port

# status_of TOKEN CURL-ARGUMENTS...: as from another machine.
status_of() {
  local token=$1
  shift
  curl --silent --output /dev/null --write-out '%{http_code}' --header "Authorization: Bearer $token" "$@"
}
arrive() {
  status_of "$1" --json "{\"what\":\"vehicle-in\",\"reference\":\"$2\",\"bay\":\"front\"}" "$shop_url/api/v1/events"
}
paired_are() {
  [[ $(grep -o 'paired devices: [0-9]*' "$shop/dryclockd.log" | tail -n 1) == "paired devices: $1" ]]
}
pair() {
  "$bin/dryclock" pair --config "$shop/shop.toml" --config-dir "$source_dir/config" --host "$host" --json "$@" |
    grep -o 'token=[^"]*' | cut -d = -f 2
}

equal "without a token" 401 "$(curl --silent --output /dev/null --write-out '%{http_code}' "$shop_url/api/v1/board")"
phone=$(pair)
screen=$(pair --read-only)
wait_for "the daemon knows both" 20 paired_are 2
equal "the phone is let in" 200 "$(status_of "$phone" "$shop_url/api/v1/board")"
equal "the phone may do" 201 "$(arrive "$phone" demo-1)"
equal "the screen may only look" 403 "$(arrive "$screen" demo-2)"
equal "the pairing address sets a cookie" 303 \
  "$(curl --silent --output /dev/null --cookie-jar "$shop/cookies" --write-out '%{http_code}' "$shop_url/pair?token=$phone")"
equal "and the cookie is enough" 200 \
  "$(curl --silent --output /dev/null --cookie "$shop/cookies" --write-out '%{http_code}' "$shop_url/api/v1/board")"
equal "the file is its owner's alone" 600 "$(stat --format %a "$shop/tokens")"

# ---- It looks on while it is shut out: its stream ends, and it does not come in again.
curl --silent --no-buffer --header "Authorization: Bearer $phone" "$shop_url/api/v1/live" >"$shop/live.txt" &
live_pid=$!
wait_for "the live board" 20 grep -q '^event: board' "$shop/live.txt"
"$bin/dryclock" pair --config "$shop/shop.toml" --config-dir "$source_dir/config" --withdraw phone >/dev/null
stream_ended() {
  ! kill -0 "$live_pid" 2>/dev/null
}
wait_for "the stream of the phone ends" 20 stream_ended
equal "the phone is no longer let in" 401 "$(status_of "$phone" "$shop_url/api/v1/board")"
equal "the screen still is" 200 "$(status_of "$screen" "$shop_url/api/v1/board")"

# ---- Behind a proxy everybody comes from this machine: then it needs a token too.
here=http://127.0.0.1:$page_port/api/v1/board
from_here() {
  curl --silent --output /dev/null --write-out '%{http_code}' "$here"
}
equal "this machine needs no token" 200 "$(from_here)"
stop_daemon TERM
sed -i 's/^token_file = .*/&\nrequire_token = true/' "$shop/shop.toml"
start_daemon "$shop/shop.toml"
equal "with require_token it does" 401 "$(from_here)"
equal "and is let in with one" 200 "$(status_of "$screen" "$here")"

stop_daemon TERM
finish
