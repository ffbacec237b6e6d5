# A shop for the system tests: a real broker, the real daemon and the real client, in a folder of its own.
# Sourced by the tests. Call `open_shop BIN_FOLDER` first; everything ends with the script.
# shellcheck shell=bash
set -euo pipefail

source_dir=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
export reference=${DRYCLOCK_REFERENCE:-$source_dir/../shared/reference}
failures=0
daemon_pid=""

open_shop() {
  bin=$1
  shop=$(mktemp -d)
  trap close_shop EXIT
  database=$shop/dryclock.db
  broker_port=$(free_port)
  {
    # What is shipped, but for the limit on packets: here large ones have to reach the daemon.
    sed -e "s/^listener .*/listener $broker_port 127.0.0.1/" -e '/^max_packet_size/d' \
      "$source_dir/deploy/mosquitto/dryclock.conf"
    # As root, the broker would become another user, who may not write here.
    printf 'persistence_location %s/\nuser %s\n' "$shop" "$(id --user --name)"
  } >"$shop/mosquitto.conf"
  start_broker
}

# What the settings of every shop here begin with: its own database, any free port, its own broker.
store_and_ports() {
  cat <<END
[store]
path = "$database"
ballast_mib = 0
[http]
port = 0
[mqtt]
port = $broker_port
END
}

# front_bay TOPIC [TIME_POINTER]: one bay with one sensor, which tells both quantities on the topic, and where the time.
front_bay() {
  printf '[[bay]]\nname = "front"\n'
  sensor_in front "$@"
}
sensor_in() { # sensor_in BAY TOPIC [TIME_POINTER]
  cat <<END
[[sensor]]
name = "$1-air"
bay = "$1"
topic = "$2"
time_pointer = "${3:-}"
reads = [
  { quantity = "air-temperature", pointer = "/temperature", unit = "C" },
  { quantity = "relative-humidity", pointer = "/humidity", unit = "%" },
]
END
}

# A story whose time is that of its messages: settings up to the bays, the time of its first minute, and its air.
story_settings() { # story_settings ZONE
  cat <<END
clock = "messages"
[site]
name = "An invented shop"
time_zone = "$1"
$(store_and_ports)
END
}
story_begins=$(date --utc --date '2026-03-02 08:00' +%s)
at_minute() { # at_minute MINUTE: of the story
  date --utc --date "@$((story_begins + 60 * $1))" +%Y-%m-%dT%H:%M:00.000Z
}
air_at() { # air_at MINUTE: what the sensor sends then
  printf '{"at":"%s","temperature":%d.%d,"humidity":%d.%d}\n' "$(at_minute "$1")" \
    $((19 + $1 % 3)) $(($1 / 5 % 10)) $((48 + $1 % 4)) $(($1 / 5 % 7))
}
plays() { # plays FROM TO: minutes; a message every five, until they are applied
  local minute
  for ((minute = $1; minute < $2; minute += 5)); do
    air_at "$minute"
  done | mosquitto_pub -h 127.0.0.1 -p "$broker_port" -q 1 -t bay/front -l
  wait_for "the messages to be applied" 60 all_applied
}

# The client that is installed, with the settings that are shipped.
client() {
  "$bin/dryclock" --config-dir "$source_dir/config" "$@"
}

