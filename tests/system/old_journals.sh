#!/usr/bin/env bash
# Journals that programs of schema 1 and 2 have left are opened by today's: a copy is kept, no row is lost or altered, the
# shop is as it was, and the record says what had to be assumed. dryclockd --rebuild takes them too.
#   old_journals.sh BIN_FOLDER
# shellcheck source=shop.bash
source "$(dirname "${BASH_SOURCE[0]}")/shop.bash"
open_shop "$1"
cat >"$shop/shop.toml" <<END
$(story_settings UTC)
$(front_bay bay/front /at)
END

# The statements of one version, which are never edited once they are released.
schema_step() {
  sed -n "/ version_$1 = R\"sql(/,/^)sql\"/p" "$source_dir/daemon/store/schema.cpp" | sed '1d;$d'
}
row() { # row KIND MINUTE TOPIC PAYLOAD
  printf "INSERT INTO journal (kind, received_ms, topic, payload, qos, flags, boottime_ms, session)
    VALUES (%d, %d, '%s', CAST('%s' AS BLOB), %d, 0, %d, 1);\n" \
    "$1" $((1000 * (story_begins + 60 * $2))) "$3" "$4" $(($1 == 0)) $((60000 * $2))
}
readings() { # readings FROM TO: one in five minutes
  local minute
  for ((minute = $1; minute < $2; minute += 5)); do
    row 0 "$minute" bay/front "$(air_at "$minute")"
  done
}
salt='\x00\x01\x02\x03\x04\x05\x06\x07\x08\x09\x0a\x0b\x0c\x0d\x0e\x0f\x10\x11\x12\x13\x14\x15\x16\x17\x18\x19\x1a\x1b\x1c\x1d\x1e\x1f'
plate_sha256=$(printf '%bDEMO 9' "$salt" | sha256sum | cut -d ' ' -f 1)
# A day in a shop. The arrival is row 14; rows 15 and 16 are laid, 17 was refused by the program of its time.
story() { # story VERSION
  local plate=""
  if (($1 >= 2)); then
    plate=",\"plate_sha256\":\"$plate_sha256\""
  fi
  echo "INSERT INTO session VALUES (1, 'boot', $((1000 * story_begins)), '0.$1', 'synchronized');"
  row 2 0 "" "{\"version\":\"0.$1\",\"boot_id\":\"boot\",\"clock\":\"synchronized\"}"
  readings 0 60
  row 1 60 "" "{\"what\":\"vehicle-in\",\"at\":\"$(at_minute 60)\",\"reference\":\"lot-5\",\"bay\":\"front\"$plate}"
  row 1 70 "" "{\"what\":\"lay\",\"at\":\"$(at_minute 70)\",\"vehicle\":14,\"panel\":\"bonnet\",\"film\":\"baseline\",\"solution\":\"slip\"}"
  row 1 80 "" "{\"what\":\"lay\",\"at\":\"$(at_minute 80)\",\"vehicle\":14,\"panel\":\"mirror\",\"film\":\"baseline\",\"solution\":\"slip\"}"
  row 1 81 "" "{\"what\":\"lay\",\"at\":\"$(at_minute 81)\",\"vehicle\":14,\"panel\":\"headlamp\",\"film\":\"baseline\",\"solution\":\"slip\"}"
  readings 85 1400
  row 1 1400 "" "{\"what\":\"trimmed\",\"at\":\"$(at_minute 1399)\",\"piece\":15}"
  readings 1400 1500
  cat <<END
INSERT INTO series VALUES (1, 'front-air', 0, 'front'), (2, 'front-air', 1, 'front');
INSERT INTO reading SELECT 1, received_ms, seq, json_extract(CAST(payload AS TEXT), '$.temperature'), json_extract(CAST(payload AS TEXT), '$.temperature'), 0, 1
  FROM journal WHERE kind = 0;
INSERT INTO reading SELECT 2, received_ms, seq, json_extract(CAST(payload AS TEXT), '$.humidity'), json_extract(CAST(payload AS TEXT), '$.humidity'), 0, 1
  FROM journal WHERE kind = 0;
INSERT INTO reject VALUES (17, $(reject_number bad-event), 'the lamp is not on the vehicle (/panel)');
INSERT INTO milestone VALUES (15, 1, $((1000 * (story_begins + 60 * 1300))), 0.91);
INSERT INTO release VALUES (14, NULL);
INSERT INTO gap VALUES ('front', 1, 2, 'no readings');
UPDATE meta SET value = (SELECT max(seq) FROM journal) WHERE name = 'applied_seq';
END
  if (($1 >= 2)); then
    echo "INSERT INTO personal VALUES (14, 'plate', x'${salt//\\x/}', 'DEMO 9');"
  fi
}
old_journal() { # old_journal VERSION
  local step
  rm -rf "$database"* "$shop/seal" "$shop/keys"
  {
    echo "PRAGMA journal_mode = WAL; BEGIN;"
    for ((step = 1; step <= $1; ++step)); do
      schema_step "$step"
    done
    echo "PRAGMA application_id = $((0x64727963)); PRAGMA user_version = $1;"
    story "$1"
    echo "COMMIT;"
  } | sqlite3 -bail "$database" >/dev/null
}

