#!/usr/bin/env python3
"""Moves the constants of the models and of the rules one by one by a fifth, and tells which test fails.

A constant is a number in models/, daemon/engine/ or daemon/domain/setup.hpp: every one that has a name of its own
(constexpr, a member's or an argument's default), and in other code those that are not 0, 1, 2 or 0.5. Sizes of arrays,
enumerators, static_assert and powers of ten beside * or / (units) are passed over. A whole number moves by at least 1.

In one build of a copy of the sources each is a variable, which DRYCLOCK_MOVED=NUMBER moves as a test program starts.
Where the compiler needs the number itself, the copy is edited and rebuilt. Test cases that take long run last. The suite
`regression` holds nothing: its numbers are our own. Numbers that no test needs to hold stand in let_go.txt.
"""
import argparse
import concurrent.futures
import dataclasses
import json
import os
import pathlib
import re
import resource
import shutil
import subprocess
import sys

HERE = pathlib.Path(__file__).resolve().parent
TOP = HERE.parent.parent
PLACES = ("models/*.[ch]pp", "daemon/engine/*.[ch]pp", "daemon/domain/setup.hpp")
PROGRAMS = {"models": ("test_models", "test_nights", "test_engine"), "daemon": ("test_engine", "test_nights")}
SECONDS = 90  # of the processor that a test program may take

NUMBER = re.compile(r"(?<![\w.])(0x[\da-fA-F.]+(?:p[+-]?\d+)?|\d[\d']*(?:\.[\d']*)?(?:e[+-]?\d+)?)(\w*)")
HIDDEN = re.compile(r'//[^\n]*|/\*.*?\*/|"(?:\\.|[^"\\\n])*"|(?<![0-9a-fA-F])\'(?:\\.|[^\'\\\n])\'|^[ \t]*#[^\n]*'
                    r"|\benum\b[^;{]*\{[^}]*\}|\bstatic_assert\b[^;]*;", re.S | re.M)
NAMED = re.compile(r"\bconstexpr\b[^;()]*$|\b(?:double|int|Millis|std::size_t|std::uint\w+|[A-Z]\w+)\s+"
                   r"(?:\w+\s*=[^;()]*,\s*)*\w+\s*(?:=\s*|\{)-?(?:[\w:]+\{)?$")
HEADER = """#pragma once
#include <cstdlib>
#include <type_traits>
inline const int number_to_move = std::getenv("DRYCLOCK_MOVED") ? std::atoi(std::getenv("DRYCLOCK_MOVED")) : -1;
template <class T> T may_move(int number, T value) {
  if (number != number_to_move) return value;
  if constexpr (std::is_floating_point_v<T>) return value * 1.2;
  else return value / 5 > T{1} ? value + value / 5 : value + T{1};
}
"""


@dataclasses.dataclass
class Constant:
    file: str
    line: int
    start: int  # in the file's text
    text: str
    around: str  # the line it stands in

    def key(self):
        return f"{self.file}: {self.around}"


def value_of(digits):
    return float.fromhex(digits) if digits.startswith("0x") else float(digits.replace("'", ""))


def constants_of(file, text):
    """The constants of one source, in order."""
    seen = HIDDEN.sub(lambda m: re.sub(r"[^\n]", " ", m[0]), text)
    found = []
    for match in NUMBER.finditer(seen):
        before, after = seen[:match.start()], seen[match.end():]
        statement = re.split(r"[;}]|\{\n|\)\s*\{|\(", before)[-1]
        value = value_of(match[1])
        named = (NAMED.search(statement) and re.match(r"\s*[;,})]", after) and
                 (file.endswith(".hpp") or "constexpr" in statement) and not re.search(r"\bfor\s*\([^;]*$", before))
        unit = re.fullmatch(r"0*\.?0*10*\.?0*(?:e[+-]?\d+)?", match[1].replace("'", "")) and (
            re.search(r"[*/]\s*$", before) or re.match(r"\s*[*/]", after))
        size = (re.search(r"\[\s*$|[<,]\s*$", before) and re.match(r"\s*(?:\]|>[^=])", after)
                or re.search(r"\bcase\s+$", before))
        if value == 0.0 or size or (not named and (value in (1.0, 2.0, 0.5) or unit)):
            continue
        line = text.count("\n", 0, match.start()) + 1
        found.append(Constant(file, line, match.start(), match[0], text.splitlines()[line - 1].strip()))
    return found


def all_constants(top):
    return [c for place in PLACES for path in sorted(top.glob(place))
            for c in constants_of(str(path.relative_to(top)), path.read_text())]


def let_go(path):
    """(file, text of the line or part of it, constant) -> reason; lines `file | part of the line | constant | reason`."""
    entries = {}
    for line in path.read_text().splitlines():
        if line and not line.startswith("#"):
            file, part, constant, reason = (piece.strip() for piece in line.split(" | "))
            entries[file, part, constant] = reason
    return entries


