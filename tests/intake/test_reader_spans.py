"""The reported span is the offending text: in made-up documents of every style, and in real ones with slips planted."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from dataclasses import dataclass, field

import pytest

from kb.finding import Part, Path, Place
from kb.intake.yaml.reader import ReadText, read
from tests.support.folders import FROZEN
from tests.support.samples import tries

WORDS = ["a", "slow", "idle", "ümlaut", "日本", "🛥", "two words", "x-y", "5°", "e\u0301", "🛥🛥 kiel"]
FAMILIES = sorted((FROZEN / "families").rglob("*.yaml"))


@dataclass
class Writer:
    """Writes a random document and keeps where each key and value was put."""

    chance: random.Random
    text: str = ""
    spans: list[tuple[Path, Part, int, int]] = field(default_factory=list)
    count: int = 0

    def put(self, text: str) -> tuple[int, int]:
        start = len(self.text)
        self.text += text
        return start, len(self.text)

    def word(self) -> str:
        self.count += 1
        return f"{self.chance.choice(WORDS)}{self.count}"

    def keep(self, path: Path, part: Part, span: tuple[int, int]) -> int:
        self.spans.append((path, part, *span))
        return span[1]

    def key(self, path: Path) -> Path:
        name = self.word()
        quote = self.chance.choice(["", "", "'", '"'])
        path = (*path, name)
        self.keep(path, Part.KEY, self.put(f"{quote}{name}{quote}"))
        self.put(self.chance.choice(["", "", " "]) if self.chance.random() < 0.1 else "")
        return path

    def scalar(self, path: Path) -> int:
        quote = self.chance.choice(["", "", "'", '"'])
        return self.keep(path, Part.VALUE, self.put(f"{quote}{self.word()}{quote}"))

    def flow(self, path: Path, depth: int) -> int:
        kind = self.chance.choice(["scalar", "list", "mapping"]) if depth else "scalar"
        if kind == "scalar":
            return self.scalar(path)
        start, _ = self.put("[" if kind == "list" else "{")
        for number in range(self.chance.randrange(4)):
            self.put((", " if number else "") + self.chance.choice(["", " "]))
            if kind == "list":
                self.flow((*path, number), depth - 1)
            else:
                self.pair_in_flow(path, depth)
        _, end = self.put(self.chance.choice(["", " "]) + ("]" if kind == "list" else "}"))
        return self.keep(path, Part.VALUE, (start, end))

    def pair_in_flow(self, path: Path, depth: int) -> None:
        inner = self.key(path)
        _, behind = self.put(":")
        if self.chance.random() < 0.2:
            self.keep(inner, Part.VALUE, (behind, behind))
            self.put(" ")
        else:
            self.put(" ")
            self.flow(inner, depth - 1)

    def line_end(self) -> None:
        self.put(self.chance.choice(["", "", "  # 日本: 'x", " "]) + "\n")
        while self.chance.random() < 0.2:
            self.put(self.chance.choice(["\n", "   \n", "# a comment\n"]))

    def value(self, path: Path, indent: int, depth: int, behind: int) -> int:
        """A value behind a colon or a hyphen that ends at ``behind``."""
        kinds = ["empty", "flow", "flow", "scalar", "words"] + (["block"] * 4 if depth else [])
        kind = self.chance.choice(kinds)
        if kind == "block":
            self.line_end()
            return self.block(path, indent + self.chance.choice([1, 2, 4]), depth - 1)
        if kind == "empty":
            self.keep(path, Part.VALUE, (behind, behind))
            self.line_end()
            return behind
        self.put(" " * self.chance.choice([1, 1, 3]))
        if kind == "words":
            start, _ = self.put(self.chance.choice(["|", ">-", "|+"]))
            lines = [" " * (indent + 3) + self.word() for _ in range(self.chance.randrange(1, 4))]
            self.put("\n" + "\n".join(lines))
            end = self.keep(path, Part.VALUE, (start, len(self.text)))
            self.put("\n" * self.chance.choice([1, 2]))
            return end
        end = self.flow(path, 2) if kind == "flow" else self.scalar(path)
        self.line_end()
        return end

    def block(self, path: Path, indent: int, depth: int) -> int:
        start, end = len(self.text) + indent, 0
        is_list = bool(path) and self.chance.random() < 0.4
        for number in range(self.chance.randrange(1, 4)):
            self.put(" " * indent)
            if is_list:
                _, behind = self.put("-")
                end = self.value((*path, number), indent, depth, behind)
            else:
                inner = self.key(path)
                _, behind = self.put(":")
                end = self.value(inner, indent, depth, behind)
        return self.keep(path, Part.VALUE, (start, end))


def place(text: str, start: int, end: int) -> Place:
    points = []
    for index in (start, end):
        line_start = text.rfind("\n", 0, index) + 1
        points += [text.count("\n", 0, index) + 1, index - line_start + 1]
    return Place(*points)


@pytest.mark.parametrize("seed", range(20))
def test_every_key_and_value_of_made_up_documents(seed: int) -> None:
    chance = random.Random(seed)
    for _ in range(50):
        writer = Writer(chance)
        writer.put(chance.choice(["", "# 🛥 a comment\n", "\n"]))
        writer.block((), 0, 4)
        reading = read(writer.text.encode())
        assert not [fault for fault in reading.faults if fault.rule != "quotes-not-needed"], writer.text
        for path, part, start, end in writer.spans:
            found = reading.place(path, part)
            assert found == place(writer.text, start, end), (path, part, writer.text)
            assert reading.at(found) == writer.text[start:end]


def slips(key: str, value: str, name: str) -> dict[str, tuple[str, str]]:
    """What can be made of the line ``key: value``: rule, the line, and the text in it that must be marked."""
    return {
        "anchor": (f"{key}: &{name} {value}", f"&{name}"),
        "alias": (f"{key}: *{name}", f"*{name}"),
        "tag": (f"{key}: !{name} {value}", f"!{name}"),
        "colon-in-words": (f"{key}: {value}: {name}", f"{value}: {name}"),
        "quote-not-closed": (f'{key}: "{value} {name}', f'"{value} {name}'),
        "text-after-quote": (f"{key}: '{value}' {name}", f"'{value}' {name}"),
        "bracket-not-paired": (f"{key}: [{name}, {value}", f"[{name}, {value}"),
        "sign-needs-quotes": (f"{key}: @{name}", f"@{name}"),
        "control-character": (f"{key}: {value}\x07 {name}", "\x07"),
        "odd-space": (f"{key}:\u2003{name}", "\u2003"),
        "lone-surrogate": (f'{key}: "{name} \\udead"', "\\udead"),
        "quotes-not-needed": (f"{key}: '{name}'", f"'{name}'"),
        "key-not-text": (f"[{name}]: {value}", f"[{name}]"),
        "merge-key": (f"<<: {{{name}: {value}}}", "<<"),
        "comma-missing": (f"{key}: {{{name}: {name} {name}: {value}}}", f"{name} {name}"),
        "scalar-too-long": (f"{key}: {name}{'x' * 10_000}", name + "x" * 10_000),
        "nested-too-deep": (f"{key}: {'[' * 32}{name}{']' * 32}", ""),
        "space-missing": (f"{key}:{name}", f"{key}:{name}"),
    }


def lines_of(text: str) -> Iterator[tuple[int, str, str, str]]:
    """The lines that hold a key with a plain value: number, what is before the key, key, value."""
    for number, row in enumerate(text.split("\n")):
        bare = row.lstrip(" -")
        key, colon, value = bare.partition(": ")
        if colon and value.isascii() and value.replace("-", "").isalnum() and key not in ("id", "source", "page"):
            yield number, row[: len(row) - len(bare)], key, value


@pytest.mark.parametrize("rule", slips("", "", ""))
def test_a_slip_planted_in_a_real_file_is_marked_where_it_stands(rule: str) -> None:
    """Of each of eighteen slips some, and before a release over a thousand in all."""
    chance = random.Random(rule)
    for _ in range(tries(20, 60)):
        text = chance.choice(FAMILIES).read_text()
        rows = text.split("\n")
        number, before, key, value = chance.choice(list(lines_of(text)))
        if rule == "space-missing" and not re.match(before + r"\w", (*rows, "")[number + 1]):
            continue  # with no key below it such a line is words by itself, and no slip of the reader's
        name = chance.choice(["kiel", "日本", "z"]) + str(chance.randrange(1000))
        if rule in ("anchor", "alias", "tag", "lone-surrogate"):
            name = f"kiel{chance.randrange(1000)}"  # only plain letters may stand there
        slip, marked = slips(key, value, name)[rule]
        rows[number] = before + slip
        comment = "# 🛥 日本"
        if number and chance.random() < 0.5:
            rows[0:0] = [comment]
            number += 1
        text = "\n".join(rows)
        reading = read(text.encode())
        found = [fault for fault in reading.faults if fault.rule == rule]
        assert len(found) == 1, (rule, rows[number], reading.faults)
        if rule == "nested-too-deep":
            assert reading.line(found[0].place.line if found[0].place else 0) == rows[number]
            continue
        start = sum(len(row) + 1 for row in rows[:number]) + rows[number].index(marked, len(before))
        assert found[0].place == place(text, start, start + len(marked)), (rows[number], found[0])
        assert reading.at(found[0].place) == marked
        assert isinstance(reading.data, dict)
        assert len(reading.data) > 3, "the rest is read"


def test_the_second_of_two_keys_is_marked() -> None:
    chance = random.Random(5)
    for _ in range(60):
        text = chance.choice(FAMILIES).read_text()
        rows = text.split("\n")
        number, before, key, value = chance.choice(list(lines_of(text)))
        rows.insert(number + 1, " " * len(before) + f"{key}: {value}")
        reading = read("\n".join(rows).encode())
        (fault,) = reading.faults
        assert fault.rule == "duplicate-key"
        assert fault.place == Place(number + 2, len(before) + 1, number + 2, len(before) + len(key) + 1)
        assert fault.expected == (str(number + 1),)


SPANS = [
    # text, path, part, the text that is marked
    ("a: 1\nb: 2\n", ("b",), Part.VALUE, "2"),
    ("a: 1\nb: 2\n", ("b",), Part.KEY, "b"),
    ("a:\n  b: 1\n  c: 2  # two\n\n# end\n", ("a",), Part.VALUE, "b: 1\n  c: 2"),
    ("a:\n- b: 1\n  c: 2\n- d\n\n\ne: f\n", ("a",), Part.VALUE, "- b: 1\n  c: 2\n- d"),
    ("a:\n- b: 1\n  c: 2\n- d\n", ("a", 0), Part.VALUE, "b: 1\n  c: 2"),
    ("a:\n- b: 1\n  c: 2\n- d\n", ("a", 0), Part.KEY, "b: 1\n  c: 2"),
    ("a: |\n  x\n\n  y\n\n\nb: c\n", ("a",), Part.VALUE, "|\n  x\n\n  y"),
    ("a: x\n  y\n\nb: c\n", ("a",), Part.VALUE, "x\n  y"),
    ("a: 'x''y'\n", ("a",), Part.VALUE, "'x''y'"),
    ("a: [b: c , d]\n", ("a", 0), Part.VALUE, "b: c"),
    ("? a\n: b\n", ("a",), Part.VALUE, "b"),
    ("a: {b: {c: 1}}  # {\n", ("a", "b"), Part.VALUE, "{c: 1}"),
    ("a: {b: 1}\n", ("a", "c"), Part.KEY, "{b: 1}"),
    ("a: {b: 1}\n", ("a", "b", "c", 4), Part.KEY, "1"),
    ("a: [1]\n", ("a", 4), Part.VALUE, "[1]"),
    ("a: [1]\n", ("a", -1), Part.VALUE, "[1]"),
    ("# x\na: 1\nb: 2\n\n", (), Part.VALUE, "a: 1\nb: 2"),
    ("a: 1\na: 2\n", ("a",), Part.VALUE, "1"),
    ("a:  # {}\n  {b: 1,\n   c: 2}\n", ("a",), Part.VALUE, "{b: 1,\n   c: 2}"),
]


@pytest.mark.parametrize(("text", "path", "part", "marked"), SPANS)
def test_spans(text: str, path: Path, part: Part, marked: str) -> None:
    reading = read(text.encode())
    assert reading.at(reading.place(path, part)) == marked


EMPTY = [
    # text, path, line and column of the empty value
    ("a:\nb: 1\n", ("a",), (1, 3)),
    ("a: 1\nb:   # none\n", ("b",), (2, 3)),
    ("a: {b: , c: 1}\n", ("a", "b"), (1, 7)),
    ("a: {b, c: 1}\n", ("a", "b"), (1, 6)),
    ("日本: {🛥: }\n", ("日本", "🛥"), (1, 8)),
    ("? a\n? b\n", ("a",), (1, 4)),
    ("a:\n  -\n  - b\n", ("a", 0), (2, 4)),
    ('a: {"b" : }\n', ("a", "b"), (1, 10)),
]


@pytest.mark.parametrize(("text", "path", "point"), EMPTY)
def test_an_empty_value_stands_behind_its_colon(text: str, path: Path, point: tuple[int, int]) -> None:
    reading: ReadText = read(text.encode())
    assert reading.place(path) == Place(*point, *point)
