"""A chart of the maximum while cranking against what it is when running, and of the correction by speed."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING

from kb.book.model.answer import INVENTED_WORDS
from kb.book.model.engine_on_the_stand import ANY_ENGINE, EngineOnTheStand
from kb.publish.drawings.axes import ChartArea, axis_for
from kb.publish.drawings.picture import Picture
from kb.publish.drawings.running_view import CorrectionLine, Printed, RunningView, running_view
from kb.quantity import plain, plain_angle
from kb.vocabulary.states import State

if TYPE_CHECKING:
    from kb.book.book import Book

WIDTH, MARGIN, TYPE, SMALL = 390.0, 12.0, 12.0, 11.5
_LEFT, _SIDE = 44.0, 300.0
_AROUND = 4
"""Degrees to each side of the figures over which the lines are drawn: the correction holds for the maximum only."""
_DASHES = ("", "7 3", "2 3", "9 3 2 3", "4 4")


def running_chart(
    book: Book,
    family_id: str,
    engine: EngineOnTheStand = ANY_ENGINE,
    *,
    target: Fraction | None = None,
    prefix: str = "",
) -> str:
    """A family's cranking against its running maximum as SVG; arguments and errors as ``running_view``.

    ``prefix`` begins the drawing's ids, for several in one page; without it they begin with the family's id.
    """
    return draw_running(running_view(book, family_id, engine, target=target), prefix)[0]


def draw_running(view: RunningView, prefix: str = "") -> tuple[str, Picture]:
    """The chart as SVG, and the picture with the boxes of its words."""
    picture = Picture(prefix or f"running {view.family}", WIDTH)
    wide = WIDTH - 2 * MARGIN
    top = picture.paragraph((MARGIN, 20), f"{view.maker} {view.name}", 15, wide, bold=True)
    what = "maximum spark advance, cranking against running"
    what = "; ".join(part for part in (view.family, view.engine, what) if part)
    top = picture.paragraph((MARGIN, top), what, TYPE, wide)
    picture.text((MARGIN, top + 4), "↑ when running, degrees BTDC", SMALL)
    fills = {
        State.CRANKING: picture.pattern(State.CRANKING, 5, "M0 5L5 0M-1 1L1 -1M4 6L6 4"),
        State.RUNNING: picture.pattern(State.RUNNING, 4, "M0 2H4"),
    }
    below = _draw_readings(picture, view, top + 18, fills)
    if len(view.lines) > 1:
        below = _draw_by_speed(picture, view, below + 8)
    for words in _foot(view):
        below = picture.paragraph((MARGIN, below + 14), words, SMALL, wide) - 12
    title = f"Maximum spark advance of the {view.maker} {view.name}: cranking against running"
    return picture.finish(below + 8, title, describe(view)), picture


def _draw_readings(picture: Picture, view: RunningView, top: float, fills: Mapping[str, str]) -> float:
    """Readings while cranking across, readings when running upward, and the key below them."""
    known = [end for one in view.printed for end in (one.late, one.early)]
    known += [] if view.target is None else [view.target]
    shifts = [line.degrees for line in view.lines]
    low, high = min(known, default=Fraction(15)), max(known, default=Fraction(30))
    low, high = low - max(Fraction(0), *shifts) - _AROUND, high - min(Fraction(0), *shifts) + _AROUND
    axis = axis_for(
        float(low), float(high), 9 if low >= 0 else 5
    )  # a number after top dead centre has a word behind it, and is long
    sheet = ChartArea(MARGIN + _LEFT, top, _SIDE, _SIDE, axis, axis)
    sheet.draw(picture, SMALL)
    picture.text((WIDTH - MARGIN, top + _SIDE + 40), "while cranking, degrees BTDC →", SMALL, "end")
    keyed: list[tuple[str, str]] = []
    for number, line in enumerate(view.lines):
        dashes = _DASHES[number % len(_DASHES)]
        first, last = axis.first + max(0.0, float(line.degrees)), axis.last + min(0.0, float(line.degrees))
        ends = [sheet.place(x, x - float(line.degrees)) for x in (first, last)]
        picture.line(ends[0], ends[1], 2, dashes, kind="correction")
        keyed.append((f"line {dashes}", line_words(line, view.speed_words)))
    if all(shifts):
        picture.line(sheet.place(axis.first, axis.first), sheet.place(axis.last, axis.last), 0.7)
        keyed.append(("thin", "where both would read the same"))
    for one in view.printed:
        cranking = one.state == State.CRANKING
        spans = ((float(one.late), float(one.early)), (axis.first, axis.last))
        (x1, x2), (y1, y2) = spans if cranking else spans[::-1]
        left, right = sheet.place(x1, y2), sheet.place(x2, y1)
        if one.late != one.early:
            picture.rectangle(
                left, right[0] - left[0], right[1] - left[1], fill=fills[one.state], thickness=0.8, kind=one.state
            )
        else:
            picture.line(left, right, 1.4, "6 2 1 2", kind=one.state)
        keyed.append((f"{'band' if one.late != one.early else 'limit'} {one.state}", printed_words(one)))
        for point in points_of(view, one):
            picture.circle(sheet.place(*map(float, point)), 3.6, 1.6)
    if view.printed:
        keyed.append(("ring", "where the figures meet the line" + "s" * (len(view.lines) > 1)))
    for line, runs in zip(view.lines, view.running(view.target) if view.target is not None else (), strict=False):
        x, y = sheet.place(float(view.target or 0), float(runs))
        picture.polygon([(x, y - 6), (x + 6, y), (x, y + 6), (x - 6, y)], kind="target")
        keyed.append(("target", target_words(view, line, runs)))
    below = top + _SIDE + 48
    for swatch, words in keyed:
        below = _draw_key(picture, swatch, words, below, fills)
    return below


def _draw_key(picture: Picture, swatch: str, words: str, top: float, fills: Mapping[str, str]) -> float:
    """One line of the key: a sample of what is drawn, and its meaning."""
    kind, _, rest = swatch.partition(" ")
    y = top + 10
    if kind == "band":
        picture.rectangle((MARGIN, y - 6), 30, 12, fill=fills[rest], thickness=0.8)
    elif kind == "target":
        picture.polygon([(MARGIN + 15, y - 6), (MARGIN + 21, y), (MARGIN + 15, y + 6), (MARGIN + 9, y)])
    elif kind == "ring":
        picture.circle((MARGIN + 15, y), 3.6, 1.6)
    elif kind == "limit" and rest == State.CRANKING:
        picture.line((MARGIN + 15, y - 8), (MARGIN + 15, y + 8), 1.4, "6 2 1 2")
    else:
        thickness, dashes = {"line": (2.0, rest), "limit": (1.4, "6 2 1 2")}.get(kind, (0.7, ""))
        picture.line((MARGIN, y), (MARGIN + 30, y), thickness, dashes)
    end = picture.paragraph((MARGIN + 40, y + 4), words, TYPE, WIDTH - 2 * MARGIN - 40)
    return end - 8


def _draw_by_speed(picture: Picture, view: RunningView, top: float) -> float:
    """The correction against engine speed, between the table's ends and nowhere else."""
    table = [(float(line.speed or 0), float(line.degrees)) for line in view.lines]
    picture.text((MARGIN, top + 14), "↑ degrees earlier while cranking, by engine speed", SMALL)
    across = axis_for(table[0][0], table[-1][0], 6)
    upward = axis_for(min(0, *(degrees for _, degrees in table)), max(degrees for _, degrees in table), 5)
    sheet = ChartArea(MARGIN + _LEFT, top + 28, _SIDE, 120, across, upward)
    sheet.draw(picture, SMALL)
    places = [sheet.place(*point) for point in table]
    for start, end in pairwise(places):
        picture.line(start, end, 2, kind="by-speed")
    for place in places:
        picture.circle(place, 3.5, fill="currentColor")
    picture.text((WIDTH - MARGIN, top + 28 + 120 + 40), "engine speed, rpm →", SMALL, "end")
    words = "Dots are the source's own; between them it is taken as straight. Beyond the ends nothing is known."
    return picture.paragraph((MARGIN, top + 28 + 120 + 60), words, SMALL, WIDTH - 2 * MARGIN) - 10


