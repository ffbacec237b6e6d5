#!/usr/bin/env bash
# A box under the bench, whose clock is wrong in every way that was met: what was told keeps its order and its distances,
# nothing waits for a time that never comes, and the record says what happened.
#   clocks.sh BIN_FOLDER
# shellcheck source=shop.bash
source "$(dirname "${BASH_SOURCE[0]}")/shop.bash"
open_shop "$1"
write_settings() { # write_settings TIME_POINTER
  {
    printf '[site]\nname = "An invented shop"\ntime_zone = "Europe/London"\n'
    store_and_ports
    front_bay bay/front "$1"
  } >"$shop/shop.toml"
}
write_settings ""
board() {
  client --json board | jq "$1"
}
# airs MINUTES: the shop's time goes on by so many, with a message in each. The sensor's own clock is $told s late.
boot=0
wall=0
airs() {
  local minute true_time
  for ((minute = 0; minute < $1; minute++)); do
    boot=$((boot + 60))
    set_clock "$wall" "$boot"
    true_time=$(($(date +%s) + boot))
    mosquitto_pub -h 127.0.0.1 -p "$broker_port" -q 1 -t bay/front \
      -m "{\"temperature\":$((19 + minute % 3)).5,\"humidity\":$((48 + minute % 4)).5,\"at\":$((true_time - ${told:-0}))}"
    wait_for "the message to be taken" 30 taken
  done
}
taken() {
  [[ $(sql "SELECT count(*) FROM journal WHERE kind = 0") -gt ${heard:-0} ]] && heard=$(sql "SELECT count(*) FROM journal WHERE kind = 0")
}
wall_is() { # wall_is SECONDS: of the daemon's own idea of now against the machine's true clock, within 20 s
  local now
  now=$(date --date "$(board .now | tr -d '"')" +%s)
  ((now - $(date +%s) - boot - $1 < 20 && now - $(date +%s) - boot - $1 > -20))
}
redated() {
  sql "SELECT count(*) FROM journal WHERE kind = 7"
}
has_zones() { # once the first outlook is there
  [[ $(board '.vehicles[0].pieces[0].state.zones | length > 0') == true ]]
}
minutes_between() { # minutes_between LAID NOW: of the board's first piece
  board '((.now | sub("\\.[0-9]*Z$"; "Z") | fromdate) - (.vehicles[0].pieces[0].laid | sub("\\.[0-9]*Z$"; "Z") | fromdate)) / 60 | floor'
}
fresh() { # a shop without a journal
  rm -rf "$database" "$database"-* "$shop/seal" "$shop/keys"
  boot=0
  heard=0
}

lays() { # lays WALL MINUTES: a fresh shop by a clock that is moved so far; three minutes, a piece, so many more
  fresh
  wall=$1
  set_clock "$wall" "$boot"
  by_clock start_daemon "$shop/shop.toml"
  client vehicle in lot-5 --bay front >/dev/null
  airs 3
  client lay bonnet -v lot-5 >/dev/null
  airs "$2"
}

# A day ahead, set back while a piece dries.
lays 86400 5
wall=0
set_clock "$wall" "$boot"
told_once() { [[ $(redated) == 1 ]]; }
wait_for "the rows to be dated anew" 30 told_once
airs 4
holds "after a step back the time is right" wall_is 0
equal "the piece keeps its age across the step" 9 "$(minutes_between)"
wait_for "its zones" 20 has_zones
equal "no sensor is called silent" 0 "$(board '[.alerts[] | select(.rule == "sensor-silent")] | length')"
equal "the step is told" 1 "$(board '[.alerts[] | select(.rule == "clock-stepped")] | length')"
stop_daemon TERM

# Set back 31 h between stop and start, then an edge is wrapped.
wall=$((-31 * 3600))
set_clock "$wall" "$boot"
by_clock start_daemon "$shop/shop.toml"
equal "a step between two starts is told" 2 "$(redated)"
equal "the piece keeps its age across it" 9 "$(minutes_between)"
client wrap bonnet -v lot-5 >/dev/null
client vehicle release lot-5 --advised "no wash" >/dev/null
airs 2
vehicle=$(sql "SELECT min(seq) FROM journal WHERE kind = 1")
client record "$vehicle" --out "$shop/record.pdf" >/dev/null
pdftotext -layout "$shop/record.pdf" "$shop/record.txt"
holds "the record tells the steps" grep -q "The clock was set back by" "$shop/record.txt"
equal "what was told before the steps is not called told at once" 2 "$(grep -c "CLOCK WAS" "$shop/record.txt")"
stop_daemon TERM
client verify "$shop/seal" >"$shop/verify.txt" || holds "the seal verifies" false
holds "whoever verifies is told that the clock was set back" grep -q "clock set back" "$shop/verify.txt"

# A clock that starts in 1970, on a machine without one of its own: a piece is laid, then the time comes.
fresh
wall=$((-$(date +%s)))
set_clock "$wall" "$boot"
by_clock start_daemon "$shop/shop.toml"
holds "that the time is not known is said" grep -q "time is not known" <(board '.alerts')
client vehicle in lot-5 --bay front >/dev/null
airs 3
client lay bonnet -v lot-5 >/dev/null
airs 3
wall=0
set_clock "$wall" "$boot" 1
wait_for "1970 to be dated anew" 30 wall_is 0
airs 2
equal "the piece keeps its age" 5 "$(minutes_between)"
holds "memory stays what it was" test "$(awk '/VmRSS/ { print $2 }' "/proc/$daemon_pid/status")" -lt 400000
stop_daemon TERM
by_clock start_daemon "$shop/shop.toml"
equal "and after a restart" 5 "$(minutes_between)"
stop_daemon TERM

# The machine is put down and started again: its clock was a year ahead before, and is right now.
other_boot() { # what was written until now is of earlier boots of the machine
  local guard
  guard=$(sql "SELECT sql FROM sqlite_master WHERE name = 'journal_keeps_its_words'")
  sqlite3 "$database" "UPDATE session SET boot_id = 'earlier-' || boot_id; DROP TRIGGER journal_keeps_its_words;
    UPDATE journal SET payload = CAST(json_set(payload, '$.boot', 'earlier-' || json_extract(payload, '$.boot')) AS BLOB)
    WHERE kind = 7; $guard"
}
why() {
  sql "SELECT json_extract(payload, '$.why') FROM journal WHERE kind = 7 ORDER BY seq DESC LIMIT 1"
}
lays $((365 * 86400)) 3
stop_daemon TERM
other_boot
wall=0
set_clock "$wall" "$boot" 1
by_clock start_daemon "$shop/shop.toml"
equal "the clock was ahead before" ahead "$(why)"
holds "the time is right now" wall_is 0
airs 3
wait_for "the piece to go on drying" 20 has_zones
# What was told before this boot of the machine ended when it began, or before.
up=$(awk '{ print int($1 / 60) }' /proc/uptime)
holds "it is as old as it is at least" test "$(minutes_between)" -ge "$((up + 6))" -a "$(minutes_between)" -lt "$((up + 30))"
stop_daemon TERM

# It is put down again, has no clock of its own, and takes up the time at which it was put down, half an hour too early. Who
# may not even ask the kernel whether somebody vouches for the clock takes it that nobody does.
other_boot
wall=-1800
set_clock "$wall" "$boot" -1
by_clock start_daemon "$shop/shop.toml"
equal "the clock is behind" behind "$(why)"
age=$(minutes_between)
airs 2
equal "it goes on from what came last" $((age + 2)) "$(minutes_between)"
boot=$((boot + 3600))
wall=3600
set_clock "$wall" "$boot" 1
wait_for "the time to be known" 30 wall_is 3600
holds "no vehicle and no piece was lost" test "$(board '.vehicles[0].pieces | length')" = 1
stop_daemon TERM

# Ten days later it boots anew. The settings have changed, and the tables are filled anew before the daemon starts: rows of
# this boot, by a program that tells nothing of itself.
other_boot
wall=$((wall + 864000))
set_clock "$wall" "$boot" 1
before=$(redated)
printf '[milestones]\nannounce_level = 0.85\n' >>"$shop/shop.toml"
rows=$(sql "SELECT count(*) FROM journal")
by_clock "$bin/dryclockd" --config "$shop/shop.toml" --config-dir "$source_dir/config" --rebuild 2>"$shop/rebuild.txt"
holds "the change is told" test "$(sql "SELECT count(*) FROM journal")" -gt "$rows"
by_clock start_daemon "$shop/shop.toml"
equal "no clock was set" "$before" "$(redated)"
stop_daemon TERM

# A clock that starts in 1970 again, and nobody who vouches for another, but a sensor that tells the time of its readings.
write_settings /at
told_by() { # told_by WHY: that is why the newest boot has its time
  [[ $(why) == "$1" ]]
}
laid_at() { # laid_at SECONDS: since the true time was zero, within 10 s
  local laid
  laid=$(date --date "$(board '.vehicles[0].pieces[0].laid' | tr -d '"')" +%s)
  ((laid - $1 < 10 && laid - $1 > -10))
}
fresh
wall=$((-$(date +%s)))
set_clock "$wall" "$boot"
by_clock start_daemon "$shop/shop.toml"
client vehicle in lot-5 --bay front >/dev/null
airs 2
client lay bonnet -v lot-5 >/dev/null
laid=$(($(date +%s) + boot))
airs 2
equal "four messages do not tell the time" behind "$(why)"
airs 3
wait_for "the sensor to be believed" 30 told_by told
wait_for "1970 to be dated as the sensor tells" 30 wall_is 0
holds "the piece was laid when it was" laid_at "$laid"
airs 2
equal "it keeps its age" 7 "$(minutes_between)"
wait_for "its zones" 20 has_zones
holds "it is said whose time it is" grep -q "the one that the sensors tell" <(board '.alerts')
stop_daemon TERM
by_clock start_daemon "$shop/shop.toml"
equal "whose time it is holds after a restart" told "$(why)"
holds "so does the time" wall_is 0
holds "the piece was laid when it was, also after a restart" laid_at "$laid"
equal "and keeps its age" 7 "$(minutes_between)"
stop_daemon TERM
other_boot
boot=$((boot + 36000)) # ten hours off, which only the sensor knows of
set_clock "$wall" "$boot"
by_clock start_daemon "$shop/shop.toml"
equal "the next boot does not know the time" behind "$(why)"
airs 6
wait_for "the sensor to be believed again" 30 told_by told
wait_for "the hours between to be counted" 30 wall_is 0
holds "the piece was laid when it was, also after another boot" laid_at "$laid"
wall=-7200
set_clock "$wall" "$boot" 1
wait_for "a time server to be believed before a sensor" 30 wall_is -7200
equal "and it is told as a clock that was set" stepped "$(why)"
stop_daemon TERM

# A clock that may be right, and a sensor that tells another time: a person is asked, and nothing is dated anew.
doubtful() { # doubtful COUNT
  [[ $(board '[.alerts[] | select(.rule == "clock-doubtful")] | length') == "$1" ]]
}
fresh
wall=7200 # the machine's own clock chip, where there is one, does not vouch for this
set_clock "$wall" "$boot"
told=3600
by_clock start_daemon "$shop/shop.toml"
airs 6
wait_for "the difference to be told" 30 doubtful 1
holds "by how much, and which way" grep -q "3 h.*earlier than this machine's" <(board '.alerts')
equal "nothing is dated anew" 0 "$(redated)"
stop_daemon TERM
by_clock start_daemon "$shop/shop.toml"
holds "it is still told after a restart" doubtful 1
told=-7200
airs 6
wait_for "it to be over once they agree" 30 doubtful 0
told=3600
airs 6
wait_for "the difference to be told again" 30 doubtful 1
wall=0
set_clock "$wall" "$boot" 1
wait_for "it to be over once somebody vouches" 30 doubtful 0
stop_daemon TERM
told=0
write_settings ""

# Times that cannot be meant.
wall=0
set_clock "$wall" "$boot"
by_clock start_daemon "$shop/shop.toml"
refused() { # refused WORDS COMMAND...
  local words=$1
  shift
  ! client "$@" 2>"$shop/refused.txt" >/dev/null && grep -q "$words" "$shop/refused.txt"
}
holds "an arrival in 1971 is asked about" refused "year" --at 1971-03-01T12:00:00Z vehicle in lot-6 --bay front
holds "an hour ahead is refused" refused "future" --at "$(date --utc --date "@$(($(date +%s) + boot + 3600))" +%FT%TZ)" \
  vehicle in lot-6 --bay front
holds "an hour that comes twice is asked about" refused "comes twice" --at "2026-10-25 01:30" vehicle in lot-6 --bay front
stop_daemon TERM
finish
