"""Slips in the text of a sound file, one at a time, drawn from a seeded generator."""

from __future__ import annotations

import random
import re
from collections.abc import Callable

from kb.quantity import VALUE_KEYS

Mutation = Callable[[random.Random, str], str]

_KEY = re.compile(r"(?:(?<=[\s{,-])|^)[A-Za-z_][A-Za-z0-9_-]*(?=:[ \n]|:$)", re.MULTILINE)
_VALUE = re.compile(r"(?<=: )([^\s{}\[\],#&'\"][^{}\[\],#\n]*?)(?=\s*(?:[},#\n]|$))", re.MULTILINE)
_NUMBER = re.compile(r"(?<![A-Za-z0-9.])[0-9]+(?:\.[0-9]+)?(?![A-Za-z0-9.])")
_LIST = re.compile(r"\[([^\[\]{}]*)\]")
_STATES = ("cranking", "running", "static", "at-rest", "warm", "Cranking", "idle")

SCALARS = (
    "",
    "0",
    "1",
    "24",
    "0.030",
    "0.0",
    "3.0",
    "-3",
    "-0",
    "+4",
    "010",
    "007",
    "00",
    ".5",
    "5.",
    "1e3",
    "1E-2",
    "1_000",
    "0x1F",
    "0o17",
    "1:30",
    "NaN",
    ".nan",
    ".inf",
    "-.inf",
    "12345678901",
    "0.1234567891",
    "٣",
    "½",
    "true",
    "True",
    "FALSE",
    "false",
    "yes",
    "no",
    "on",
    "null",
    "Null",
    "~",
    "none",
    "7/64",
    "5/4",
    "2/4",
    "1 1/4",
    "0 1/4",
    "1/0",
    "2026-02-30",
    "2026-13-01",
    "2026-3-2",
    "2026-03-02",
    "1978",
    "[6, 4]",
    "[4]",
    "[1, 2, 3]",
    "[4, 6]",
    "[1/2, 0.4]",
    "[]",
    "[[1]]",
    "[x]",
    "['4', '6']",
    "[4, 10e0]",
    "{at_least: 3}",
    "{at_most: 3, at_least: 2}",
    "{nominal: 3}",
    "{nominal: 3, plus_minus: 1}",
    "{plus_minus: 1}",
    "{nominal: 3, plus: 1, minus: 2}",
    "{nominal: 3, plus: 1}",
    "{nominal: 3, plus_minus: 1, plus: 1}",
    "{}",
    "{mm: 1.2}",
    "{in: 7/64}",
    "{in: 0.150}",
    "{mm: [0.2, 0.1]}",
    "{mm: 1, in: 2}",
    "{btdc: 2}",
    "{atdc: 3}",
    "{ft: 2}",
    "{from: 1978}",
    "{from: 300100, to: 418999}",
    "{rpm: 5000}",
    "{gear: neutral}",
    "{rpm: [5000, 300]}",
    "{engine: hot}",
    "'24'",
    '"0.030"',
    "'true'",
    "'0'",
    "'010'",
    '"7/64"',
    "'in-gear'",
    "' '",
    "''",
    "' 24'",
    "|\n        24",
    "words",
    "Words With Capitals",
    "skerrow",
    "skerrow/ketch-47",
    "max-advance",
    "a_b",
    "-x",
    "42",
    "4-12",
    "B 20417",
    "running",
    "cranking",
    "static",
    "at-rest",
    "not-stated",
    "not-applicable",
    "warm",
    "port",
    "handbook",
    "paper",
    "A",
    "&anchor 24",
    "*anchor",
    "!!str 24",
    "!!python/name:os.system 1",
)
"""What may come to stand where a value stood."""

LINES = (
    "absent: not-stated",
    "absent: not-applicable",
    "also: {mm: 0.76}",
    "also: {in: 0.030}",
    "also: {kPa: 700}",
    "also: {}",
    "also: {btdc: {mm: 2.9}}",
    "also: {printed_so: true}",
    "also: {mark: line}",
    "at: {gear: neutral}",
    "at: {rpm: 5000}",
    "at: {plugs: out, engine: warm}",
    "at: {}",
    "state: static",
    "state: running",
    "page: 7-3",
    "page: 3.5",
    "note: yes",
    "only: {years: 1979}",
    "only: {serials: {from: 1}}",
    "supersedes: {source: handbook, page: 4}",
    "btdc: 24",
    "tdc: 0",
    "from: {btdc: 2}",
    "to: {atdc: 3}",
    "mm: 0.9",
    "in: 7/64",
    "rpm: 700",
    "code: 68",
    "mark: line",
    "to_one: 50",
    "invented: true",
    "title: A title",
    "name: A name",
    "kind: plate",
    "<<: {a: 1}",
    "1: 2",
    "true: 2",
    "null: 2",
    "? [a]",
    "---",
    "%YAML 1.2",
    "by_rpm: [{rpm: 1000, cranking_earlier: 1}, {rpm: 500, cranking_earlier: 2}]",
    "by_rpm: [{rpm: 500, cranking_later: 1}, {rpm: 1000, cranking_later: 2}]",
    "cranking_later: 1",
)
"""What may come to stand on a line of its own."""


def _replace(text: str, match: re.Match[str], new: str) -> str:
    return text[: match.start()] + new + text[match.end() :]


def _any(draw: random.Random, pattern: re.Pattern[str], text: str) -> re.Match[str] | None:
    found = list(pattern.finditer(text))
    return draw.choice(found) if found else None


