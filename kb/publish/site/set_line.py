"""The maximum, pickup and idle as what to set: what the pointer should show, and how that was reached in a line."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, NamedTuple

from kb.book.answer import Answer
from kb.book.fits import Document
from kb.book.on_the_rim import on_the_rim
from kb.book.records import Family
from kb.book.reference import CORRECTION, MAXIMUM, FigureKind
from kb.book.setting import Setting, setting
from kb.book.when_running import through_correction
from kb.errors import GeometryImpossible, LookUpError, NotAnAngle, Refusal
from kb.publish.site.engine_rows import told_figures
from kb.quantity import plain, plain_angle


class SetLine(NamedTuple):
    """What the pointer should show, in words with its side; how it was reached; what must be said."""

    show: str
    how: tuple[str, ...]
    remarks: tuple[str, ...]
    found: Setting


def set_line(
    page: Document, kinds: Document, figure: str, row: Document, margin: Fraction = Fraction(0), serial: str = ""
) -> SetLine | None:
    """The target of a row of a page document, or nothing where it is not set by the timing light.

    Raises:
        MarginTooWide: the margin is more than the figure allows.
    """
    if "value" not in row or "rpm" in row["value"]:
        return None
    answer, family = _answer(page, kinds, figure, row), Family(page["id"], page)
    try:
        found = setting(answer, FigureKind(figure, kinds[figure]), family, margin)
    except (NotAnAngle, GeometryImpossible):
        return None
    show = found.shown(Fraction(0))
    if show is None:
        return None
    how = [f"printed {row['printed']}" if row["standing"] != "derived" else f"worked out {row['printed']}"]
    if found.margin:
        how.append(f"{plain(found.margin)}° kept to the late side")
    if rim := on_the_rim(family, show, show):
        how.append(rim.words.partition(";")[0])
    if figure == MAXIMUM and row["state"] == "cranking":
        how.append(_running(page, kinds, show, serial))
    return SetLine(str(plain_angle(show)), tuple(how), found.remarks, found)


def _running(page: Document, kinds: Document, true: Fraction, serial: str) -> str:
    """What it runs at, through the correction that is known for every engine that this may be."""
    corrections = [one for figure in page["figures"] if figure["id"] == CORRECTION
                   for one in told_figures(page, figure, serial)]  # fmt: skip
    rows = [one.row for one in corrections if not one.depends and "value" in one.row]
    if len(rows) != 1 or len(corrections) != 1:
        return "what it runs at is not known"
    try:
        running = through_correction(_answer(page, kinds, CORRECTION, rows[0]), true)
    except (LookUpError, Refusal):
        return "what it runs at is not known"
    return f"runs at {running.words}" if running.values else "what it runs at is not known"


def _answer(page: Document, kinds: Document, figure: str, row: Document) -> Answer:
    document: dict[str, Any] = {
        "family": page["id"], "figure": figure, "label": kinds[figure]["label"], "state": row["state"],
        "conditions": row.get("conditions", ""), "value": row["value"], "printed": row["printed"],
        "standing": row["standing"], "rests_on": row.get("rests_on"), "working": row.get("working", []),
        "remarks": [], "statements": [dict(_NOWHERE)],
    }  # fmt: skip
    return Answer(document)


_NOWHERE = {
    "printed": "", "also": (), "state": "", "conditions": "", "only": "", "source": "", "source_kind": "",
    "source_title": "", "page": "", "note": "", "role": "", "reason": "",
}  # fmt: skip
