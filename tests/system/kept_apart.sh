#!/usr/bin/env bash
# A customer leaves a vehicle and a receipt is printed; plate and name stand on the sheets, and in no message, log or
# sealed row. A copy of the seal with its end cut off is found out by the number on the receipt. Then plate and name are
# erased: no file has them any more, and the record still verifies.
#   kept_apart.sh BIN_FOLDER
# shellcheck source=shop.bash
source "$(dirname "${BASH_SOURCE[0]}")/shop.bash"
open_shop "$1"

cat >"$shop/shop.toml" <<END
[site]
name = "An invented shop"
time_zone = "Europe/London"
$(store_and_ports)
$(front_bay bay/front)
END
start_daemon "$shop/shop.toml"
wait_for "the checkpoint at the start" 20 test -e "$shop/seal/checkpoints/00000001.sha256"
mosquitto_sub -h 127.0.0.1 -p "$broker_port" -t '#' -v >"$shop/heard.txt" &

plate="DEMO 4711 X"
customer="Invented Customer, Nowhere"
client --note "bonnet and mirrors" vehicle in job-1 --plate "$plate" --customer "$customer" >"$shop/said.txt"
vehicle=$(grep -o '[0-9]*)$' "$shop/said.txt" | tr -d ')')
client vehicle show job-1 >"$shop/shown.txt"
holds "the client shows the plate" grep -qF "Plate: $plate" "$shop/shown.txt"
holds "the client shows the customer" grep -qF "Customer: $customer" "$shop/shown.txt"

# ---- The receipt: what the customer takes home.
client receipt job-1 --out "$shop/receipt.pdf" >/dev/null
pdftotext -layout "$shop/receipt.pdf" "$shop/receipt.txt"
for words in "$plate" "$customer" "bonnet and mirrors" "no time is agreed yet" "An invented shop"; do
  holds "the receipt says: $words" grep -qF "$words" "$shop/receipt.txt"
done
anchor=$(grep -A1 'Its SHA-256' "$shop/receipt.txt" | grep -oE '[0-9a-f]{64}' | head -n 1)
key=$(grep 'First key' "$shop/receipt.txt" | grep -oE '[0-9a-f]{64}')
holds "the anchor is a checkpoint's, by sha256sum" grep -q "^$anchor " <(sha256sum "$shop"/seal/checkpoints/*.sha256)
equal "the key's hash, by sha256sum" "$key" "$(sha256sum <"$shop/seal/keys/00000001.pem" | cut -c 1-64)"

client lay bonnet >/dev/null
client --at "$(date -u +%H:%M)" note "a later row" >/dev/null || client note "a later row" >/dev/null
client record job-1 --zip --out "$shop/record.zip" >/dev/null
unzip -q "$shop/record.zip" -d "$shop/record"
inside=$(echo "$shop"/record/*)
holds "the record verifies against the receipt" client verify "$inside/sealed" --anchor "$anchor" --key "$key"
client handover job-1 --out "$shop/handover.pdf" >/dev/null
pdftotext -layout "$shop/handover.pdf" "$shop/handover.txt"
holds "the hand-over sheet has a later checkpoint's hash" grep -qE '[0-9a-f]{64}' "$shop/handover.txt"
holds "the hand-over sheet has the plate" grep -qF "$plate" "$shop/handover.txt"

# ---- One that was entered wrongly, and is taken back: its plate goes with it.
wrong_plate="DEMO 0815 Y"
client vehicle in job-wrong --plate "$wrong_plate" >"$shop/wrong.txt"
wrong=$(grep -o '[0-9]*)$' "$shop/wrong.txt" | tr -d ')')
client undo "$wrong" >/dev/null
not_kept() {
  [[ -z $(grep -laF -e "$wrong_plate" "$database" "$database"-* "$shop/dryclockd.log" "$shop/heard.txt" || true) ]]
}
wait_for "the plate of an arrival that was taken back to be gone" 20 not_kept
holds "others keep theirs" grep -qF "Plate: $plate" <(client vehicle show job-1)

# ---- The commitment, by coreutils: README.txt's recipe.
(cd "$inside" && sha256sum personal/* && grep -o '[a-z]*_sha256[^,}]*' events.ndjson) >"$shop/recipe.txt"
for field in plate customer; do
  hash=$(grep "personal/$field" "$shop/recipe.txt" | cut -c 1-64)
  holds "the event's $field is the one in the folder" grep -q "${field}_sha256\":\"$hash\"" "$shop/recipe.txt"
done
equal "the plate can be read" "$plate" "$(tail -c +33 "$inside/personal/plate")"
holds "the sealed rows do not have it" test -z "$(grep -rlF "$plate" "$inside/sealed" "$shop/seal" || true)"

# ---- A copy cut before the receipt's checkpoint.
cp -r "$shop/seal" "$shop/cut"
number=$(sha256sum "$shop"/cut/checkpoints/*.sha256 | sed -nE "s|^$anchor .*/([0-9]{8})\\.sha256\$|\\1|p")
for list in "$shop"/cut/checkpoints/*.sha256; do
  this=$(basename "$list" .sha256)
  if ((10#$this >= 10#$number)); then
    find "$shop/cut" -name "*$this*" -type f ! -path '*/keys/*' -delete
  fi
done
if ((10#$number > 1)); then
  holds "the cut copy is whole in itself" client verify "$shop/cut"
  status=0
  client verify "$shop/cut" --anchor "$anchor" >"$shop/cut.txt" 2>&1 || status=$?
  equal "exit code for a cut tail" 1 "$status"
  holds "the cut tail is named" grep -q "the end has been cut off" "$shop/cut.txt"
else
  echo "FAILED: the receipt's checkpoint is the first: nothing was cut"
  failures=$((failures + 1))
fi

# ---- Erased.
status=0
echo no | client forget job-1 >"$shop/kept.txt" || status=$?
equal "exit code where the answer is no" 1 "$status"
holds "and they are kept" grep -qF "Plate: $plate" <(client vehicle show job-1)
echo yes | client forget job-1 >"$shop/forgot.txt" 2>&1
holds "what stays is said" grep -q "Printed sheets, saved records and back-ups keep what they have" "$shop/forgot.txt"
holds "there is nothing to show" test -z "$(client vehicle show job-1 | grep -E 'Plate:|Customer:' || true)"
status=0
client forget "$vehicle" --yes >/dev/null 2>&1 || status=$?
equal "exit code where nothing is kept" 1 "$status"

gone() {
  [[ -z $(grep -laF -e "$plate" -e "$customer" "$database" "$database"-* "$shop/dryclockd.log" "$shop/heard.txt" || true) ]] &&
    [[ -z $(grep -rlaF -e "$plate" -e "$customer" "$shop/seal" || true) ]]
}
wait_for "the bytes to be gone from database, log, seal and messages" 20 gone
client record "$vehicle" --zip --out "$shop/after.zip" >/dev/null
unzip -q "$shop/after.zip" -d "$shop/after"
after=$(echo "$shop"/after/*)
holds "the record still verifies" client verify "$after/sealed" --anchor "$anchor" --key "$key"
holds "and has no personal part" test ! -e "$after/personal"
pdftotext -layout "$after/record.pdf" "$shop/after.txt"
holds "the record tells when they were erased" grep -q "Plate, customer *erased on" "$shop/after.txt"
holds "the journal still has the commitments" grep -q plate_sha256 "$after/events.ndjson"

stop_daemon TERM
holds "nor are they back after a stop" gone
start_daemon "$shop/shop.toml"
holds "and a start" gone
stop_daemon TERM
finish