def points_of(view: RunningView, one: Printed) -> list[tuple[Fraction, Fraction]]:
    """The points of the lines at the ends of a maximum, as pairs of cranking and running reading.

    A cranking maximum has points on every line, a running one only on the line of its own speed.
    """
    ends = sorted({one.late, one.early})
    if one.state == State.CRANKING:
        return [(end, end - line.degrees) for line in view.lines for end in ends]
    own = [line for line in view.lines if line.speed is None or f"{plain(line.speed)} rpm" in one.when]
    return [(end + line.degrees, end) for line in own for end in ends]


def line_words(line: CorrectionLine, speed_words: str = "") -> str:
    """A line in words, with the speed at which it holds."""
    side = "earlier" if line.degrees >= 0 else "later"
    speed = f"{plain(line.speed)} rpm" if line.speed is not None else speed_words
    than = f"{State.RUNNING} at {speed}" if speed else State.RUNNING
    return f"cranking reads {plain(line.degrees)}° {side} than {than}" if line.degrees else f"cranking reads as {than}"


def printed_words(one: Printed) -> str:
    """A maximum in words, with its state and how sure it is."""
    return f"{one.words}, {one.when}; {one.sure}"


def target_words(view: RunningView, line: CorrectionLine, runs: Fraction) -> str:
    """The target in words: the reading while cranking, and the one when running."""
    target = view.target or Fraction(0)
    shown = f" (the pointer shows {plain_angle(target + view.dead_centre)})" if view.dead_centre else ""
    speed = f" at {plain(line.speed)} rpm" if line.speed is not None else ""
    return f"target: {plain_angle(target)} while cranking{shown}, runs at {plain_angle(runs)}{speed}"


def _foot(view: RunningView) -> list[str]:
    holds = "The correction holds for the maximum alone, never for pickup or idle."
    left_out = [f"Not shown: {one.words}." for one in view.left_out]
    return [holds, *left_out, f"{INVENTED_WORDS}; data of {view.date}" if view.invented else f"data of {view.date}"]


def describe(view: RunningView) -> str:
    """The chart in words, for people who cannot see it."""
    sentences = [f"Drawn for {view.engine}."] if view.engine else []
    sentences += [
        f"Correction: {view.correction_words}{f', {view.speed_words}' if view.speed_words else ''}; {view.sure}."
    ]
    sentences += [f"Maximum: {printed_words(one)}." for one in view.printed]
    if view.target is not None:
        pairs = zip(view.lines, view.running(view.target), strict=True)
        sentences += [f"{words[0].upper()}{words[1:]}." for words in (target_words(view, *pair) for pair in pairs)]
    for one in view.left_out:
        offered = f" ({'; '.join(one.candidates)})" if one.candidates else ""
        sentences.append(f"Not shown: {one.words}{offered}.")
    if view.invented:
        sentences.append(f"This is {INVENTED_WORDS}.")
    return " ".join(sentences)
