#!/usr/bin/env bash
# Every shell script passes shellcheck.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
git grep -lzE '^#!.*\bbash$' | xargs -0 shellcheck --external-sources --source-path=SCRIPTDIR