close_shop() {
  local status=$?
  trap - EXIT
  local pid
  for pid in $(jobs -p); do
    kill "$pid" 2>/dev/null || true
  done
  wait 2>/dev/null || true
  if [[ $status -ne 0 ]]; then
    tail -n 40 "$shop"/*.log >&2 || true
  fi
  rm -rf "$shop"
  exit "$status"
}

is_taken() {
  (exec 3<>"/dev/tcp/127.0.0.1/$1") 2>/dev/null
}
free_port() {
  local port
  while port=$((20000 + RANDOM % 20000)) && is_taken "$port"; do :; done
  echo "$port"
}

# wait_for WHAT SECONDS COMMAND...: until the command succeeds.
wait_for() {
  local what=$1 deadline=$((SECONDS + $2))
  shift 2
  until "$@"; do
    if ((SECONDS > deadline)); then
      echo "waited in vain: $what" >&2
      exit 1
    fi
    sleep 0.05
  done
}

start_broker() {
  PATH=$PATH:/usr/sbin mosquitto -c "$shop/mosquitto.conf" >>"$shop/mosquitto.log" 2>&1 &
  wait_for "the broker" 20 is_taken "$broker_port"
}

# start_daemon CONFIG: on a free port of its own; the client finds it by DRYCLOCK_URL.
start_daemon() {
  : >"$shop/dryclockd.log"
  "$bin/dryclockd" --config "$1" --config-dir "$source_dir/config" 2>>"$shop/dryclockd.log" &
  daemon_pid=$!
  wait_for "the daemon" 60 grep -q 'serves http' "$shop/dryclockd.log"
  DRYCLOCK_URL=$(grep -o 'http://[0-9.:]*' "$shop/dryclockd.log" | head -n 1)
  export DRYCLOCK_URL
  wait_for "the daemon's connection to the broker" 60 grep -q 'broker connected' "$shop/dryclockd.log"
}

# by_clock COMMAND...: with clocks that set_clock moves.
by_clock() {
  LD_PRELOAD=$bin/set_clock.so SET_CLOCK=$shop/clock ASAN_OPTIONS=${ASAN_OPTIONS:-}:verify_asan_link_order=0 "$@"
}
# set_clock WALL BOOT [SYNCHRONIZED]: seconds; see set_clock.cpp
set_clock() {
  echo "$1 $2 ${3:-0}" >"$shop/clock.new"
  mv "$shop/clock.new" "$shop/clock"
}

# stop_daemon SIGNAL: one that is asked to end does so cleanly; in builds with sanitizers that says that nothing leaked.
stop_daemon() {
  local status=0
  kill "-$1" "$daemon_pid"
  wait "$daemon_pid" 2>/dev/null || status=$?
  daemon_pid=""
  if [[ $1 == TERM && $status -ne 0 ]]; then
    equal "exit code of the daemon" 0 "$status"
    tail -n 40 "$shop/dryclockd.log"
  fi
}

daemon_runs() {
  kill -0 "$daemon_pid" 2>/dev/null
}

# The daemon may be writing: readers wait.
sql() {
  sqlite3 -readonly -cmd '.timeout 5000' "$database" "$1"
}
# Every journal row's effects are committed.
all_applied() {
  [[ $(sql "SELECT (SELECT max(seq) FROM journal) <= (SELECT value FROM meta WHERE name = 'applied_seq')") == 1 ]]
}

# equal WHAT EXPECTED ACTUAL
equal() {
  if [[ $2 != "$3" ]]; then
    printf 'FAILED: %s\n  expected: %s\n  actual:   %s\n' "$1" "$2" "$3"
    failures=$((failures + 1))
  fi
}
# holds WHAT COMMAND...
holds() {
  local what=$1
  shift
  if ! "$@"; then
    printf 'FAILED: %s\n' "$what"
    failures=$((failures + 1))
  fi
}
# The last line of a test.
finish() {
  if [[ -n $daemon_pid ]]; then
    stop_daemon TERM
  fi
  if ((failures > 0)); then
    echo "$failures checks failed"
    exit 1
  fi
  echo "all checks passed"
}

# The numbers that the database gives verdicts, reasons and quantities are the orders in daemon/domain/types.hpp.
verdict_number() {
  local verdicts=(ok duplicate suspect-dup retained late skewed implausible spike stuck being-checked) number
  for number in "${!verdicts[@]}"; do
    if [[ ${verdicts[number]} == "$1" ]]; then
      echo "$number"
    fi
  done
}
reject_number() {
  local reasons=(unknown-topic too-large not-json no-such-field not-a-number not-finite bad-time bad-event) number
  for number in "${!reasons[@]}"; do
    if [[ ${reasons[number]} == "$1" ]]; then
      echo "$number"
    fi
  done
}
