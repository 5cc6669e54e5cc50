"""A value as it is shown: big digits, with unit and side beside them; and the same in the units chosen."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from kb.book.model.engine_ranges import Document, frozen, thawed
from kb.quantity import SIDE_KEYS, UNITS, Quantity, read_value

if TYPE_CHECKING:
    from kb.publish.site.family.page_types import Cited, PageRow
    from kb.publish.site.family.view_types import Piece

METRIC, INCH = "metric", "inch"
_OTHER = {
    "mm": "in",
    "in": "mm",
    "lbf_ft": "Nm",
    "lbf_in": "Nm",
    "kgf_m": "Nm",
    "Nm": "lbf_ft",
    "psi": "kPa",
    "kPa": "psi",
    "bar": "psi",
    "kgf_cm2": "kPa",
    "piston_mm": "piston_in",
    "piston_in": "piston_mm",
}
_CHOSEN: dict[str, dict[str, str]] = {
    "": {},
    METRIC: {"in": "mm", "lbf_ft": "Nm", "lbf_in": "Nm", "psi": "kPa", "piston_in": "piston_mm"},
    INCH: {
        "mm": "in",
        "Nm": "lbf_ft",
        "kgf_m": "lbf_ft",
        "kPa": "psi",
        "bar": "psi",
        "kgf_cm2": "psi",
        "piston_mm": "piston_in",
    },
}
"""The unit that a printed unit is shown in, by the units chosen; as printed where there is none."""

_PARTS = re.compile(r"; |(?<=TDC) (?=to )")
_CORRECTION = re.compile(r"(?:reads )?([0-9./ ]+°) (earlier|later) (while cranking) than when running(.*)")
_DIGITS = re.compile(r"(.*[0-9]°?)(?: ([^0-9]*?)(?: of (piston travel.*))?)?")
_TRAVEL = re.compile(" of piston travel [AB]TDC$")


@lru_cache(maxsize=4096)
def pieces(value: str) -> Sequence[Piece]:
    """A value in words split into digits, the unit beside them, and a small note; one piece for each end that has its
    own side.

    >>> [(one["number"], one["unit"]) for one in pieces("3° BTDC to 4° ATDC")]
    [('3°', 'BTDC'), ('to 4°', 'ATDC')]
    """
    return [_piece(part) for part in _PARTS.split(value)]


def _piece(words: str) -> Piece:
    if found := _CORRECTION.fullmatch(words):
        return {"number": found[1], "unit": found[2], "more": found[3] + found[4]}
    if found := _DIGITS.fullmatch(words):
        return {"number": found[1], "unit": found[2] or "", "more": found[3] or ""}
    return whole(words)[0]


def whole(words: str) -> list[Piece]:
    """Words, or a code, in one piece."""
    return [{"number": words, "unit": "", "more": ""}]


def in_units(row: PageRow, cited: Sequence[Cited], units: str = "") -> tuple[str, str]:
    """A row's value in the units chosen, and for small print its value in other units: as printed, if not shown big.

    The page's own second unit is preferred to one that is worked out.
    """
    printed = row["printed"]
    if "value" not in row:
        return printed, ""
    key = _unit_key(row["value"])
    also = _also(row, cited)
    if chosen := _CHOSEN[units].get(key):
        symbol = f" {UNITS[chosen].symbol}"
        shown = next((one for one in also if one.endswith(symbol)), "")
        return shown or _converted(frozen(row["value"]), chosen), f"printed {printed}"
    if also:
        return printed, _shortly(" · ".join(also))
    other = _OTHER.get(key)
    return printed, _shortly(_converted(frozen(row["value"]), other)) if other else ""


def _shortly(other: str) -> str:
    """A value for small print, without the side that the value beside it shows, unless each end has its own."""
    return _TRAVEL.sub(" travel", other) if other.count("TDC") == 1 else other


def _also(row: PageRow, cited: Sequence[Cited]) -> Sequence[str]:
    for one in row["statements"]:
        statement = cited[one[0]]
        if statement[1] and statement[0] == row["printed"] and len(one) == 1:
            also: Sequence[str] = statement[1]
            return also
    return ()


def _unit_key(value: Document) -> str:
    key: str = next(iter(value))
    raw = value[key]
    if key == "from":
        return _unit_key(raw)
    if key in SIDE_KEYS and isinstance(raw, dict):
        return f"piston_{next(iter(raw))}"
    return key


@lru_cache(maxsize=8192)
def _converted(value: Any, unit: str) -> str:
    found = read_value(thawed(value))
    return str(found.to(UNITS[unit])) if isinstance(found, Quantity) else ""
