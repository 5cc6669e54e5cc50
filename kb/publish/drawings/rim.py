"""A drawing of a family's flywheel rim: the marks, the figures that are set there, and the target."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING

from kb.book.model.answer import INVENTED_WORDS
from kb.book.model.engine_on_the_stand import ANY_ENGINE, EngineOnTheStand
from kb.errors import LookUpError, Refusal
from kb.publish.drawings.picture import Picture
from kb.publish.drawings.rim_view import Band, RimView, rim_millimetres, rim_view
from kb.publish.drawings.unrolled import Row, draw_unrolled
from kb.publish.drawings.wheel import HEIGHT, RADIUS, draw_wheel
from kb.quantity import angle_in_words, plain, plain_angle
from kb.vocabulary.engine import MarksOn

if TYPE_CHECKING:
    from kb.book.book import Book

WIDTH, MARGIN, TYPE, SMALL = 390.0, 12.0, 12.0, 11.5
"""Units are pixels on a phone."""

_SHAPES = {
    "max-advance": ("maximum", 5.0, "M0 5L5 0M-1 1L1 -1M4 6L6 4"),
    "throttle-pickup": ("pickup", 4.0, "M0 2H4"),
    "idle-timing": ("idle", 4.0, "M2 0.6V2.4"),
}
"""The pattern of each figure: slanting lines, level lines, dots."""


def rim_drawing(
    book: Book,
    family_id: str,
    engine: EngineOnTheStand = ANY_ENGINE,
    *,
    target: Fraction | None = None,
    target_words: str = "",
    prefix: str = "",
) -> str:
    """A family's flywheel rim as SVG; arguments and errors as ``rim_view``.

    ``prefix`` begins the drawing's ids, for several in one page; without it they begin with the family's id.
    """
    return draw_rim(rim_view(book, family_id, engine, target=target, target_words=target_words), prefix)[0]


def rim_or_why(book: Book, family_id: str) -> str:
    """A family's rim as SVG; where it cannot be drawn, a picture that says why."""
    try:
        return rim_drawing(book, family_id)
    except (LookUpError, Refusal) as error:
        picture, words = Picture(f"rim {family_id}", WIDTH), f"No drawing: {error}."
        below = picture.paragraph((MARGIN, 24), words, TYPE, WIDTH - 2 * MARGIN)
        return picture.finish(below, "No drawing of the flywheel rim", words)


def draw_rim(view: RimView, prefix: str = "") -> tuple[str, Picture]:
    """The drawing as SVG, and the picture with the boxes of its words."""
    picture = Picture(prefix or f"rim {view.family}", WIDTH)
    wide = WIDTH - 2 * MARGIN
    baseline = picture.paragraph((MARGIN, 20), f"{view.maker} {view.name}", 15, wide, bold=True)
    where = "; ".join(
        part for part in (view.family, view.engine, "flywheel rim seen from above, the pointer towards you") if part
    )
    top = picture.paragraph((MARGIN, baseline), where, TYPE, wide) - 18
    fills = {figure: picture.pattern(*shape) for figure, shape in _SHAPES.items()}
    draw_wheel(picture, view, MARGIN + RADIUS + 24, top, fills)
    below = max(top + HEIGHT, _facts(picture, view, top + 30))
    enlarged = "Enlarged: the part of the rim that is used, rolled out straight, not to the scale of the circle."
    below = picture.paragraph((MARGIN, below + 14), enlarged, SMALL, wide)
    below = draw_unrolled(picture, view, _rows(view, fills), below + 6, MARGIN)
    for words in _foot(view):
        below = picture.paragraph((MARGIN, below + 14), words, SMALL, wide) - 12
    title = f"Flywheel rim of the {view.maker} {view.name}, seen from above"
    return picture.finish(below + 8, title, describe(view)), picture


def _facts(picture: Picture, view: RimView, top: float) -> float:
    """Write the facts of the rim beside the circle; returns where they end."""
    left = MARGIN + 2 * RADIUS + 60
    for number, words in enumerate(facts(view)):
        top = picture.paragraph((left, top), words, TYPE, WIDTH - MARGIN - left, bold=number == 0) + 5
    return top