def covers(entry, constant):
    file, part, text = entry
    return constant.file == file and part in constant.around and text in ("*", constant.text)


def moved_text(text):
    digits, suffix = NUMBER.match(text).groups()
    if digits.startswith("0x") or "." in digits or "e" in digits:
        return repr(value_of(digits) * 1.2) + suffix
    whole = int(digits.replace("'", ""))
    return str(whole + max(1, whole // 5)) + suffix


class Build:
    """A copy of the sources and its build."""

    def __init__(self, folder, programs, options):
        self.folder, self.programs, self.jobs, self.quick_only = folder, programs, options.jobs, options.quick
        self.slow = {}  # program -> its slow cases
        self.environment = {"DRYCLOCK_REFERENCE": str(TOP.parent / "shared/reference"), **os.environ}
        with_constants = {path for place in PLACES for path in TOP.glob(place)}
        for path in [TOP / "CMakeLists.txt", *(p for name in (".cmake", "models", "daemon", "deploy", "tests", "config")
                                               for p in (TOP / name).rglob("*"))]:
            copy = folder / "source" / path.relative_to(TOP)
            if path.is_file() and path not in with_constants and "node_modules" not in path.parts and (
                    not copy.exists() or copy.read_bytes() != path.read_bytes()):
                copy.parent.mkdir(parents=True, exist_ok=True)
                shutil.copy2(path, copy)

    def configure(self):
        folder = self.folder
        subprocess.run(["cmake", "-S", folder / "source", "-B", folder / "build", "-G", "Ninja", "-DDRYCLOCK_WERROR=OFF",
                        "-DCMAKE_BUILD_TYPE=Release",
                        f"-DCMAKE_CXX_FLAGS_RELEASE=-O1 -w -include {folder}/moved.hpp",
                        # What was a constant is set as the program starts: before a test's own first values ask for it.
                        "-DCMAKE_CXX_ARCHIVE_FINISH=objcopy --rename-section .init_array=.init_array.200 <TARGET>"],
                       check=True, stdout=subprocess.DEVNULL)

    def declare(self, constants):
        write(self.folder / "moved.hpp", HEADER + "".join(
            f"inline const auto moved_{n} = may_move({n}, {c.text});\n" for n, c in constants.items()))

    def make(self):
        done = subprocess.run(["ninja", "-C", self.folder / "build", f"-j{self.jobs}", "-k0", *self.programs],
                              capture_output=True, text=True)
        return done.returncode == 0, done.stdout + done.stderr

    def source(self, file):
        return self.folder / "source" / file

    def run(self, constant, number):
        """What fails first, or nothing: the cases of the file's own test, the quick ones of all programs, the slow ones."""
        place, stem = constant.file.split("/")[0], pathlib.Path(constant.file).stem
        programs = PROGRAMS[place]
        without = {p: [f"-tce={self.slow[p]}"] if self.slow[p] else [] for p in programs}
        tries = [(programs[0], without[programs[0]] + [f"-sf=*/test_{stem}*,*/test_published*,*/test_rule_values*"])]
        tries += [(p, without[p]) for p in programs]
        tries += [(p, [f"-tc={self.slow[p]}"]) for p in programs if self.slow[p] and not self.quick_only]
        return next(filter(None, (self.first_failure(p, number, cases) for p, cases in tries)), None)

    def time_cases(self):
        """All must pass with nothing moved; learns which cases take a fiftieth of their program's time or more."""
        known = self.folder / "slow.json"
        learnt = json.loads(known.read_text()) if known.exists() else {}
        for program in self.programs:
            path = self.folder / "build/bin" / program
            built = path.stat().st_mtime
            if learnt.get(program, [0])[0] != built:
                done = subprocess.run([path, "-nc", "-d", "-tse=regression"], capture_output=True, text=True,
                                      errors="replace", env=self.environment)
                if done.returncode != 0:
                    sys.exit(f"fails with nothing moved: {done.stdout}")
                took = [(float(t), name) for t, name in re.findall(r"^([\d.]+) s: (.*)$", done.stdout, re.M)]
                least = sum(t for t, _ in took) / 50
                # A comma would end the name.
                learnt[program] = [built, ",".join(name.replace(",", "?") for t, name in took if t >= least)]
                known.write_text(json.dumps(learnt))
            self.slow[program] = learnt[program][1]

    def first_failure(self, program, number, cases):
        done = subprocess.run([self.folder / "build/bin" / program, "-aa=1", "-nc", "-tse=regression", *cases],
                              capture_output=True, text=True, errors="replace",
                              preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS + 5)),
                              env={**self.environment, "DRYCLOCK_MOVED": str(number)})
        if done.returncode == 0:
            return None
        named = re.findall(r"^TEST CASE:\s*(.*)$", done.stdout.split("ERROR:")[0], re.M)
        return f"{program}: {named[-1] if named else 'it ends with ' + str(done.returncode)}"


def write(path, text):
    path.parent.mkdir(parents=True, exist_ok=True)
    if not path.exists() or path.read_text() != text:
        path.write_text(text)


