#!/usr/bin/env bash
# Settings are rows: after a film and a bay are renamed in the files and a resistance is changed, what was laid stands on the
# board, and the record of a vehicle that has left is the same, byte for byte.
#   settings_rows.sh BIN_FOLDER
# shellcheck source=shop.bash
source "$(dirname "${BASH_SOURCE[0]}")/shop.bash"
open_shop "$1"
settings() { # settings BAY
  cat <<END
$(story_settings Europe/London)
[[bay]]
name = "$1"
$(sensor_in "$1" bay/front /at)
END
}
refused() {
  ! "$@" 2>"$shop/refused.txt" >/dev/null && grep -q "no film" "$shop/refused.txt"
}
check() {
  "$bin/dryclockd" --config "$shop/shop.toml" --config-dir "$source_dir/config" --check
}
told() {
  sql "SELECT count(*) FROM journal WHERE kind = 5"
}
settings front >"$shop/shop.toml"
equal "a check before there is a journal says no more than that, and makes none" "$shop/shop.toml is sound" "$(check)"
holds "no journal" test ! -e "$database"
start_daemon "$shop/shop.toml"
plays 0 60
client --at "2026-03-02 08:30" vehicle in left-1 --bay front >/dev/null
client --at "2026-03-02 08:40" lay bonnet -v left-1 --film baseline >/dev/null
plays 60 1500
client --at "2026-03-03 08:00" trim bonnet -v left-1 >/dev/null
client --at "2026-03-03 09:00" vehicle release left-1 --advised "no wash" >/dev/null
client --at "2026-03-03 09:05" vehicle in open-1 --bay front >/dev/null
client --at "2026-03-03 09:10" lay bonnet -v open-1 --film baseline >/dev/null
plays 1500 1620
left=$(sql "SELECT min(seq) FROM journal WHERE kind = 1")
client record "$left" --out "$shop/before.pdf" >/dev/null
equal "settings are told once" 1 "$(told)"
stop_daemon TERM
start_daemon "$shop/shop.toml"
equal "the same settings are not told again" 1 "$(told)"
stop_daemon TERM

# A films.toml of the shop's own, beside its settings: another key, and another spread of the resistance.
sed 's/^key = "baseline"/key = "renamed"\nln_resistance_spread = 0.3/' "$source_dir/config/films.toml" >"$shop/films.toml"
settings back >"$shop/shop.toml"
open=$(sql "SELECT max(seq) FROM journal WHERE kind = 1 AND CAST(payload AS TEXT) LIKE '%vehicle-in%'")
bay_is_gone="bay 'front' is gone from the files: vehicle $open (open-1) stands in it"
laid=$(sql "SELECT max(seq) FROM journal WHERE kind = 1 AND CAST(payload AS TEXT) LIKE '%\"lay\"%'")  # what the shop has learnt may come between
film_is_gone="film 'baseline' is gone from the files: vehicle $open (open-1) has it on bonnet (piece $laid)"
before=$(sha256sum "$database")
equal "a check says what stands in the shop and is gone" "$shop/shop.toml is sound
$bay_is_gone
$film_is_gone" "$(check)"
equal "and changes nothing" "$before" "$(sha256sum "$database")"
start_daemon "$shop/shop.toml"
equal "changed settings are told" 2 "$(told)"
holds "the log names the bay" grep -qF "$bay_is_gone" "$shop/dryclockd.log"
holds "and the film" grep -qF "$film_is_gone" "$shop/dryclockd.log"
equal "a check while the daemon runs says the same" "$shop/shop.toml is sound
$bay_is_gone
$film_is_gone" "$(check)"
client vehicle show open-1 >"$shop/vehicle.txt"
holds "the client says so of the film" grep -q "baseline (no longer in the catalogue)" "$shop/vehicle.txt"
client board >"$shop/board.txt"
holds "and of the bay" grep -q "front (no longer in the settings)" "$shop/board.txt"
client record open-1 --out "$shop/open.pdf" >/dev/null
holds "and the record" grep -q "(no longer in the catalogue)" <(pdftotext "$shop/open.pdf" - | tr -s '[:space:]' ' ')
client --json board >"$shop/board.json"
holds "the laid piece is on the board, with its film's key" grep -q '"film": *"baseline"' "$shop/board.json"
holds "so is the bay in which it stands" grep -q '"name": *"front"' "$shop/board.json"
client record "$left" --out "$shop/after.pdf" >/dev/null
holds "the record of the vehicle that has left is the same" cmp "$shop/before.pdf" "$shop/after.pdf"
holds "what is no longer in the catalogue is laid no more" refused client lay left mirror -v open-1 --film baseline
stop_daemon TERM
finish
