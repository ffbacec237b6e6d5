#!/usr/bin/env bash
# The record of a vehicle that has left is the same, byte for byte: made twice, made after a restart by a daemon that
# lives in another time zone, another language and another folder, and made after later rows have been sealed. An outsider then
# follows VERIFY.txt to the letter, with nothing of ours on the path.
#   same_bytes.sh BIN_FOLDER
# shellcheck source=shop.bash
source "$(dirname "${BASH_SOURCE[0]}")/shop.bash"
open_shop "$1"
cat >"$shop/shop.toml" <<END
$(story_settings Europe/London)
$(front_bay bay/front /at)
END
start_daemon "$shop/shop.toml"
plays 0 60
client --at "2026-03-02 08:30" vehicle in job-1 --bay front --hand-over "2026-03-03 12:00" --plate "DEMO 1" >/dev/null
client --at "2026-03-02 08:45" lay bonnet -v job-1 --film baseline >/dev/null
plays 60 1500
client --at "2026-03-03 08:00" trim bonnet -v job-1 >/dev/null
client --at "2026-03-03 09:00" vehicle release job-1 --advised "no wash" >/dev/null
vehicle=$(sql "SELECT min(seq) FROM journal WHERE kind = 1")
plays 1500 1800

# exports FOLDER: each form of it, on both papers.
exports() {
  mkdir -p "$1"
  local paper form
  for paper in a4 letter; do
    for form in record receipt handover; do
      client "$form" "$vehicle" --paper "$paper" --out "$1/$form-$paper.pdf" >/dev/null
    done
    client record "$vehicle" --zip --paper "$paper" --out "$1/record-$paper.zip" >/dev/null
  done
}
# same FOLDER
same() {
  diff --recursive --brief "$shop/first" "$1"
}
exports "$shop/first"
for pdf in "$shop"/first/*.pdf; do
  holds "qpdf finds nothing wrong with ${pdf##*/}" qpdf --check "$pdf" >/dev/null
done
exports "$shop/twice"
holds "the same when made twice" same "$shop/twice"

stop_daemon TERM
language=$(locale -a | grep -viE '^(c|posix)' | head -n 1 || true)
export TZ=Pacific/Auckland LC_ALL=${language:-C.UTF-8} LANG=de_DE.UTF-8
start_daemon "$shop/shop.toml"
exports "$shop/again"
holds "the same after a restart in another time zone and language" same "$shop/again"
plays 1800 2400
stop_daemon KILL
start_daemon "$shop/shop.toml"
exports "$shop/later"
holds "the same after later rows, a kill and another checkpoint" same "$shop/later"

# ---- The outsider: the commands of VERIFY.txt as they stand, in a shell that finds no program of ours.
unzip -q "$shop/first/record-a4.zip" -d "$shop/out"
sealed=$(echo "$shop"/out/*/sealed)
awk '/^    /{ print substr($0, 5); inside = 1; next } inside { print "echo step"; inside = 0 }' "$sealed/VERIFY.txt" >"$shop/recipe.sh"
(cd "$sealed" && env --ignore-environment PATH=/usr/bin:/bin sh "$shop/recipe.sh") >"$shop/recipe.txt" 2>&1
anchor=$(pdftotext -raw "$shop/first/handover-a4.pdf" - | tr -d ' \n' | grep -oE 'SHA-256[0-9a-f]{64}' | head -n 1 | tail -c 65)
holds "the recipe's fifth step shows the number of the hand-over sheet" grep -q "^$anchor  checkpoints/" "$shop/recipe.txt"
checkpoints=$(find "$sealed/checkpoints" -name '*.sha256' | wc -l)
equal "and all other steps are silent, but for the count" "$checkpoints" \
  "$(grep -vE '^step$|  (keys|checkpoints)/' "$shop/recipe.txt")"
# One character of one reading, and the first step names the file.
segment=$(find "$sealed/segments" -name '*.ndjson' | sort | head -n 1)
sed -i '1s/[0-9]/x/' "$segment"
(cd "$sealed" && env --ignore-environment PATH=/usr/bin:/bin sh "$shop/recipe.sh") >"$shop/recipe.txt" 2>&1
holds "an altered row is named" grep -q "${segment#"$sealed/"}: FAILED" "$shop/recipe.txt"

stop_daemon TERM
finish
