#!/usr/bin/env bash
# A field that is added to a view, at one place of a copy, is in all four forms: the JSON that is written, what the
# client reads, the API's description, the page's types.
#   added_field.sh SOURCES PAGE_BUILD   (the compiler from CXX, node from NODE)
set -euo pipefail
sources=$1 page=$2
copy=$(mktemp -d)
trap 'rm -rf "$copy"' EXIT
cp -r "$sources/models" "$sources/daemon" "$copy"

python3 - "$copy/daemon/domain/view.hpp" <<'EDIT'
import sys
path = sys.argv[1]
text = open(path).read()
for old, new in (
    ("struct BaySummary {", "struct BaySummary {\n  std::optional<double> fog_pct;"),
    ('  f("as_of", s.as_of);\n  f("sensors", s.sensors);', '  f("as_of", s.as_of);\n  f("fog_pct", s.fog_pct, "made up");\n  f("sensors", s.sensors);'),
):
    assert text.count(old) == 1, old
    text = text.replace(old, new)
open(path, "w").write(text)
EDIT

cat >"$copy/main.cpp" <<'MAIN'
#include <cstdio>
#include <string_view>

#include "wire/answer_json.hpp"
#include "wire/schema.hpp"

int main(int count, char** arguments) {
  using namespace dryclock;
  if (count > 1) {
    std::printf(R"({"components":{"schemas":%s}})", wire::schemas().c_str());
    return 0;
  }
  Board board;
  board.bays.emplace_back();
  board.bays[0].fog_pct = 12.5;
  const auto text = wire::to_json(board);
  const auto back = wire::read_answer<Board>(text);
  std::printf("%s\n%g\n", text.c_str(), back ? back->bays[0].fog_pct.value_or(-1.0) : -2.0);
  static_cast<void>(arguments);
}
MAIN
${CXX:-c++} -std=c++20 -O0 -I "$copy" -I "$copy/daemon" "$copy"/main.cpp \
  "$copy"/daemon/wire/{answer_json,schema,json_writer}.cpp "$copy"/daemon/base/{time,utf8,wellformed}.cpp \
  -lboost_json -lfmt -o "$copy/forms"

failed=0
expect() { # NAME FOUND WANTED
  if [[ $2 == *"$3"* ]]; then
    echo "$1: $3"
  else
    echo "$1: '$3' is not in it" >&2
    failed=1
  fi
}
mapfile -t lines < <("$copy/forms")
expect "written" "${lines[0]}" '"fog_pct":12.5'
expect "read back" "${lines[1]}" 12.5
"$copy/forms" describe >"$copy/openapi.json"
expect "described" "$(python3 -c 'import json, sys
bay = json.load(open(sys.argv[1]))["components"]["schemas"]["Bay"]
print(json.dumps([bay["properties"]["fog_pct"], "fog_pct" in bay["required"]]))' "$copy/openapi.json")" \
  '[{"type": ["number", "null"], "description": "made up"}, true]'
(cd "$page" && "${NODE:-node}" api_types.mjs "$copy/openapi.json" "$copy/api_types.ts")
expect "typed" "$(<"$copy/api_types.ts")" 'fog_pct: (number | null)'
exit $failed
