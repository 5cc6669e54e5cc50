"""What a drawing of the flywheel rim shows: figures taken from the book, and those that had to be left out."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

from kb.book.lookup.look_up import look_up
from kb.book.lookup.which_family import require_family
from kb.book.model.answer import Answer
from kb.book.model.crank_geometry import Crank, in_degrees
from kb.book.model.engine_on_the_stand import ANY_ENGINE, EngineOnTheStand
from kb.book.setting.flywheel import Flywheel
from kb.book.setting.pointer import require_near_centre
from kb.calc.rim import arc
from kb.errors import FigureUnknown, LookUpError, NoCorrectionKnown, Refusal, StateNotFound
from kb.frozen import record
from kb.quantity import Dimension, Quantity
from kb.vocabulary.engine import Rotation
from kb.vocabulary.states import SETTING_STATES

if TYPE_CHECKING:
    from kb.book.book import Book

SHOWN_FIGURES = ("max-advance", "throttle-pickup", "idle-timing")


@record()
class Band:
    """A figure on the rim: its later and earlier end as true signed degrees, before top dead centre positive.

    ``words`` is the figure as printed, with the angle where that was worked out; ``when`` its state and conditions;
    ``sure`` how well it is supported.
    """

    figure: str
    label: str
    late: Fraction
    early: Fraction
    words: str
    when: str
    sure: str


@record()
class LeftOut:
    """A figure that is not drawn, and why; ``candidates`` are what the book has instead, or needs to know."""

    figure: str
    label: str
    why: str
    candidates: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """The figure and why it is not shown, naming the figure once."""
        return self.why if self.label.lower() in self.why.lower() else f"{self.label.lower()}: {self.why}"


@record()
class RimView:
    """Everything that a drawing of the rim shows.

    Angles are signed degrees, before top dead centre positive. ``engine`` is the one it was drawn for, if any.
    ``numbered`` are the marks with a number, ``division`` is the size of one division, where the family states it.
    ``bands`` are true angles; the pointer shows ``dead_centre`` more. ``target`` is the pointer's reading there.
    ``diameter`` is the rim's in millimetres.
    """

    family: str
    name: str
    maker: str
    engine: str
    clockwise: bool
    marks_on: str
    numbered: tuple[Fraction, ...]
    division: Fraction | None
    diameter: Fraction | None
    bands: tuple[Band, ...]
    left_out: tuple[LeftOut, ...]
    target: Fraction | None
    target_words: str
    dead_centre: Fraction
    invented: bool
    date: str

    @property
    def turning(self) -> str:
        """The direction of rotation, in a word."""
        return Rotation.CLOCKWISE if self.clockwise else Rotation.ANTICLOCKWISE

    def to_document(self) -> dict[str, Any]:
        """The same as plain values for JSON; degrees as numbers, signed, before top dead centre positive."""
        own = vars(self)
        return {
            **{name: _number(value) if isinstance(value, Fraction) else value for name, value in own.items()},
            "numbered": [_number(mark) for mark in self.numbered],
            "bands": [{**vars(band), "late": _number(band.late), "early": _number(band.early)} for band in self.bands],
            "left_out": [{**vars(one), "candidates": list(one.candidates)} for one in self.left_out],
        }


def rim_view(
    book: Book,
    family_id: str,
    engine: EngineOnTheStand = ANY_ENGINE,
    *,
    target: Fraction | None = None,
    target_words: str = "",
) -> RimView:
    """What a drawing of a family's flywheel rim shows, for an engine.

    Figures are shown in the engine's ``state`` where the book has it; else in the state that they are set in: cranking,
    static, running. ``target`` in signed degrees is the pointer's reading at the target.

    Raises:
        LookUpError: no such family or engine; or it is not known how the flywheel turns or what bears the marks.
        DeadCentreTooFar: the pointer is out by more than 3 degrees.
    """
    require_near_centre(engine.pointer)
    family = require_family(book, family_id, engine)
    flywheel = Flywheel.read(family.part("flywheel"))
    for value, what in (
        (flywheel.rotation, "which way the flywheel turns"),
        (flywheel.marks_on, "what bears the timing marks"),
    ):
        if not value:
            raise FigureUnknown(f"no source says {what} on {family.id}; without it before and after have no side")
    crank = Crank.of(family)
    found = [_band(book, family.id, figure, crank, engine) for figure in SHOWN_FIGURES if figure in book.figures]
    return RimView(
        family.id,
        family.name,
        book.makers[family.maker].name if family.maker in book.makers else family.maker,
        engine_words(engine),
        flywheel.rotation == Rotation.CLOCKWISE,
        flywheel.marks_on,
        tuple(mark for mark in flywheel.numbered if mark),
        flywheel.division,
        flywheel.diameter,
        tuple(one for one in found if isinstance(one, Band)),
        tuple(one for one in found if isinstance(one, LeftOut)),
        target,
        target_words,
        engine.pointer,
        book.invented or family.invented,
        book.date,
    )


def engine_words(engine: EngineOnTheStand) -> str:
    """The engine that a drawing is for, such as ``serial 301455``; empty for no particular engine."""
    named = (("serial", engine.serial), ("year", engine.year))
    return ", ".join(f"{name} {value}" for name, value in named if value)


def rim_millimetres(degrees: float, diameter: Fraction) -> float:
    """The distance along the rim of an angle in degrees, in millimetres."""
    return arc(degrees, float(diameter))


def look_up_as_set(book: Book, family: str, figure: str, engine: EngineOnTheStand) -> Answer:
    """The figure in the state that is asked for, else in the first state in which it is set.

    Raises:
        LookUpError, Refusal: there is none; the error is that of the last state tried, or of the one at fault.
    """
    *others, last = dict.fromkeys((engine.state, *SETTING_STATES) if engine.state else SETTING_STATES)
    for state in others:
        try:
            return look_up(book, family, figure, engine.asked(state))
        except (StateNotFound, NoCorrectionKnown):
            continue  # it is not set in that state; any other error must not be hidden by trying another state
    return look_up(book, family, figure, engine.asked(last))


def _band(book: Book, family: str, figure: str, crank: Crank | None, engine: EngineOnTheStand) -> Band | LeftOut:
    label = book.figures[figure].label
    try:
        answer = look_up_as_set(book, family, figure, engine)
    except (LookUpError, Refusal) as error:
        return LeftOut(figure, label, str(error), error.candidates)
    value = answer.value
    degrees = in_degrees(value, crank) if isinstance(value, Quantity) else None
    if degrees is None:
        return LeftOut(figure, label, f"{answer.printed}: no crank is known to work its angle out with")
    if degrees.low is None or degrees.high is None:
        return LeftOut(figure, label, f"{answer.printed}: it is open to one side")
    words = answer.printed
    if isinstance(value, Quantity) and value.unit.dimension is Dimension.PISTON_POSITION:
        words = f"{words}: worked out to {degrees}"
    when = ", ".join(part for part in (answer.state, answer.conditions) if part)
    return Band(figure, label, degrees.low, degrees.high, words, when, answer.how_sure)


def _number(value: Fraction | None) -> float | int | None:
    if value is None:
        return None
    return int(value) if value.denominator == 1 else float(value)
