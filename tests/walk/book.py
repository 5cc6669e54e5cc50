"""The book that is walked: the documents that its site gives a phone, and what it prints of a maximum."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from typing import Any

import kb
from kb.book.book import Book
from kb.book.lookup.combinations import combinations_of
from kb.book.model.crank_geometry import Crank
from kb.errors import LookUpError, Refusal
from kb.publish.site.family.document import family_page
from kb.publish.site.family.shared import shared_document
from kb.publish.site.routines import routines_document
from kb.quantity import DEGREE_OF_CRANK, Quantity, Value
from tests.support.folders import SPECS


@cache
def book() -> Book:
    """The book as it is published: the routines are part of what is walked."""
    return kb.open_book(SPECS)


@cache
def shared() -> dict[str, Any]:
    return {"shared.json": shared_document(book()), "job/routines.json": routines_document(book())}


@cache
def page(family: str) -> dict[str, Any]:
    return dict(json.loads(json.dumps(family_page(book(), family))))


def documents(family: str) -> dict[str, Any]:
    """What a phone fetches for a job on a family, by path."""
    return {**shared(), f"families/{family}/page.json": page(family)}


@dataclass(frozen=True)
class Limit:
    """What is printed of a figure in one state: its later and its earlier end, in true degrees."""

    state: str
    rpm: str
    low: float
    high: float


@cache
def limits(family: str, figure: str, serial: str) -> tuple[Limit, ...]:
    """Each state for which the book has one answer for this engine, as printed or worked out of another."""
    held = book().family(family)
    asked = [(way.state, way.conditions) for way in combinations_of(held, figure)]
    if figure == "max-advance":
        asked += [(state, {}) for state in ("cranking", "running") if state not in {state for state, _ in asked}]
    found = []
    for state, conditions in asked:
        try:
            value = book().look_up(family, figure, state or None, serial=serial or None, **conditions).value
        except (LookUpError, Refusal):
            continue
        ends = _degrees(value, Crank.of(held))
        if ends:
            found.append(Limit(state, str(conditions.get("rpm", "")), ends[0], ends[-1]))
    return tuple(found)


def _degrees(value: Value, crank: Crank | None) -> list[float]:
    """The ends of a crank angle; none for anything else."""
    if not isinstance(value, Quantity):
        return []
    ends = [end for end in (value.low, value.high) if end is not None]
    if value.unit is DEGREE_OF_CRANK:
        return [float(end) for end in ends]
    return [float(crank.signed_degrees_at(end, value.unit)) for end in ends] if crank else []
