#!/usr/bin/env python3
"""messages.py SOURCES: each message that the code of daemon or page names is in the catalogue, and each one of the
catalogue is named there: in full, or by its beginning ("words.zone-")."""
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
files = "|".join(sorted({key.split(".")[0] for key in catalogue}, key=len, reverse=True))
comment = re.compile(r"//[^\n]*|^#include[^\n]*", re.MULTILINE)
# "sensors.csv" is a file's name and no message.
file_name = re.compile(r"\.(?:csv|json|pdf|txt|zip|ts|tsx|js|css)$")
in_code = re.compile(r"""["']((?:%s)\.[a-z0-9_-]*)["']""" % files)
# "board.waits", `words.zone-${kind}`, and in the page's frame {{de page.about}}.
in_page = re.compile(r'(?:["`]|\{\{\w+ )((?:%s)\.[\w-]+)(["`]|\}\}|\$\{)' % files)


def named_by(code, page):
    """The keys, and the beginnings of keys, that the daemon's code and the page's name."""
    all_of_code = set(in_code.findall(comment.sub("", code)))
    beginnings = {one for one in all_of_code if one.endswith(("-", "."))}
    keys = all_of_code - beginnings
    for one, end in in_page.findall(comment.sub("", page)):
        (beginnings if end == "${" else keys).add(one)
    return {one for one in keys if not file_name.search(one)}, beginnings


def judge(code, page, known):
    """What is named and `known` has not, and what of `known` is not named."""
    keys, beginnings = named_by(code, page)
    missing = (keys - known) | {one for one in beginnings if not any(key.startswith(one) for key in known)}
    return missing, {key for key in known - keys if not any(key.startswith(one) for one in beginnings)}


# Planted mistakes are found.
some = {"limits.wet", "sensors.none", "words.zone-edge"}
assert judge('"limits.nowhere" "limits.also-nowhere-"', "", some)[0] == {"limits.nowhere", "limits.also-nowhere-"}
assert judge("", 'say("board.nowhere"); say(`board.no-${way}`)', some)[0] == {"board.nowhere", "board.no-"}
assert judge('"limits.wet" // "limits.nowhere"', "", some) == (set(), {"sensors.none", "words.zone-edge"})
assert judge('"sensors.csv"', "", some) == (set(), some)
assert judge('"words.zone-"', 'say("sensors.none")', some) == (set(), {"limits.wet"})
assert judge("", '"{{en sensors.none}}" `${words.zone}`', some) == (set(), {"limits.wet", "words.zone-edge"})
assert judge("", "say(`words.zone-${kind}`) // say(\"sensors.none\")", some)[1] == {"limits.wet", "sensors.none"}


def text_of(folder, *ends):
    return "\n".join(path.read_text() for end in ends for path in sorted(folder.rglob(f"*.{end}")))


missing, idle = judge(
    text_of(daemon, "cpp", "hpp"), text_of(daemon / "page/src", "ts", "tsx", "html"), catalogue
)
for key in sorted(missing):
    print(f"{key}: named by the code, and not in the catalogue")
for key in sorted(idle):
    print(f"{key}: in the catalogue, and named by nothing")
print(f"{len(catalogue)} messages, {len(missing)} missing, {len(idle)} idle")
sys.exit(1 if missing or idle else 0)
