#!/usr/bin/env bash
# What was shown is kept: the record says of a wrap what the page said just before it, also after a film's resistance and the
# level of announcing have been changed; what is worked out again stands beside, and is another figure.
#   shown_rows.sh BIN_FOLDER
# shellcheck source=shop.bash
source "$(dirname "${BASH_SOURCE[0]}")/shop.bash"
open_shop "$1"
settings() { # settings LEVEL
  cat <<END
$(story_settings UTC)
$(front_bay bay/front /at)
[milestones]
announce_level = $1
END
}
played=0
plays_to() { # plays_to MINUTE
  plays "$played" "$1"
  played=$1
}
json() { # json FILE PATH
  sqlite3 :memory: "SELECT json_extract(readfile('$shop/$1'), '\$.$2')"
}
board() { # board PATH
  client --json board >"$shop/board.json"
  json board.json "$1"
}
# pieces FILE COLUMN: of the wrap's line in the record's pieces.csv
pieces() {
  unzip -p "$shop/$1" '*/pieces.csv' >"$shop/pieces.csv"
  sqlite3 :memory: ".import --csv $shop/pieces.csv pieces" "SELECT $2 FROM pieces WHERE step = 'edge-wrapped'"
}
record() {
  client record "$van" --zip --out "$shop/$1" >/dev/null
}
shown() { # shown WHY
  sql "SELECT count(*) FROM journal WHERE kind = 6 AND coalesce(json_extract(payload, '\$.why'), 'hourly') = '$1'"
}
percent() {
  awk -v share="$1" 'BEGIN { printf "%.1f", int(1000 * share + 0.5) / 10 }'
}

settings 0.90 >"$shop/shop.toml"
start_daemon "$shop/shop.toml"
plays_to 60
client --at "$(at_minute 55)" vehicle in demo-1 --bay front >/dev/null
client --at "$(at_minute 55)" lay bonnet -v demo-1 --film baseline >/dev/null
van=$(sql "SELECT min(seq) FROM journal WHERE kind = 1")
wrap_chance() {
  board 'vehicles[0].pieces[0].milestones[1].probability'
}
# Outlooks are worked out beside the readings: the newest is on the board once it stays.
outlook_stays() {
  local once
  once=$(wrap_chance)
  sleep 1
  [[ $(wrap_chance) == "$once" ]]
}
# Until the edges are perhaps ready to be wrapped.
until awk -v p="$(wrap_chance)" 'BEGIN { exit !(p >= 0.3) }'; do
  ((played < 4000))
  plays_to $((played + 30))
  wait_for "the outlook" 60 outlook_stays
done
said=$(wrap_chance)
equal "hours have passed, each with its row" 1 "$(($(shown hourly) >= played / 60 - 2))"
equal "no deed yet" 0 "$(shown deed)"
client --at "$(at_minute $((played - 5)))" wrap bonnet -v demo-1 >/dev/null
equal "the deed has its row" 1 "$(shown deed)"
equal "right before it, with nothing between" 1 "$(sql "SELECT count(*) FROM journal AS event JOIN journal AS shown ON shown.seq = event.seq - 1
  WHERE event.kind = 1 AND CAST(event.payload AS TEXT) LIKE '%edge-wrapped%' AND shown.kind = 6")"
record before.zip
equal "the record says what the page said" "$(percent "$said")" "$(pieces before.zip probability_pct)"
stop_daemon TERM

# Film that lets a third of the water out, and another level.
awk '/^  permeability = / { $3 = $3 / 3 } { print }' "$source_dir/config/films.toml" >"$shop/films.toml"
settings 0.80 >"$shop/shop.toml"
start_daemon "$shop/shop.toml"
wait_for "the rows to be applied" 60 all_applied
record after.zip
equal "after the edit it still does" "$(percent "$said")" "$(pieces after.zip probability_pct)"
equal "the time of saying is there" "$(pieces before.zip said)" "$(pieces after.zip said)"
holds "what is worked out again is another figure" test "$(pieces after.zip again_pct)" != "$(pieces after.zip probability_pct)"
unzip -p "$shop/after.zip" '*/record.pdf' >"$shop/after.pdf"
pdftotext -layout "$shop/after.pdf" "$shop/after.txt"
holds "the sheet prints what was said" grep -q "est. $(percent "$said")" "$shop/after.txt"
equal "and beside it what was worked out again" "$(pieces after.zip again_pct)" \
  "$(grep -A 1 "worked out again: *$" "$shop/after.txt" | grep -o '[0-9.]* %' | tr -d ' %')"
stop_daemon TERM
rows_then=$(sql "SELECT count(*) FROM journal WHERE kind = 6")
start_daemon "$shop/shop.toml"
wait_for "the rows to be applied" 60 all_applied
stop_daemon TERM
equal "a start with the same settings writes no row twice" "$rows_then" "$(sql "SELECT count(*) FROM journal WHERE kind = 6")"
finish
