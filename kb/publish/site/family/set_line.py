"""The maximum, pickup and idle as what to set: what the pointer should show, and how that was reached in a line.

The same few values stand in many families: what is worked out from a value alone is kept.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import Any, NamedTuple

from kb.book.model.answer import Answer
from kb.book.model.catalogue import CORRECTION, MAXIMUM, FigureKind
from kb.book.model.engine_ranges import Document
from kb.book.model.family import Family
from kb.book.setting.rim_position import OnTheRim, on_the_rim
from kb.book.setting.when_running import through_correction
from kb.book.setting.window import Setting, setting
from kb.errors import GeometryImpossible, LookUpError, NotAnAngle, Refusal
from kb.publish.site.family.engine_rows import figure_rows
from kb.quantity import plain, plain_angle
from kb.vocabulary import State

_ANGLES = frozenset({"btdc", "atdc", "tdc", "from"})
_NONE: Document = {}
_NOT_KNOWN = "what it runs at is not known"
_KEPT = 4096


class SetLine(NamedTuple):
    """What the pointer should show, in words with its side; how it was reached, in a few words each: the first
    ``reached`` are the printed figures and the margin, then where it is and what it runs at; what must be said; and
    where that is on the rim, in full."""

    show: str
    how: tuple[str, ...]
    reached: int
    remarks: tuple[str, ...]
    rim: str


class _AsTyped:
    """A part of a document, the same as another that reads the same: to keep by it what is worked out from it."""

    __slots__ = ("_text", "document")

    def __init__(self, document: Document) -> None:
        self.document, self._text = document, repr(document)

    def __hash__(self) -> int:
        return hash(self._text)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _AsTyped) and self._text == other._text


_UNSAID = _AsTyped(_NONE)


def set_line(
    page: Document, kinds: Document, figure: str, row: Document, margin: Fraction = Fraction(0), serial: str = ""
) -> SetLine | None:
    """The target of a row of a page document, or nothing where it is not set by the timing light.

    Raises:
        MarginTooWide: the margin is more than the figure allows.
    """
    if "value" not in row or _ANGLES.isdisjoint(row["value"]):
        return None
    about = kinds[figure]
    limit = about.get("margin_limit", _NONE).get("deg")
    kind = (about["label"], about.get("aim", ""), about.get("safest_end", ""), limit)
    crank = _AsTyped(page.get("engine", _NONE)) if "piston travel" in row["printed"] else _UNSAID
    found = _found(figure, kind, _AsTyped(row["value"]), row["printed"], crank, margin)
    if found is None:
        return None
    target, true, show = found
    how = [_printed(row)]
    if target.margin:
        how.append(f"{plain(target.margin)}° kept to the late side")
    reached = len(how)
    briefly, rim = _on_the_rim(_AsTyped(page.get("flywheel", _NONE)), true)
    if rim:
        how.append(briefly)
    if figure == MAXIMUM and row["state"] == State.CRANKING:
        how.append(_running(page, true, serial))
    return SetLine(show, tuple(how), reached, target.remarks, rim)


@lru_cache(maxsize=_KEPT)
def _found(
    figure: str,
    kind: tuple[str, str, str, str | None],
    value: _AsTyped,
    printed: str,
    crank: _AsTyped,
    margin: Fraction,
) -> tuple[Setting, Fraction, str] | None:
    label, aim, safest_end, limit = kind
    about = {"label": label, "aim": aim, "safest_end": safest_end, "margin_limit": {"deg": limit} if limit else {}}
    answer = Answer({"family": "", "label": label, "value": value.document, "printed": printed})
    try:
        found = setting(answer, FigureKind(figure, about), Family("", {"engine": crank.document}), margin)
    except (NotAnAngle, GeometryImpossible):
        return None
    true = found.shown(Fraction(0))
    return None if true is None else (found, true, str(plain_angle(true)))


@lru_cache(maxsize=_KEPT)
def _on_the_rim(flywheel: _AsTyped, true: Fraction) -> tuple[str, str]:
    """Where it is on the rim, briefly and in full; empty where that is not known."""
    rim = on_the_rim(Family("", {"flywheel": flywheel.document}), true, true)
    return (_briefly(rim), rim.words) if rim else ("", "")


def _printed(row: Document) -> str:
    """The printed figure, or those that a worked-out one comes from: it never stands without them."""
    if row["standing"] != "derived":
        return f"printed {row['printed']}"
    said = []
    for step in row.get("working", ()):
        for one in step["inputs"]:
            reading = one["name"].removesuffix(" reading")
            if reading != one["name"]:
                said.append(f"printed {one['value']} {reading}")
            else:
                said.append(f"{one['name']} {_shortly(one['value'])}")
    return (" + " if row["state"] == State.CRANKING else ", ").join(said)  # only to cranking is the correction added


def _shortly(correction: str) -> str:
    return correction.removeprefix("reads ").replace(" while cranking than when running", " cranking")


def _briefly(rim: OnTheRim) -> str:
    """Where it is on the rim, as short as can be: in ticks or degrees from a mark, by tape from one's own."""
    mark = f"mark {rim.mark}" if rim.mark else "your TDC mark"
    if rim.degrees == 0:
        return f"at {mark}"
    far = f"{plain(rim.degrees)}°"
    if rim.divisions is not None:
        far = f"{plain(rim.divisions)} tick{'' if rim.divisions == 1 else 's'}"
    elif rim.tape and not rim.mark:
        far = f"by tape {rim.tape}"
    return f"{far} {rim.side} of {mark}"


def _running(page: Document, true: Fraction, serial: str) -> str:
    """What it runs at, through the correction that is known for every engine that this may be."""
    corrections = [
        one for figure in page["figures"] if figure["id"] == CORRECTION for one in figure_rows(page, figure, serial)
    ]
    rows = [one.row for one in corrections if not one.depends and "value" in one.row]
    if len(rows) != 1 or len(corrections) != 1:
        return _NOT_KNOWN
    return _runs_at(_AsTyped(rows[0]["value"]), rows[0].get("conditions", ""), true)


@lru_cache(maxsize=_KEPT)
def _runs_at(value: _AsTyped, conditions: str, true: Fraction) -> str:
    document: dict[str, Any] = {
        "family": "",
        "label": "",
        "value": value.document,
        "printed": "",
        "conditions": conditions,
        "statements": [dict(_NOWHERE)],
    }
    try:
        running = through_correction(Answer(document), true)
    except (LookUpError, Refusal):
        return _NOT_KNOWN
    return f"runs at {running.words}" if running.values else _NOT_KNOWN


_NOWHERE = {
    "printed": "",
    "also": (),
    "state": "",
    "conditions": "",
    "only": "",
    "source": "",
    "source_kind": "",
    "source_title": "",
    "page": "",
    "note": "",
    "role": "",
    "reason": "",
}
