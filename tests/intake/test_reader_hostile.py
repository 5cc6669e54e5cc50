"""Files meant to bring a program down, or that only look so: each is told by name, in little time and memory.

Each is read in a process of its own, under limits that end it where the reader's own do not hold.
"""

from __future__ import annotations

import json
import random
import subprocess
import sys
from typing import Any

import pytest

from kb.intake.rules import rules
from kb.intake.yaml.limits import MOST_DEPTH
from kb.intake.yaml.reader import MOST_BYTES, read
from tests.support.folders import FROZEN, ROOT
from tests.support.samples import tries

MEGABYTE = 1_000_000
MOST_SECONDS = 1.0
MOST_MEMORY = 300 * MEGABYTE

_CHILD = """
import json, resource, sys, time
resource.setrlimit(resource.RLIMIT_CPU, (10, 10))
resource.setrlimit(resource.RLIMIT_AS, (1 << 30, 1 << 30))
from kb.intake.yaml.reader import read
raw = sys.stdin.buffer.read()
began = time.process_time()
reading = read(raw)
took = time.process_time() - began
size = 0
def count(data):
    global size
    size += 1
    for inner in data.values() if isinstance(data, dict) else data if isinstance(data, list) else ():
        count(inner)
count(reading.data)
def most_memory():
    # of this program alone: what rusage tells is at least what the tests' own process held when it started this one
    try:
        with open("/proc/self/status") as status:
            return 1024 * next(int(line.split()[1]) for line in status if line.startswith("VmHWM"))
    except OSError:
        return 1024 * resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
json.dump({
    "took": took,
    "memory": most_memory(),
    "rules": sorted({fault.rule for fault in reading.faults}),
    "faults": len(reading.faults),
    "size": size,
}, sys.stdout)
"""


def bomb(levels: int) -> str:
    """Each line repeats the one above nine times: a few hundred bytes that mean 9 to the power of their number."""
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{level}: &a{level} [{', '.join([f'*a{level - 1}'] * 9)}]" for level in range(1, levels)]
    return "\n".join(lines)