dump() { # dump DATABASE: what must outlive the change of schema
  sqlite3 -readonly "$1" "SELECT seq, kind, received_ms, topic, hex(payload), qos, flags, boottime_ms, session, key FROM journal
      WHERE seq <= $last ORDER BY seq;
    SELECT sensor, quantity, bay, at_ms, seq, raw, value, verdict, flags FROM reading JOIN series ON id = series
      ORDER BY sensor, quantity, at_ms;
    SELECT * FROM reject ORDER BY seq;"
}
kept_copy() { # kept_copy VERSION
  local copy=$database.version-$1
  holds "schema $1: a copy is kept" test -f "$copy"
  equal "schema $1: it is sound" ok "$(sqlite3 -readonly "$copy" 'PRAGMA integrity_check')"
  equal "schema $1: and as old as it was" "$1" "$(sqlite3 -readonly "$copy" 'PRAGMA user_version')"
  dump "$copy" >"$shop/copy.txt"
  holds "schema $1: with all rows" cmp "$shop/before.txt" "$shop/copy.txt"
}
as_it_was() { # as_it_was WHAT: rows, settings and board of the running daemon
  dump "$database" >"$shop/after.txt"
  holds "$1: no row is lost or altered" cmp "$shop/before.txt" "$shop/after.txt"
  equal "$1: settings are told once, right after the old rows, assumed, and with what was refused" "$((last + 1))|1|17" \
    "$(sql "SELECT seq, json_extract(CAST(payload AS TEXT), '$.assumed'), json_extract(CAST(payload AS TEXT), '$.refused[0].row')
      FROM journal WHERE kind = 5")"
  equal "$1: the shop" "lot-5 in front: bonnet (trimmed $(at_minute 1399)), mirror (trimmed null)" \
    "$(client vehicle show 14 --json | node --print '
      const vehicle = JSON.parse(require("fs").readFileSync(0));
      const pieces = vehicle.pieces.map((piece) => piece.panel + " (trimmed " + piece.trimmed + ")");
      vehicle.reference + " in " + vehicle.bay + ": " + pieces.join(", ")')"
}
record_says() {
  client record 14 --out "$shop/record.pdf" >/dev/null
  pdftotext "$shop/record.pdf" - | tr -s '[:space:]' ' ' | grep -q "$1"
}

for version in 1 2; do
  old_journal "$version"
  last=$(sql "SELECT max(seq) FROM journal")
  dump "$database" >"$shop/before.txt"
  equal "the old journal's schema" "$version" "$(sql 'PRAGMA user_version')"

  check=$("$bin/dryclockd" --config "$shop/shop.toml" --config-dir "$source_dir/config" --check)
  holds "schema $version: a check says that it cannot look" grep -q "^what stands in the shop was not looked at: " <<<"$check"
  equal "schema $version: and leaves it as it is" "$version" "$(sql 'PRAGMA user_version')"
  start_daemon "$shop/shop.toml"
  kept_copy "$version"
  as_it_was "schema $version"
  holds "schema $version: the record says what is assumed" record_says "Settings before row $((last + 1)) are assumed"
  stop_daemon TERM
  start_daemon "$shop/shop.toml"
  as_it_was "schema $version, the second start"
  stop_daemon TERM

  old_journal "$version"
  "$bin/dryclockd" --config "$shop/shop.toml" --config-dir "$source_dir/config" --rebuild 2>>"$shop/rebuild.log"
  kept_copy "$version"
  start_daemon "$shop/shop.toml"
  as_it_was "schema $version, rebuilt"
  if ((version >= 2)); then
    equal "the plate is kept" "14|plate|DEMO 9" "$(sql 'SELECT vehicle, field, text FROM personal')"
  fi
  stop_daemon TERM
done
finish
