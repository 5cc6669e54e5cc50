"""The cautions to show with each figure: those of the steps of the job that concern it, and the family's own."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from kb.book.model.catalogue import MAXIMUM
from kb.book.setting.job import ahead
from kb.vocabulary.work import CautionSeverity

if TYPE_CHECKING:
    from kb.publish.site.family.page_types import PageDocument, SharedDocument
    from kb.publish.site.family.view_types import RowView

BEFORE = ""
"""In place of a figure: cautions that concern no figure on the page are shown before the work begins."""


def cautions_by_figure(page: PageDocument, shared: SharedDocument, figures: Sequence[str]) -> dict[str, list[str]]:
    """The ids of cautions by figure; ``figures`` are those that the page shows, in the order of the job.

    A danger that the family names is shown with its maximum, whatever else it concerns.
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


def mark_warnings(rows: Iterable[RowView]) -> None:
    """Mark in each row of a page, from the top down, the grave cautions to show on a line of their own (``warned``) and
    those that an earlier row has shown (``again``), which stand behind the row's label. The text of every caution
    unfolds with the row."""
    named = set[str]()
    for row in rows:
        grave = [one for one in row["cautions"] if one["severity"] != CautionSeverity.CARE]
        row["warned"] = [one for one in grave if one["title"] not in named]
        row["again"] = [one for one in grave if one["title"] in named]
        named.update(one["title"] for one in grave)