def facts(view: RimView) -> list[str]:
    """The direction of rotation, what bears the marks, what a division is worth, and a degree along the rim."""
    marks = "the marks are on the flywheel, the pointer is fixed"
    if view.marks_on != MarksOn.FLYWHEEL:
        marks = "the scale is fixed, the pointer is on the flywheel"
    ticks = (
        _tick_in_words(view.division)
        if view.division
        else (
            "what a division is worth is unknown: do not count divisions" if view.numbered else "no mark bears a number"
        )
    )
    return [f"turns {view.turning}", marks, ticks, *([_degree_in_words(view.diameter)] if view.diameter else [])]


@lru_cache(maxsize=64)
def _tick_in_words(division: Fraction) -> str:
    return f"one division is {plain(division)}°"


@lru_cache(maxsize=1024)
def _degree_in_words(diameter: Fraction) -> str:
    return f"1° is {rim_millimetres(1, diameter):.2f} mm along the rim, {plain(diameter, 1)} mm across"


@lru_cache(maxsize=256)
def _marks_in_words(numbered: tuple[Fraction, ...]) -> str:
    return ", ".join(str(plain_angle(mark)) for mark in reversed(numbered)) or "none"


def _rows(view: RimView, fills: dict[str, str]) -> list[Row]:
    shift = view.dead_centre
    rows = []
    if view.target is not None:
        at = float(view.target)
        rows.append(Row(f"Target: {_shown(view.target)}", view.target_words, at, at, "target", "", "target"))
    if shift:
        words = f"the pointer shows {angle_in_words(shift)} there; all figures below are moved by it"
        rows.append(Row("True top dead centre", words, float(shift), float(shift), "centre", "", "centre"))
    for band in view.bands:
        heading = f"{band.label}: {band.words}"
        words = f"{band.when}; {band.sure}" + (f"; the pointer shows {_window(band, shift)}" if shift else "")
        late, early = float(band.late + shift), float(band.early + shift)
        shape = "limit" if late == early else "window"
        rows.append(Row(heading, words, late, early, shape, fills[band.figure], band.figure))
    return rows


def _shown(angle: Fraction) -> str:
    return f"the pointer shows {plain_angle(angle)}"


def _window(band: Band, shift: Fraction) -> str:
    return str(plain_angle(band.late + shift, band.early + shift))


def _foot(view: RimView) -> list[str]:
    left_out = [f"Not shown: {one.words}." for one in view.left_out]
    return [*left_out, f"{INVENTED_WORDS}; data of {view.date}" if view.invented else f"data of {view.date}"]


def describe(view: RimView) -> str:
    """The drawing in words, for people who cannot see it."""
    drawn_for = [f"Drawn for {view.engine}."] if view.engine else []
    marks = _marks_in_words(view.numbered)
    sentences = [*drawn_for, f"Cylinder one; {'; '.join(facts(view))}.", f"Numbered marks: {marks}."]
    if view.marks_on == MarksOn.FLYWHEEL:
        sentences.append("Marks before top dead centre lie ahead of the top-dead-centre mark in the turn.")
    else:
        sentences.append("Marks before top dead centre lie against the turn from the top-dead-centre mark.")
    if view.target is not None:
        sentences.append(f"Target: {_shown(view.target)}{f', {view.target_words}' if view.target_words else ''}.")
    if view.dead_centre:
        sentences.append(f"At true top dead centre the pointer shows {angle_in_words(view.dead_centre)}.")
    sentences += [f"{band.label}: {band.words}, {band.when}, {band.sure}." for band in view.bands]
    for one in view.left_out:
        offered = f" ({'; '.join(one.candidates)})" if one.candidates else ""
        sentences.append(f"Not shown: {one.words}{offered}.")
    if view.invented:
        sentences.append(f"This is {INVENTED_WORDS}.")
    return " ".join(sentences)
