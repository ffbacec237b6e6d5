#!/usr/bin/env bash
# The folder of the private keys may be entered by others: the daemon starts all the same, raises an alert that says what
# to do, and seals as soon as the folder is put right.
#   seal_fails.sh BIN_FOLDER
# shellcheck source=shop.bash
source "$(dirname "${BASH_SOURCE[0]}")/shop.bash"
open_shop "$1"

keys=$shop/another-disk/keys
mkdir -p "$keys"
chmod 777 "$keys"
cat >"$shop/shop.toml" <<END
[site]
time_zone = "UTC"
$(store_and_ports)
[seal]
keys_folder = "$keys"
[[bay]]
name = "front"
[[sensor]]
name = "front-air"
bay = "front"
topic = "bay/front"
reads = [{ quantity = "air-temperature", unit = "C" }]
END
start_daemon "$shop/shop.toml"

alerted() {
  client alerts | grep -q 'seal-failing/seal'
}
wait_for "the alert" 20 alerted
client alerts >"$shop/alerts.txt"
holds "it says what is so" grep -q 'Nothing is sealed now' "$shop/alerts.txt"
holds "and what to do" grep -q 'same back-up as the database' "$shop/alerts.txt"
status=0
client status >"$shop/status.txt" || status=$?
holds "the health report names the seal" grep -qE '^ *seal +BAD' "$shop/status.txt"
holds "readings are taken all the same" client vehicle in job-1
holds "nothing is sealed" test ! -e "$shop/seal/checkpoints/00000001.sha256"

chmod 700 "$keys"
cleared() {
  ! alerted
}
wait_for "the next try, a minute later" 100 cleared
holds "a checkpoint is there" client verify "$shop/seal"
holds "the key lies where the settings say" test -n "$(find "$keys" -name '*.pem' -perm 600)"
holds "and nowhere else" test ! -e "$shop/keys"
client status >"$shop/status.txt"
holds "the seal is well again" grep -qE '^ *seal +ok .*checkpoint 1' "$shop/status.txt"
holds "log and seal are measured" grep -qE 'database [0-9.]+ MB, seal [0-9.]+ MB, [0-9.]+ [MG]B free' "$shop/status.txt"
stop_daemon TERM
finish