def misspell_a_key(draw: random.Random, text: str) -> str:
    """A letter dropped, doubled, swapped with its neighbour, or made a capital."""
    match = _any(draw, _KEY, text)
    if match is None:
        return text
    key = match[0]
    at = draw.randrange(len(key))
    swapped = key[:at] + key[at + 1 : at + 2] + key[at] + key[at + 2 :]
    new = draw.choice([key[:at] + key[at + 1 :], key[: at + 1] + key[at:], swapped, key.upper(), f"{key}s"])
    return _replace(text, match, new or "x")


def replace_a_value(draw: random.Random, text: str) -> str:
    """Something else behind a key."""
    match = _any(draw, _VALUE, text)
    return _replace(text, match, draw.choice(SCALARS)) if match else text


def drop_a_line(draw: random.Random, text: str) -> str:
    """A line lost."""
    lines = text.splitlines(keepends=True)
    del lines[draw.randrange(len(lines))]
    return "".join(lines)


def double_a_line(draw: random.Random, text: str) -> str:
    """A line twice."""
    lines = text.splitlines(keepends=True)
    at = draw.randrange(len(lines))
    return "".join([*lines[: at + 1], *lines[at:]])


def add_a_line(draw: random.Random, text: str) -> str:
    """A key more, beside any other: a second unit, a state, an absent."""
    lines = text.splitlines(keepends=True)
    at = draw.randrange(len(lines))
    indent = len(lines[at]) - len(lines[at].lstrip(" -"))
    return "".join([*lines[: at + 1], " " * indent + draw.choice(LINES) + "\n", *lines[at + 1 :]])


def shift_a_subtree(draw: random.Random, text: str) -> str:
    """A line, with what hangs below it, further in or further out."""
    lines = text.splitlines(keepends=True)
    at = draw.randrange(len(lines))
    indent = len(lines[at]) - len(lines[at].lstrip())
    end = at + 1
    while end < len(lines) and len(lines[end]) - len(lines[end].lstrip()) > indent:
        end += 1
    by = draw.choice([-2, -1, 1, 2])
    for index in range(at, end):
        lines[index] = " " * by + lines[index] if by > 0 else lines[index].removeprefix(" " * -by)
    return "".join(lines)


def mangle_a_number(draw: random.Random, text: str) -> str:
    """A digit changed, doubled, or lost; a sign, a point or a zero put in; digits of another script."""
    match = _any(draw, _NUMBER, text)
    if match is None:
        return text
    number = match[0]
    at = draw.randrange(len(number))
    digit = str(draw.randrange(10))
    mangled = [
        number[:at] + digit + number[at + 1 :],
        number[:at] + number[at + 1 :] or "x",
        "-" + number,
        "+" + number,
        "0" + number,
        number + ".",
        "." + number,
        number + "e2",
        number + "_0",
        number + ".0",
        number + "x",
        number.translate({ord("2"): "٢", ord("4"): "४"}),
        number + "." + digit,
        number + "/8",
        number + ",5",
    ]
    return _replace(text, match, draw.choice(mangled))


def quote_a_value(draw: random.Random, text: str) -> str:
    """Quotes round a value, or half of them."""
    match = _any(draw, _VALUE, text)
    if match is None:
        return text
    quote = draw.choice("'\"")
    return _replace(text, match, quote + match[0] + draw.choice([quote, quote, quote, ""]))


def change_a_unit(draw: random.Random, text: str) -> str:
    """Another unit."""
    keys = [match for match in _KEY.finditer(text) if match[0] in VALUE_KEYS]
    return _replace(text, draw.choice(keys), draw.choice(VALUE_KEYS)) if keys else text


def change_a_state(draw: random.Random, text: str) -> str:
    """Another state."""
    match = _any(draw, re.compile(r"(?<=state: )[a-z-]+"), text)
    return _replace(text, match, draw.choice(_STATES)) if match else text


def scalar_to_list(draw: random.Random, text: str) -> str:
    """A value in brackets, or in braces."""
    match = _any(draw, _VALUE, text)
    if match is None:
        return text
    value = match[0]
    return _replace(text, match, draw.choice([f"[{value}]", f"[{value}, {value}]", f"{{{value}}}"]))


def list_to_scalar(draw: random.Random, text: str) -> str:
    """The first or all of a list, without its brackets; or its ends turned round; or one entry more."""
    match = _any(draw, _LIST, text)
    if match is None:
        return text
    entries = [entry.strip() for entry in match[1].split(",")]
    turned, longer = f"[{', '.join(reversed(entries))}]", f"[{match[1]}, {entries[-1]}]"
    return _replace(text, match, draw.choice([entries[0], " ".join(entries), turned, turned, longer]))


MUTATIONS: tuple[Mutation, ...] = (
    misspell_a_key,
    replace_a_value,
    replace_a_value,
    replace_a_value,
    drop_a_line,
    double_a_line,
    add_a_line,
    add_a_line,
    shift_a_subtree,
    mangle_a_number,
    mangle_a_number,
    quote_a_value,
    change_a_unit,
    change_a_state,
    scalar_to_list,
    list_to_scalar,
)
"""Every kind of slip, as often as it is drawn."""


def mutate(draw: random.Random, text: str) -> tuple[str, str]:
    """A text with one slip in it, and the slip's name; the text may happen to be the same."""
    mutation = draw.choice(MUTATIONS)
    return mutation(draw, text), mutation.__name__
