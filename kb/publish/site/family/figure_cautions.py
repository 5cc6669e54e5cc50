"""Which cautions stand by which figure: those of the steps of the job that concern it, and the family's own."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from kb.book.model.catalogue import MAXIMUM
from kb.book.model.engine_ranges import Document
from kb.book.setting.job import ahead
from kb.vocabulary.work import CautionSeverity

BEFORE = ""
"""Stands for a figure: what concerns no figure that the page shows is to be read before the work begins."""


def careful(page: Document, shared: Document, figures: Sequence[str]) -> dict[str, list[str]]:
    """The ids of cautions by figure; ``figures`` are those that the page shows, in the order of the job.

    A danger that the family names stands by its maximum, whatever else it concerns.
    """
    found: dict[str, list[str]] = {}
    waiting: list[str] = []
    known = shared["cautions"]
    apply: dict[str, bool] = {}  # by the condition: several steps have the same
    for figure, cautions, when in shared["careful"].get(page["routine"], ()):
        if when:
            condition = repr(when)
            if condition not in apply:
                apply[condition] = ahead(when, page) is not None
            if not apply[condition]:
                continue
        shown = [one for one in cautions if one in known]
        if figure in figures:
            _add(found.setdefault(figure, []), shown)
        else:
            waiting += shown
    named = [one for one in page["cautions"] if one in known]
    if MAXIMUM in figures:
        dangers = [one for one in named if known[one].get("severity") == CautionSeverity.DANGER]
        _add(found.setdefault(MAXIMUM, []), dangers)
    placed = {caution for cautions in found.values() for caution in cautions}
    before = [one for one in (*named, *waiting) if one not in placed]
    return {**found, BEFORE: list(dict.fromkeys(before))}


def _add(found: list[str], cautions: Iterable[str]) -> None:
    found.extend(one for one in dict.fromkeys(cautions) if one not in found)


def in_turn(rows: Iterable[dict[str, Any]]) -> None:
    """Say in each row of a page, from its top down, which cautions it names on a line of their own: the grave ones,
    where they first concern a figure. Further down they stand behind its label; of the slight ones, as of all, the text
    stands behind the row."""
    named = set[str]()
    for row in rows:
        grave = [one for one in row["cautions"] if one["severity"] != CautionSeverity.CARE]
        row["warned"] = [one for one in grave if one["title"] not in named]
        row["again"] = [one for one in grave if one["title"] in named]
        named.update(one["title"] for one in grave)
