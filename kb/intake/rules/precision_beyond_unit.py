"""Each unit has a last digit that a mechanic can still set and read: a tenth of a degree of crank, a hundredth of a
millimetre, a thousandth of an inch. More digits than that come from a converter or a misplaced decimal point, not from
a measurement. Write the digits that the page prints; a converted unit belongs under `also`, rounded."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from kb.finding import Path, Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule

_DECIMALS = {
    "btdc": 1,
    "atdc": 1,
    "deg": 1,
    "cranking_earlier": 1,
    "cranking_later": 1,
    "mm": 2,
    "in": 3,
    "m": 1,
    "ft": 0,
    "rpm": 0,
    "hp": 1,
    "kW": 1,
    "PS": 1,
    "psi": 1,
    "kPa": 0,
    "bar": 2,
    "kgf_cm2": 2,
    "Nm": 1,
    "lbf_ft": 1,
    "lbf_in": 1,
    "kgf_m": 2,
    "cm3": 1,
    "mL": 1,
    "L": 3,
    "us_gal": 2,
    "imp_gal": 2,
    "us_fl_oz": 2,
    "imp_fl_oz": 2,
    "V": 2,
    "to_one": 1,
    "turns": 2,
    "s": 1,
    "ms": 2,
    "us": 1,
    "min": 1,
    "h": 2,
    "degC": 1,
    "degF": 1,
    "delta_degC": 1,
    "delta_degF": 1,
}
"""The decimals that can still be set or read, by unit key; common practice, no source."""

_HOLDERS = frozenset((*_DECIMALS, "from", "to", "by_rpm", "also"))
_FINEST_FRACTION = 64


def check(case: FileCase) -> Iterator[Slip]:
    """Every number of every statement, as printed."""
    for figure, statements in case.family.statements.items():
        for statement in statements:
            for key in _HOLDERS.intersection(statement.document):
                raw = statement.document[key]
                text = raw if type(raw) is str else repr(raw)
                if "." in text or "/" in text:  # few numbers are anything but whole
                    yield from _under(key, raw, ("figures", figure, statement.index, key))


def _under(key: str, raw: Any, path: Path) -> Iterator[Slip]:
    """The numbers under a key; one in an inner unit, such as ``{in: 0.150}``, counts by that."""
    if isinstance(raw, Mapping):
        for inner, value in raw.items():
            yield from _under(inner if inner in _DECIMALS else key, value, (*path, inner))
    elif isinstance(raw, (list, tuple)):
        for index, value in enumerate(raw):
            yield from _under(key, value, (*path, index))
    elif isinstance(raw, str) and key in _DECIMALS:
        decimals = len(raw.partition(".")[2])
        bottom = raw.partition("/")[2]
        if decimals > _DECIMALS[key] or (bottom.isdigit() and int(bottom) > _FINEST_FRACTION):
            finest = f"1/{_FINEST_FRACTION}" if bottom else f"{10 ** -_DECIMALS[key]:.{_DECIMALS[key]}f}"
            what = f"{raw} under {key} is finer than anyone can set or read; the finest is {finest}"
            yield Slip(path, what, "write the digits that the page prints, and check the decimal point")


_GAP = "figures:\n  plug-gap:\n    - "

RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="more digits than can be set or read in that unit",
    why="digits that nobody measured make sources seem to disagree, and hide a misplaced decimal point",
    bad=(
        Bad(f"{_GAP}{{mm: 0.889, source: plate}}\n", where="0.889"),
        Bad(f"{_GAP}{{in: 0.035, also: {{mm: 0.889}}, source: plate}}\n", where="0.889"),
        Bad("figures:\n  max-advance:\n    - {btdc: [23.75, 24], state: static, source: plate}\n", where="23.75"),
        Bad("figures:\n  max-advance:\n    - {btdc: {in: 0.1502}, state: static, source: plate}\n", where="0.1502"),
        Bad(f"{_GAP}{{in: 5/128, source: plate}}\n", where="5/128"),
    ),
    good=(
        Good(f"{_GAP}{{mm: 0.89, source: plate}}\n"),
        Good(f"{_GAP}{{in: 7/64, source: plate}}\n"),
        Good("figures:\n  max-advance:\n    - {btdc: {in: 0.150}, state: static, source: plate}\n"),
        Good("figures:\n  idle-speed:\n    - {rpm: [650, 750], at: {gear: in-gear}, source: plate}\n"),
    ),
    check=check,
)
