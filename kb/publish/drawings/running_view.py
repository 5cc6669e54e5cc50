"""What a chart of cranking against running shows: the sourced correction of a maximum, and the figures around it."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

from kb.book.lookup.look_up import look_up
from kb.book.lookup.which_family import require_family
from kb.book.model.answer import Answer
from kb.book.model.catalogue import CORRECTION, MAXIMUM
from kb.book.model.engine_on_the_stand import ANY_ENGINE, EngineOnTheStand
from kb.book.setting.pointer import require_near_centre
from kb.calc.correction import running_from_cranking
from kb.calc.dead_centre import true_angle
from kb.errors import LookUpError, NoCorrectionKnown, Refusal
from kb.frozen import record
from kb.publish.drawings.rim_view import LeftOut, engine_words
from kb.quantity import DEGREE_OF_CRANK, Correction, Quantity
from kb.vocabulary.states import CORRECTED_STATES

if TYPE_CHECKING:
    from kb.book.book import Book


@record()
class CorrectionLine:
    """How much earlier (positive) or later the maximum reads while cranking, in degrees; ``speed`` in rpm where the
    correction is a table."""

    speed: Fraction | None
    degrees: Fraction


@record()
class Printed:
    """A maximum as the book has it: signed degrees, before top dead centre positive, in the state it holds in."""

    state: str
    late: Fraction
    early: Fraction
    words: str
    when: str
    sure: str


@record()
class RunningView:
    """Everything that a chart of cranking against running shows.

    ``lines`` is one line, or one for each speed of a table, the slowest first. ``speed_words`` is the speed at which a
    constant holds, if its source names one. ``target`` is a true cranking reading: the pointer shows ``dead_centre``
    more.
    """

    family: str
    name: str
    maker: str
    engine: str
    lines: tuple[CorrectionLine, ...]
    correction_words: str
    speed_words: str
    sure: str
    printed: tuple[Printed, ...]
    left_out: tuple[LeftOut, ...]
    target: Fraction | None
    dead_centre: Fraction
    invented: bool
    date: str

    def running(self, cranking: Fraction) -> list[Fraction]:
        """The running reading by each line for a cranking reading."""
        return [running_from_cranking(cranking, line.degrees) for line in self.lines]

    def to_document(self) -> dict[str, Any]:
        """The same as plain values for JSON; degrees as numbers, signed, before top dead centre positive."""
        return {
            **{name: _plain(value) for name, value in vars(self).items()},
            "lines": [{name: _plain(value) for name, value in vars(line).items()} for line in self.lines],
            "printed": [{name: _plain(value) for name, value in vars(one).items()} for one in self.printed],
            "left_out": [{**vars(one), "candidates": list(one.candidates)} for one in self.left_out],
        }


def running_view(
    book: Book, family_id: str, engine: EngineOnTheStand = ANY_ENGINE, *, target: Fraction | None = None
) -> RunningView:
    """The maximum of a family while cranking against the maximum when running, for an engine.

    ``target`` in signed degrees is the pointer's reading at the target while cranking.

    Raises:
        LookUpError, Refusal: there is no sourced correction, and why; nothing is drawn then.
        DeadCentreTooFar: the pointer is out by more than 3 degrees.
    """
    require_near_centre(engine.pointer)
    family = require_family(book, family_id, engine)
    answer = look_up(book, family.id, CORRECTION, engine.asked())
    if not isinstance(answer.value, Correction):
        raise NoCorrectionKnown(f"no correction between cranking and running of {family.id} is known in degrees")
    lines = [CorrectionLine(point.rpm.value if point.rpm else None, point.signed) for point in answer.value.points]
    found = [_printed(book, family.id, engine.asked(state)) for state in CORRECTED_STATES]
    return RunningView(
        family.id,
        answer.name,
        answer.maker,
        engine_words(engine),
        tuple(lines),
        answer.printed,
        answer.conditions,
        answer.how_sure,
        tuple(one for one in found if isinstance(one, Printed)),
        tuple(one for one in found if isinstance(one, LeftOut)),
        None if target is None else true_angle(target, engine.pointer),
        engine.pointer,
        answer.invented,
        answer.date,
    )


def _printed(book: Book, family: str, engine: EngineOnTheStand) -> Printed | LeftOut:
    label = f"maximum {engine.state}"
    try:
        answer = look_up(book, family, MAXIMUM, engine)
    except (LookUpError, Refusal) as error:
        return LeftOut(MAXIMUM, label, str(error), error.candidates)
    value = answer.value
    if not isinstance(value, Quantity) or value.unit is not DEGREE_OF_CRANK or value.low is None or value.high is None:
        return LeftOut(MAXIMUM, label, f"{answer.printed} is no angle with two ends")
    return Printed(engine.state, value.low, value.high, answer.printed, _when(answer), answer.how_sure)


def _when(answer: Answer) -> str:
    return ", ".join(part for part in (answer.state, answer.conditions) if part)


def _plain(value: Any) -> Any:
    if isinstance(value, Fraction):
        return int(value) if value.denominator == 1 else float(value)
    return value
