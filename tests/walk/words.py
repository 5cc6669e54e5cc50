"""What a mechanic makes of words on a screen: turns of a screw, printed figures, angles."""

from __future__ import annotations

import re
from fractions import Fraction

_NUMBER = r"\d+(?: \d+/\d+)?(?:/\d+)?(?:\.\d+)?"
_TURN = re.compile(rf"({_NUMBER}) turns? (in|out)\b")
_BACKLASH = re.compile(rf"backlash: go ({_NUMBER}) turns? (in|out), then come back")
_DRAGGED = re.compile(r"(?i)locking moved it ([\d.]+)° (earlier|later)")


def number(text: str) -> float:
    """A number as printed, ``1 1/4`` too."""
    return float(sum(map(Fraction, text.split())))


def turn_in(words: str) -> tuple[str, float] | None:
    """The turns that are advised: as they are typed, and inward positive."""
    found = _TURN.search(words)
    return (found[1], number(found[1]) * (1 if found[2] == "in" else -1)) if found else None


def past(words: str) -> float:
    """By how many turns inward to go past, because of backlash, before coming back; 0 if straight there."""
    found = _BACKLASH.search(words)
    return number(found[1]) * (1 if found[2] == "in" else -1) if found else 0.0


def dragged(words: str) -> float | None:
    """By how many degrees locking moved it earlier; none if nothing is said of it."""
    found = _DRAGGED.search(words)
    return float(found[1]) * (1 if found[2] == "earlier" else -1) if found else None


def angle(text: str) -> float | None:
    """A printed crank angle in signed degrees, ``24° BTDC``, ``TDC``."""
    if text.strip().upper() in ("TDC", "0° TDC"):
        return 0.0
    found = re.search(rf"({_NUMBER})°? (BTDC|ATDC)", text)
    return number(found[1]) * (1 if found[2] == "BTDC" else -1) if found else None


def typed(value: float, digits: int = 2) -> tuple[str, str]:
    """An angle as it is typed: digits, and the side; none at dead centre."""
    text = f"{abs(value):.{digits}f}".rstrip("0").rstrip(".")
    return text, "" if text == "0" else "btdc" if value > 0 else "atdc"


def as_printed(words: str) -> str:
    """Something that is inside a printed figure, as it is typed; the words themselves where they are no number."""
    found = re.search(rf"({_NUMBER}) to ({_NUMBER})", words)
    if found:
        middle = (number(found[1]) + number(found[2])) / 2
        return f"{middle:.4f}".rstrip("0").rstrip(".")
    found = re.search(rf"(?<![\w.])({_NUMBER})(?= ?(?:[a-zA-Z°%:]|$))", words)
    return found[1] if found else words