HOSTILE: dict[str, tuple[str | bytes, str]] = {
    # nesting
    "flow lists": ("[" * 100_000, "nested-too-deep"),
    "flow lists, closed": ("a: " + "[" * 100_000 + "]" * 100_000, "nested-too-deep"),
    "flow lists, a megabyte": ("[" * MEGABYTE, "nested-too-deep"),
    "flow lists, a line each": ("a: " + "[\n" * 100_000, "nested-too-deep"),
    "flow mappings": ("{" * 100_000, "nested-too-deep"),
    "flow mappings with keys": ("{a: " * 100_000, "nested-too-deep"),
    "both in turn": ("a: " + "[{a: " * 100_000, "nested-too-deep"),
    "hyphens on one line": ("a:\n  " + "- " * 100_000 + "x", "nested-too-deep"),
    "question marks on one line": ("? " * 100_000, "nested-too-deep"),
    "hyphens and question marks": ("- ? " * 100_000, "nested-too-deep"),
    "keys, each further in": ("".join(" " * depth + "a:\n" for depth in range(1_400)), "nested-too-deep"),
    "entries, each further in": ("".join(" " * depth + "-\n" for depth in range(1_400)), "nested-too-deep"),
    "a few thousand brackets": ("a: " + "[" * 9_000, "nested-too-deep"),
    # aliases
    "alias bomb": (bomb(10), "alias"),
    "alias bomb, long": (bomb(5_000), "alias"),
    "alias of itself": ("a: &a [*a, *a]\n", "alias"),
    "alias of nothing": ("a: *nobody\nb: [*nobody, 1]\n", "alias"),
    "a megabyte of aliases": ("a: &a x\nb: [" + "*a," * 300_000 + "]", "alias"),
    "deep through aliases": (
        "a0: &a0 [x]\n" + "".join(f"a{level}: &a{level} [[[[[[*a{level - 1}]]]]]]\n" for level in range(1, 600)),
        "alias",
    ),
    "unused anchors": ("".join(f"k{number}: &a{number} x\n" for number in range(50_000)), "anchor"),
    "one anchor twice": ("a: &a 1\nb: &a 2\nc: *a\n", "anchor"),
    "a merge key of a merge key": ("a: &a {x: 1}\nb: &b {<<: *a}\nc: {<<: *b}\n", "merge-key"),
    "merge keys": ("a:\n" + "  <<: {x: 1}\n" * 900, "merge-key"),
    # tags and directives
    "python objects": ("a: !!python/object/apply:os.system [ls]\n", "tag"),
    "python objects, many": ("- !!python/object/new:os.system {}\n" * 25_000, "tag"),
    "a long tag": ("a: !" + "a" * 900_000, "tag"),
    "the shortest tag": ("a: ! x\n", "tag"),
    "tag handles": ("".join(f"%TAG !a{number}! tag:x\n" for number in range(40_000)) + "---\na: 1\n", "directive"),
    "tag handles of a second document": (
        "a: 1\n...\n" + "".join(f"%TAG !a{number}! tag:x\n" for number in range(40_000)) + "---\na: 1\n",
        "directive",
    ),
    "version": ("%YAML 9.9\n---\na: 1\n", "directive"),
    "documents": ("---\na: 1\n" * 90_000, "second-document"),
    # size
    "more than is read": (b"#" * (MOST_BYTES + 1), "file-too-large"),
    "far more than is read": (b"[" * 20 * MEGABYTE, "file-too-large"),
    "60,000 keys": ("".join(f"k{number}: {number}\n" for number in range(60_000)), "too-many-entries"),
    "60,000 keys in braces": ("a: {" + "".join(f"k{number}, " for number in range(60_000)) + "}", "too-many-entries"),
    "the same key over and over": ("a: 1\n" * 190_000, "too-many-entries"),
    "half a million entries": ("a: [" + "x," * 490_000 + "]", "too-many-entries"),
    "empty mappings": ("a: [" + "{}," * 300_000 + "]", "too-many-entries"),
    "entries without words": ("a:\n" + "-\n" * 490_000, "too-many-entries"),
    "a plain megabyte": ("a: " + "x" * (MEGABYTE - 10), "scalar-too-long"),
    "a quoted megabyte": ('a: "' + "x" * (MEGABYTE - 10) + '"', "scalar-too-long"),
    "a megabyte of escapes": ('a: "' + "\\x41" * 240_000 + '"', "scalar-too-long"),
    "a megabyte of lines": ("a: |\n" + " x\n" * 330_000, "scalar-too-long"),
    "a key of a megabyte": ("a" * (MEGABYTE - 10) + ": 1", "syntax"),
    "line ends": ("\n" * MEGABYTE, "empty-file"),
    "comments": ("#\n" * 490_000, "empty-file"),
    # bytes
    "NUL": (b"\0" * MEGABYTE, "control-character"),
    "NUL in words": (b"a: x\0y\n", "control-character"),
    "NUL in every other place": (b"a:\0 x\0\n" * 100_000, "control-character"),
    "separators": ("a: x\u2028\u2029\x85\n", "control-character"),
    "lone surrogates": (b"\xed\xa0\x80" * 330_000, "lone-surrogate"),
    "lone surrogates as escapes": ('a: "' + "\\ud800" * 160_000 + '"', "lone-surrogate"),
    "no UTF-8": (b"\xff" * MEGABYTE, "not-utf8"),
    "Latin-1": ("a: été\n".encode("latin-1") * 100, "not-utf8"),
    "random bytes": (random.Random(1).randbytes(MEGABYTE), "not-utf8"),
    "UTF-16": (("a: 1\n" * 50).encode("utf-16"), "wrong-encoding"),
    "UTF-16 without its mark": (("a: 1\n" * 90_000).encode("utf-16-be"), "wrong-encoding"),
    "UTF-32": (("a: 1\n" * 50).encode("utf-32"), "wrong-encoding"),
    "byte order mark": (b"\xef\xbb\xbfa: 1\n", "byte-order-mark"),
    "byte order marks": (b"\xef\xbb\xbf" * 300_000, "byte-order-mark"),
    "CRLF": (b"a: 1\r\n" * 3, "line-endings"),
    "carriage returns": (b"\r" * MEGABYTE, "line-endings"),
    "tabs": (b"a:\n\tb: 1\n", "tab-indent"),
    "tabs, many": (b"\ta: 1\n" * 150_000, "tab-indent"),
    "spaces that do not break": ("a: b" + "\xa0" * 490_000, "odd-space"),
    # syntax, over and over
    "colons in words": ("".join(f"k{number}: a: b\n" for number in range(60_000)), "colon-in-words"),
    "open brackets": ("".join(f"k{number}: [1\n" for number in range(60_000)), "bracket-not-paired"),
    "closing brackets": ("a: " + "]" * 900_000, "bracket-not-paired"),
    "open quotes": ('a: "x\n' * 150_001, "quote-not-closed"),
    "quotes": ('"' + 'a"' * 400_000, "text-after-quote"),
    "bad indentation": ("x:\n" + "  - a: 1\n   b: 2\n" * 50_000, "bad-indentation"),
    "a slip above many blank lines": ("a: b: c\n" + "\n" * 900_000, "colon-in-words"),
    "a slip below many comments": ("x: 1\n" + "#\n" * 450_000 + "a: b: c\n", "colon-in-words"),
    "a slip before many blanks": ("a: b: c" + " " * 900_000, "colon-in-words"),
    "ampersands": ("a: " + "&" * 900_000, "sign-needs-quotes"),
}


