#!/usr/bin/env bash
# One walk through the page in a browser, on the daemon and the broker as they run in a shop: a vehicle from its arrival to
# its recheck two weeks later, by a moved clock.
#   page_walk.sh BIN_FOLDER CHROMIUM
# shellcheck source=shop.bash
source "$(dirname "${BASH_SOURCE[0]}")/shop.bash"
if [[ -z ${2:-} ]]; then
  echo "skipped: chromium is not installed"
  exit 77
fi
open_shop "$1"
{
  printf '[site]\nname = "An invented shop"\ntime_zone = "Europe/London"\n'
  store_and_ports
  front_bay bay/front
} >"$shop/shop.toml"
set_clock 0 0 1
by_clock start_daemon "$shop/shop.toml"
# Where the page's tests have their packages.
cd "$1/../tests/page"
holds "the walk comes to its end" env SHOP_URL="$DRYCLOCK_URL" CLOCK="$shop/clock" BROKER_PORT="$broker_port" CHROMIUM="$2" \
  node --test --test-reporter=spec walk.mjs
stop_daemon TERM
finish
