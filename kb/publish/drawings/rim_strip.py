"""The part of the rim that is used as a narrow strip, with one figure's window and target on it; in millimetres."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from kb.publish.drawings.handedness import degrees_clockwise
from kb.publish.drawings.lettering import width_of
from kb.publish.drawings.picture import Picture
from kb.publish.drawings.rim_view import RimView
from kb.quantity import plain, plain_angle
from kb.vocabulary.engine import MarksOn

WIDTH, HEIGHT = 52.0, 10.4
_TYPE = 3.0
"""8.5 points: as small as type on the sheet may be."""
_UPPER, _DEEP = 3.2, 3.6
_NARROWEST = 0.6
"""Ticks that are closer than this would run into one another on paper."""


def rim_strip(view: RimView, prefix: str, target: Fraction, window: tuple[Fraction, Fraction] | None) -> str:
    """A strip as SVG, with the target and the window from late to early; signed degrees, as the pointer shows them."""
    picture = Picture(prefix, WIDTH, "mm")
    ends = [float(mark) for mark in (*view.numbered, target, *(window or ()))]
    late, early = min(-6.0, *ends) - 2, max(6.0, *ends) + 2
    before_left = degrees_clockwise(1, clockwise=view.clockwise, marks_on=view.marks_on) > 0
    per_degree = WIDTH / (early - late)

    def across(before: float) -> float:
        along = (before - late) * per_degree
        return WIDTH - along if before_left else along

    lower = _UPPER + _DEEP
    picture.line((0, lower), (WIDTH, lower), 0.35)
    _draw_marks(picture, view, across, per_degree)
    if window and window[0] != window[1]:
        first, last = sorted(across(float(end)) for end in window)
        picture.line((first, lower + 0.5), (last, lower + 0.5), 0.9, kind="window")
    at = across(float(target))
    picture.polygon([(at, lower + 0.2), (at - 1.3, lower + 3), (at + 1.3, lower + 3)], kind="target", thickness=0.1)
    _draw_sides(picture, at, before_left=before_left)
    moving = "the marks pass" if view.marks_on == MarksOn.FLYWHEEL else "the pointer passes"
    words = f"{view.name}, seen from the pointer's side; {moving} {'leftward' if view.clockwise else 'rightward'}"
    return picture.finish(HEIGHT, f"Where {plain_angle(target)} lies on the rim", words)


def _draw_marks(picture: Picture, view: RimView, across: Callable[[float], float], per_degree: float) -> None:
    lower = _UPPER + _DEEP
    numbered = sorted((*map(float, view.numbered), 0.0), key=lambda mark: (abs(mark), mark))
    taken: list[tuple[float, float]] = []
    for mark in numbered:
        at, words = across(mark), plain(mark) if mark else "TDC"
        half = width_of(words, _TYPE, bold=not mark) / 2
        room = half <= at <= WIDTH - half
        picture.line((at, lower - (_DEEP if not mark else 2.6)), (at, lower), 0.6 if not mark else 0.35, kind="mark")
        if room and all(at + half + 0.5 < left or right < at - half - 0.5 for left, right in taken):
            taken.append((at - half, at + half))
            picture.text((at, _UPPER - 0.6), words, _TYPE, "middle", bold=not mark, kind="number")
    division = float(view.division or 0)
    if division * per_degree >= _NARROWEST:
        for tick in range(round(min(numbered) / division), round(max(numbered) / division) + 1):
            if (degree := tick * division) not in numbered:
                picture.line((across(degree), lower - 1.4), (across(degree), lower), 0.18, kind="tick")


def _draw_sides(picture: Picture, target: float, *, before_left: bool) -> None:
    """The names of the sides at the ends below the strip, each where the target leaves room for it."""
    left, right = ("← before", "after →") if before_left else ("← after", "before →")
    under = HEIGHT - 0.8
    if width_of(left, _TYPE) < target - 2:
        picture.text((0, under), left, _TYPE, kind="side")
    if width_of(right, _TYPE) < WIDTH - target - 2:
        picture.text((WIDTH, under), right, _TYPE, "end", kind="side")