def read_apart(raw: bytes) -> dict[str, Any]:
    """What a process of its own made of it."""
    done = subprocess.run([sys.executable, "-c", _CHILD], input=raw, capture_output=True, check=False, cwd=ROOT)
    assert done.returncode == 0, (done.returncode, done.stderr[-500:])
    result: dict[str, Any] = json.loads(done.stdout)
    return result


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_file_is_told_by_name(name: str) -> None:
    text, rule = HOSTILE[name]
    raw = text.encode() if isinstance(text, str) else text
    found = read_apart(raw)
    assert rule in found["rules"]
    assert set(found["rules"]) <= set(rules())
    assert found["took"] < MOST_SECONDS
    assert found["memory"] < MOST_MEMORY
    assert found["faults"] < 150, "more than anyone would read"
    assert found["size"] < 30_000, "what comes after the reader is spared as well"


@pytest.mark.parametrize("name", [name for name, (text, _) in HOSTILE.items() if len(text) < 300])
def test_what_stands_beside_it_is_still_read(name: str) -> None:
    text, rule = HOSTILE[name]
    if isinstance(text, bytes) or "%" in text:
        return  # these concern the whole file
    reading = read(f"first: 1\n{text}{'' if text.endswith(chr(10)) else chr(10)}last: 2\n".encode())
    assert rule in {fault.rule for fault in reading.faults}
    assert (reading.data["first"], reading.data["last"]) == ("1", "2")


@pytest.mark.parametrize("opening", ["[", "{a: ", "- "])
def test_the_depth_that_is_read_ends_at_the_same_place_for_large_and_small_files(opening: str) -> None:
    closing = {"[": "]", "{a: ": "}", "- ": ""}[opening]
    before = "a:\n  " if opening == "- " else "a: "
    for padding in ("", "# a large file\n" * 1_000):
        for levels, deep in ((MOST_DEPTH - 1, False), (MOST_DEPTH, True), (MOST_DEPTH + 300, True)):
            text = before + opening * levels + "x" + closing * levels + "\n" + padding
            reading = read(text.encode())
            assert [fault.rule for fault in reading.faults] == ["nested-too-deep"] * deep
            if deep:
                column = len(before.split("\n")[-1]) + len(opening) * (MOST_DEPTH - 1) + 1
                place = reading.faults[0].place
                assert place is not None
                assert (place.line, place.column) == (before.count("\n") + 1, column)


def test_random_bytes_in_real_files_never_raise() -> None:
    chance = random.Random(7)
    files = [path.read_bytes() for path in sorted((FROZEN / "families").rglob("*.yaml"))]
    for _ in range(tries(60, 600)):
        raw = bytearray(chance.choice(files))
        for _ in range(chance.randrange(1, 6)):
            start = chance.randrange(len(raw))
            end = start + chance.choice([0, 0, 1, 1, 5, 60])
            raw[start:end] = chance.choice(
                [
                    chance.randbytes(chance.randrange(4)),
                    bytes(chance.choice(b"[]{},:-?#&*!|>'\"%@` \t\n\r\\") for _ in range(chance.randrange(4))),
                    raw[end : end + chance.randrange(80)],
                ]
            )
        reading = read(bytes(raw))
        assert isinstance(reading.text, str)
        for fault in reading.faults:
            assert fault.place is not None
            assert fault.place.line <= fault.place.end_line <= reading.text.count("\n") + 1
            assert (fault.place.line, fault.place.column) <= (fault.place.end_line, fault.place.end_column)
            assert fault.rule in rules()
            assert [slip.what and slip.do for slip in rules()[fault.rule].check(fault)]
        if reading.root is None:
            assert reading.faults
