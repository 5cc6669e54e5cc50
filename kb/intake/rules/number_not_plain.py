"""A number is plain digits, as printed: no sign, no exponent, no leading zero, no unit after it, and a decimal point,
never a comma. Inches and turns may be fractions. A window, a bound or a tolerance has its own form: `[4, 6]`,
`{at_most: 6}`, `{nominal: 5, plus_minus: 1}`."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator

from kb.errors import NumberNotPlain
from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault
from kb.quantity import read_number

_N = r"([0-9]+(?:\.[0-9]+)?)"
_UNIT = '°|"|(?i:deg(rees)?|mm|in|inch(es)?|rpm|hp|kw|ps|psi|kpa|bar|nm|v|volts?|turns?|s|ms|(° ?)?[ab]tdc)'
_FORMS: tuple[tuple[str, str], ...] = (
    (rf"{_N} ?(?:-|–|to|\.\.) ?{_N}", "[{0}, {1}]"),
    (rf"{_N} ?(?:±|\+/-|\+-) ?{_N}", "{{nominal: {0}, plus_minus: {1}}}"),
    (rf"(?:>=?|≥|min\.?|at least) ?{_N}", "{{at_least: {0}}}"),
    (rf"(?:<=?|≤|max\.?|at most) ?{_N}", "{{at_most: {0}}}"),
    (r"([1-9][0-9]*)[eE]\+?([1-6])", "{0}e{1}"),
    (r"0+([0-9].*)", "{0}"),
    (r"\+ ?([0-9].*)", "{0}"),
    (r"(\.[0-9]+)", "0{0}"),
    (r"([0-9]+)\.", "{0}"),
    (r"([0-9]{1,3})[,_ ]([0-9]{3})", "{0}{1}"),
    (r"([0-9]+),([0-9]+)", "{0}.{1}"),
    (rf"(?:~|about|ca\.?) ?{_N}", "{0}"),
    (rf"{_N} ?(?:{_UNIT})", "{0}"),
)
"""What people type, and its plain form."""

_OTHER_SIDE = {"btdc": "atdc", "atdc": "btdc"}


def check(fault: Fault) -> Iterator[Slip]:
    """Say how to write the number plainly, where that is clear."""
    text = "".join(str(unicodedata.digit(char, char)) for char in fault.found).strip()
    do = _plainly(text, fault) or f"write {fault.expected[0]}"
    yield Slip(fault.path, f"{fault.found!r} is not a plain number", do)


def _plainly(text: str, fault: Fault) -> str:
    side = next((_OTHER_SIDE[str(part)] for part in fault.path if part in _OTHER_SIDE), "")
    if side and text.startswith("-") and _plain(text[1:]):
        return f"write {side}: {text[1:]}; an angle has a side, never a sign"
    for pattern, form in _FORMS:
        if match := re.fullmatch(pattern, text):
            parts = [part or "" for part in match.groups()]
            if form == "[{0}, {1}]":
                parts.sort(key=float)
            written = parts[0] + "0" * int(parts[1]) if form == "{0}e{1}" else form.format(*parts)
            return f"write {written}" if form.startswith(("[", "{{")) or _plain(written) else ""
    if match := re.fullmatch(r"(?:([0-9]+)[ -])?([0-9]+/[0-9]+)", text):
        if "fraction" in fault.expected[0]:
            return f"write {match[1]} {match[2]}" if match[1] and "-" in text else ""
        return "write it as a decimal number; fractions such as 7/64 or 1 1/4 are allowed only under in and turns"
    return f"write {text}" if _plain(text) else ""


def _plain(text: str) -> bool:
    try:
        read_number(text)
    except NumberNotPlain:
        return False
    return True


def _stated(value: str) -> str:
    return f"figures:\n  max-advance:\n    - {{btdc: {value}, state: cranking, source: handbook, page: 42}}\n"


RULE = Rule(
    severity=Severity.ERROR,
    reads="typing",
    summary="a number that is not plain digits",
    why="010, 1e3, 1_000 or 0,5 mean different numbers to different readers and programs",
    bad=(
        *(Bad(_stated(text), where=text) for text in ("024", "24°", "-4", "1e1", "22-24", "at least 22", "٢٤", ".5")),
        Bad(_stated("{mm: 1/8}"), where="1/8"),
        Bad("figures:\n  plug-gap:\n    - mm: 0,9\n      source: plate\n", where="0,9"),
        Bad("flywheel: {numbered_marks: {btdc: [9, 1x, 27]}}\n", where="1x"),
    ),
    good=(
        Good("figures:\n  plug-gap:\n    - {mm: 0.90, source: plate}\n"),
        Good("figures:\n  mixture-screw:\n    - {turns: 1 1/4, source: handbook, page: 40}\n"),
    ),
    check=check,
)
