#!/usr/bin/env bash
# Every C++ source is formatted as .clang-format says. `clang-format -i` mends it.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
git ls-files -z '*.cpp' '*.hpp' | xargs -0 clang-format --dry-run -Werror
