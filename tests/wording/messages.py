#!/usr/bin/env python3
"""messages.py SOURCES: each message that the daemon's code names is in the catalogue, and each one of the catalogue is
named: in full, or by its beginning ("words.zone-"). What the page alone says is the page tests' business."""
import json
import pathlib
import re
import sys

daemon = pathlib.Path(sys.argv[1]) / "daemon"
catalogue = {
    f"{file.stem}.{name}"
    for file in (daemon / "wording/messages").glob("*.json")
    for name in json.loads(file.read_text())
}
files = {key.split(".")[0] for key in catalogue}
comment = re.compile(r"//[^\n]*|^#include[^\n]*", re.MULTILINE)
literal = re.compile(r'["\']((?:%s)\.(?!(?:csv|json|pdf|txt|zip)")[a-z0-9-]*)["\']' % "|".join(sorted(files, key=len, reverse=True)))


def judge(text, known):
    """What `text` names and `known` has not, and what of the files that it names is not named."""
    named = set(literal.findall(comment.sub("", text)))
    beginnings = {one for one in named if one.endswith(("-", "."))}
    missing = {one for one in named - beginnings if one not in known}
    missing |= {one for one in beginnings if not any(key.startswith(one) for key in known)}
    ours = {one.split(".")[0] for one in named}
    idle = {
        key
        for key in known
        if key.split(".")[0] in ours and key not in named and not any(key.startswith(one) for one in beginnings)
    }
    return missing, idle


# Planted mistakes are found.
some = next(key for key in sorted(catalogue) if key.startswith("limits."))
assert judge('"limits.nowhere" "limits.also-nowhere-"', catalogue)[0] == {"limits.nowhere", "limits.also-nowhere-"}
assert some in judge('"limits.nowhere"', catalogue)[1]
assert judge(f'"{some}" // "limits.nowhere"', catalogue)[0] == set()

sources = [path for end in ("cpp", "hpp") for path in daemon.rglob(f"*.{end}")]
page = [path for end in ("ts", "tsx") for path in (daemon / "page/src").rglob(f"*.{end}")]
missing, idle = judge("\n".join(path.read_text() for path in sources), catalogue)
spoken = "\n".join(path.read_text() for path in page)
idle = {key for key in idle if not re.search(r'["`]%s["`]' % re.escape(key), spoken)
        and not any(key.startswith(one) for one in re.findall(r"`([a-z-]+\.[\w-]*)\$\{", spoken))}
for key in sorted(missing):
    print(f"{key}: named by the code, and not in the catalogue")
for key in sorted(idle):
    print(f"{key}: in the catalogue, and named by nothing")
print(f"{len(catalogue)} messages, {len(missing)} missing, {len(idle)} idle")
sys.exit(1 if missing or idle else 0)