def with_switches(text, constants):
    """The source with these constants as variables of moved.hpp; lines stay where they are."""
    for number, constant in sorted(constants.items(), key=lambda item: -item[1].start):
        end = constant.start + len(constant.text)
        text = text[:constant.start] + f"::moved_{number}" + text[end:]
        before = re.split(r"(?<=[;}])|\{\n", text[:constant.start])[-1]
        keyword = re.search(r"\bconstexpr\b(?![^;]*\)\s*(?:const\s*)?\{)", before)
        if keyword:
            at = constant.start - len(before) + keyword.start()
            text = text[:at] + "const    " + text[at + 9:]
    return text


def switchable(build, constants):
    """Puts variables into the copy and builds it; the numbers of those that compile so."""
    known = build.folder / "refused.txt"  # so that the next run need not find them out again
    refused = set(known.read_text().split("\n")) if known.exists() else set()
    ours = {n: c for n, c in enumerate(constants) if c.key() not in refused}
    build.declare(dict(enumerate(constants)))
    while True:
        for path in (path for place in PLACES for path in TOP.glob(place)):
            file = str(path.relative_to(TOP))
            here = {n: c for n, c in ours.items() if c.file == file}
            write(build.source(file), with_switches(path.read_text(), here))
        build.configure()
        good, told = build.make()
        if good:
            return set(ours)
        wrong = {(m[1], int(m[2])) for m in re.finditer(r"source/(\S+?):(\d+):\d+: (?:error|note)", told)}
        found = {n for n, c in ours.items() if (c.file, c.line) in wrong}
        if not found:
            sys.exit(told)
        print(f"{len(found)} need a build of their own", file=sys.stderr)
        known.write_text("\n".join(refused := refused | {ours.pop(n).key() for n in found}))


def rebuilt(build, constant):
    """The constant is moved in the copy's own text."""
    path = build.source(constant.file)
    kept = path.read_text()
    lines = kept.split("\n")
    line = lines[constant.line - 1]  # as it is in the source: a line is refused as a whole
    at = constant.start - (TOP / constant.file).read_text().rfind("\n", 0, constant.start) - 1
    lines[constant.line - 1] = line[:at] + moved_text(constant.text) + line[at + len(constant.text):]
    path.write_text("\n".join(lines))
    try:
        return build.run(constant, -1) if build.make()[0] else "the compiler"
    finally:
        path.write_text(kept)


def tell(constant, verdict):
    held = f"held by: {verdict}" if verdict else "SURVIVES"
    print(f"{constant.file}:{constant.line}: {constant.text}  [{constant.around[:70]}]  {held}", flush=True)


def try_all(every, constants, options):
    """Those that survive of `constants`."""
    programs = sorted({p for c in constants for p in PROGRAMS[c.file.split("/")[0]]})
    build = Build(pathlib.Path(options.scratch).resolve(), programs, options)
    by_switch = switchable(build, every)
    print(f"{len(by_switch)} by one build", file=sys.stderr)
    build.time_cases()
    survivors = []
    wanted = {n: c for n, c in enumerate(every) if c in constants}
    numbers = [n for n in wanted if n in by_switch]
    with concurrent.futures.ThreadPoolExecutor(options.jobs) as pool:
        for number, verdict in zip(numbers, pool.map(lambda n: build.run(wanted[n], n), numbers)):
            tell(wanted[number], verdict)
            survivors += [] if verdict else [wanted[number]]
    for number in set(wanted) - by_switch:
        verdict = rebuilt(build, wanted[number])
        tell(wanted[number], verdict)
        survivors += [] if verdict else [wanted[number]]
    return survivors


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--only", default="", metavar="REGEX", help="of file:line: text of the line")
    parser.add_argument("--list", action="store_true", help="lists them, tries none")
    parser.add_argument("--all", action="store_true", help="also those of let_go.txt")
    parser.add_argument("--quick", action="store_true", help="leaves out test cases that take long")
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--scratch", default=TOP / "build/constants", help="folder of the copy and its build")
    options = parser.parse_args()

    every = all_constants(TOP)
    chosen = [c for c in every if re.search(options.only, f"{c.file}:{c.line}: {c.around}")]
    entries = let_go(HERE / "let_go.txt")
    loose = [c for c in chosen if any(covers(entry, c) for entry in entries)]
    tried = chosen if options.all else [c for c in chosen if c not in loose]
    if options.list:
        for c in chosen:
            print(f"{c.file}:{c.line}: {c.text}  [{c.around}]{'  let go' if c in loose else ''}")
    survivors = [] if options.list or not tried else try_all(every, tried, options)
    for constant in survivors:
        tell(constant, None)
    print(f"{len(chosen)} constants, {len(loose)} let go, {0 if options.list else len(tried)} tried, "
          f"{len(survivors)} survive")
    return 1 if survivors else 0


if __name__ == "__main__":
    sys.exit(main())
