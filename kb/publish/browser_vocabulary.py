"""The words that the browser's scripts share with Python, as a script of its own.

``python -m kb.publish.browser_vocabulary site/assets/vocabulary.js`` writes it.
"""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any

from kb.quantity import UNITS, Side, Unit
from kb.vocabulary.catalogue import AimPoint, HazardTier, SafestEnd
from kb.vocabulary.conditions import CHOICES, COUNTED, MEASURED, Condition, OctaneScale
from kb.vocabulary.engine import Cycle, Linkage, MarksOn, Rotation, TurningIn
from kb.vocabulary.evidence import HowSure
from kb.vocabulary.states import CORRECTED_STATES, PLACE_WORDS, SCREEN_STATES, SET_WORDS, SETTING_STATES, State
from kb.vocabulary.words import WordList
from kb.vocabulary.work import (
    FALSE_LATE_WORDS,
    AngleRead,
    CautionSeverity,
    FalseLate,
    Fitted,
    IgnitionLeft,
    Instrument,
    Noted,
    Presence,
    Turned,
)

_HEAD = """\
/**
 * The words that Python and these scripts share, each list as it stands in `kb/vocabulary/` and `kb/quantity/`.
 * Written by `python -m kb.publish.browser_vocabulary site/assets/vocabulary.js`: change them there, not here.
 */
"""
_LISTS = (
    State,
    Condition,
    OctaneScale,
    Cycle,
    Linkage,
    TurningIn,
    Rotation,
    MarksOn,
    HazardTier,
    AimPoint,
    SafestEnd,
    HowSure,
    CautionSeverity,
    Noted,
    Turned,
    IgnitionLeft,
    Fitted,
    Presence,
    AngleRead,
    Instrument,
    FalseLate,
)
_LISTED = {
    "SETTING_STATES": SETTING_STATES,
    "SCREEN_STATES": SCREEN_STATES,
    "CORRECTED_STATES": CORRECTED_STATES,
    "SIDES": tuple(map(str, Side)),
}
_TABLES = {
    "SET_WORDS": SET_WORDS,
    "PLACE_WORDS": PLACE_WORDS,
    "CHOICES": CHOICES,
    "COUNTED": COUNTED,
    "MEASURED": MEASURED,
    "FALSE_LATE_WORDS": FALSE_LATE_WORDS,
}
_WORKED_OUT = {"FALSE_LATE_IN_SHORT": '[...FALSE_LATE_WORDS.values()].map(([short]) => short).join(", ")'}
_WIDTH = 120


def browser_vocabulary() -> str:
    """The script: lists of words as frozen objects, tables as maps, what follows from them, and the units."""
    parts = [_HEAD, *map(_members, _LISTS)]
    parts += [_constant(name, _literal(words)) for name, words in _LISTED.items()]
    parts += [_constant(name, f"new Map({_literal(list(table.items()))})") for name, table in _TABLES.items()]
    parts += [_constant(name, worked_out) for name, worked_out in _WORKED_OUT.items()]
    return "\n".join([*parts, _constant("UNIT_TABLE", _literal([_unit(unit) for unit in UNITS.values()]))])


def _members(words: type[WordList]) -> str:
    members = {name: word for name, word in vars(words).items() if name.isupper()}
    lines = "".join(f"  {name}: {json.dumps(word)},\n" for name, word in members.items())
    return _constant(words.__name__, f"Object.freeze({{\n{lines}}})")


def _constant(name: str, value: str) -> str:
    return f"export const {name} = {value};\n"


def _unit(unit: Unit) -> dict[str, Any]:
    """What the browser needs of a unit; values that most units share are left out."""
    plain = {"key": unit.key, "dimension": str(unit.dimension), "symbol": unit.symbol, "name": unit.name}
    factor = {"factor": str(unit.factor)} if unit.factor != 1 else {}
    offset = {"offset": str(unit.offset)} if unit.offset != Fraction(0) else {}
    flags = {name: True for name in ("fractions", "signed") if getattr(unit, name)}
    return {**plain, **factor, **offset, **flags}


def _literal(value: Any, indent: int = 0) -> str:
    """A value laid out as the scripts' formatter does it: on one line where it fits, else one row a line."""
    if isinstance(value, Mapping):
        inside = [f"{_key(key)}: {_literal(inner, indent + 2)}" for key, inner in value.items()]
        opening, closing, blank = "{", "}", " "
    elif isinstance(value, (list, tuple)):
        inside = [_literal(inner, indent + 2) for inner in value]
        opening, closing, blank = "[", "]", ""
    else:
        return json.dumps(value, ensure_ascii=False)
    flat = f"{opening}{blank}{', '.join(inside)}{blank}{closing}"
    if indent + len(flat) <= _WIDTH and not _has_rows(value):
        return flat
    margin = " " * (indent + 2)
    return f"{opening}\n" + "".join(f"{margin}{one},\n" for one in inside) + f"{' ' * indent}{closing}"


def _has_rows(value: Any) -> bool:
    return isinstance(value, list) and len(value) > 1 and all(isinstance(one, (tuple, Mapping)) for one in value)


def _key(key: str) -> str:
    return key if re.fullmatch(r"[A-Za-z_]\w*", key) else json.dumps(key)


def main(arguments: list[str]) -> int:
    """Write the script to a file; returns the exit code."""
    if len(arguments) != 1:
        print("usage: python -m kb.publish.browser_vocabulary FILE", file=sys.stderr)
        return 2
    file, text = Path(arguments[0]), browser_vocabulary()
    if not file.exists() or file.read_text(encoding="utf-8") != text:
        file.write_text(text, encoding="utf-8")
        print(f"written {file}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
