"""The part of the rim that is used, rolled out straight and enlarged; below it each figure on a line of its own."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple, Self

from kb.frozen import record
from kb.publish.drawings.handedness import degrees_clockwise
from kb.publish.drawings.lettering import Box, box_of
from kb.publish.drawings.picture import Picture
from kb.publish.drawings.rim_view import RimView
from kb.quantity import plain

TYPE, SMALL = 12.0, 11.5
_LANES = 3
"""The most rows of numbers; a mark whose number has no room keeps its tick."""
_LANE = 16.0
_HIGH = 24
"""The height of the strip with the marks."""
_NARROWEST = 2.6
"""Ticks closer than this are not drawn: they would run into one another."""


@record()
class Row:
    """One line below the marks: its words, and where it lies, in signed degrees as the pointer shows them.

    ``shape`` is ``window``, ``limit``, ``target`` or ``centre``; ``fill`` fills a window.
    """

    heading: str
    words: str
    late: float
    early: float
    shape: str
    fill: str
    kind: str


class Unrolled(NamedTuple):
    """The scale of the enlarged part: from degrees to places across the page."""

    late: float
    early: float
    left: float
    right: float
    before_left: bool

    @classmethod
    def of(cls, view: RimView, rows: Sequence[Row], left: float, right: float) -> Self:
        """A scale wide enough for every mark and every row."""
        ends = [float(mark) for mark in view.numbered] + [end for row in rows for end in (row.late, row.early)]
        before_left = degrees_clockwise(1, clockwise=view.clockwise, marks_on=view.marks_on) > 0
        return cls(min([-8.0, *ends]) - 3, max([12.0, *ends]) + 3, left, right, before_left)

    @property
    def per_degree(self) -> float:
        """The width of a degree."""
        return (self.right - self.left) / (self.early - self.late)

    def across(self, before: float) -> float:
        """Where an angle lies across the page."""
        along = (before - self.late) * self.per_degree
        return self.right - along if self.before_left else self.left + along


def draw_unrolled(picture: Picture, view: RimView, rows: Sequence[Row], top: float, margin: float) -> float:
    """Draw the marks enlarged and a line for each row; returns where the next thing may begin."""
    sheet = Unrolled.of(view, rows, margin + 4, picture.width - margin - 4)
    left, right = ("before top dead centre", "after") if sheet.before_left else ("after", "before top dead centre")
    picture.text((margin, top), f"← {left}", SMALL)
    picture.text((picture.width - margin, top), f"{right} →", SMALL, "end")
    numbered = tuple(map(float, view.numbered))
    numbers = _lanes(numbered, sheet)
    lanes = 1 + max((lane for lane, _, _ in numbers), default=0)
    baseline = top + 20 + (lanes - 1) * _LANE
    for lane, at, words in numbers:
        picture.text((at, baseline - lane * _LANE), words, TYPE, "middle", bold=words == "TDC", kind="number")
    picture.shapes += _marks(numbered, float(view.division or 0), sheet, baseline + 5)
    under = _draw_turning(picture, view, baseline + 5 + _HIGH)
    for row in rows:
        under = _draw_row(picture, sheet, row, under, margin)
    return under


@lru_cache(maxsize=256)
def _lanes(numbered: tuple[float, ...], sheet: Unrolled) -> list[tuple[int, float, str]]:
    """Row, place and words of each number; top dead centre first, then outward, so that far ones yield to near ones."""
    placed: list[tuple[int, Box]] = []
    found = []
    for mark in sorted((*numbered, 0.0), key=lambda one: (abs(one), one)):
        at, words = sheet.across(mark), plain(mark) if mark else "TDC"
        box = box_of(at, 0, words, TYPE, "middle", bold=words == "TDC")
        near = Box(box.left - 2, box.top, box.right + 2, box.bottom, words)
        taken = {lane for lane, other in placed if near.overlaps(other)}
        free = [lane for lane in range(_LANES) if lane not in taken]
        if free and near.left >= 0 and near.right <= sheet.right + 8:
            placed.append((free[0], near))
            found.append((free[0], at, words))
    return found


@lru_cache(maxsize=256)
def _marks(numbered: tuple[float, ...], division: float, sheet: Unrolled, top: float) -> tuple[str, ...]:
    """The strip with its marks and ticks. Cached: many families have flywheels with the same marks."""
    picture, bottom = Picture("marks", 0), top + _HIGH
    picture.line((sheet.left, top), (sheet.right, top), 1.6)
    picture.line((sheet.left, bottom), (sheet.right, bottom), 0.8)
    ends = (*numbered, 0.0)
    for mark in ends:
        at = sheet.across(mark)
        thick, long = (2.6, _HIGH) if mark == 0 else (1.6, 15)
        picture.line((at, top), (at, top + long), thick, kind="mark")
    if division * sheet.per_degree >= _NARROWEST:
        for tick in range(round(min(ends) / division), round(max(ends) / division) + 1):
            if tick * division not in ends:
                at = sheet.across(tick * division)
                picture.line((at, top), (at, top + 8), 0.8, kind="tick")
    return tuple(picture.shapes)


def _draw_turning(picture: Picture, view: RimView, top: float) -> float:
    """An arrow in the direction of movement. On the near side a flywheel turning clockwise goes to the left."""
    moving = "flywheel goes this way" if view.marks_on == "flywheel" else "pointer on the flywheel goes this way"
    way = -1 if view.clockwise else 1
    middle, y = picture.width / 2, top + 17
    picture.text((middle, y), moving, SMALL, "middle")
    box = box_of(middle, y, moving, SMALL, "middle")
    start, end = (box.left - 8, box.left - 46) if way < 0 else (box.right + 8, box.right + 46)
    picture.line((start, y - 4), (end - way * 6, y - 4), 1.6)
    picture.polygon([(end, y - 4), (end - way * 9, y - 8.5), (end - way * 9, y + 0.5)], kind="turning")
    return y + 6


def _draw_row(picture: Picture, sheet: Unrolled, row: Row, top: float, margin: float) -> float:
    wide = picture.width - 2 * margin
    baseline = picture.paragraph((margin, top + 16), row.heading, TYPE, wide, bold=True)
    if row.words:
        baseline = picture.paragraph((margin, baseline), row.words, SMALL, wide)
    upper = baseline - 9
    lower = upper + 13
    middle = (upper + lower) / 2
    picture.line((sheet.left, middle), (sheet.right, middle), 0.6, "1 3")
    picture.line((sheet.across(0), upper), (sheet.across(0), lower), 1)
    first, last = sorted((sheet.across(row.late), sheet.across(row.early)))
    if row.shape == "window":
        picture.rectangle((first, upper), last - first, lower - upper, fill=row.fill, kind=row.kind)
        for end in (first, last):
            picture.line((end, upper - 1), (end, lower + 1), 2)
    elif row.shape == "target":
        picture.polygon([(first, upper - 1), (first - 6, lower), (first + 6, lower)], kind=row.kind)
    else:
        dashes = "3 2" if row.shape == "centre" else ""
        picture.line((first, upper - 1), (first, lower + 1), 3, dashes, kind=row.kind)
    return lower + 6
