"""The running figure for a cranking reading, by the sourced correction; or why it is not known."""

from __future__ import annotations

from fractions import Fraction

from kb.book.lookup.look_up import look_up
from kb.book.model.catalogue import CORRECTION, MAXIMUM
from kb.calc.correction import correction_at
from kb.calc.dead_centre import true_angle
from kb.calc.target import running_of_indicated
from kb.errors import LookUpError, Refusal
from kb.frozen import record
from kb.quantity import Correction, Quantity, angle_in_words, plain, plain_angle
from kb.vocabulary.states import State
from kb.working import Input, Step, Working

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from kb.book.model.answer import Answer
    from kb.book.model.book_reader import BookReader
    from kb.book.model.engine_on_the_stand import EngineOnTheStand

_TENTH = Fraction(1, 10)


@record()
class WhenRunning:
    """The running figures for a cranking reading, one for each known speed; or in ``unknown`` why there are none."""

    values: tuple[tuple[str, Quantity], ...] = ()
    unknown: str = ""
    working: Working = ()

    @property
    def words(self) -> str:
        """In words; empty for a figure that is never corrected."""
        at_speeds = [f"{value} at {at}" if at else str(value) for at, value in self.values]
        return ", ".join(at_speeds) or self.unknown

    def to_document(self) -> dict[str, Any]:
        """The same as plain values for JSON."""
        return {
            "values": [{"at": at, "value": str(value)} for at, value in self.values],
            "unknown": self.unknown,
            "words": self.words,
        }


def when_running(book: BookReader, answer: Answer, indicated: Fraction, engine: EngineOnTheStand) -> WhenRunning:
    """The true running figure for a cranking angle that the pointer shows, in signed degrees.

    Only for a maximum that is read cranking: nothing else is ever corrected. The engine's ``running_rpm`` picks one
    speed from a correction that is a table; without it there is a figure for each speed of the table.
    """
    if answer.figure != MAXIMUM or answer.state != State.CRANKING:
        return WhenRunning()
    try:
        found = look_up(book, answer.family, CORRECTION, engine.asked())
        if not isinstance(found.value, Correction):
            return WhenRunning(unknown=f"unknown: {found.label.lower()} is {found.printed}")
        return through_correction(
            found.value, indicated, engine.pointer, at=found.conditions, where=found.where, rpm=engine.running_rpm
        )
    except (LookUpError, Refusal) as error:
        return WhenRunning(unknown=f"unknown: {error}")


def through_correction(
    correction: Correction,
    indicated: Fraction,
    dead_centre: Fraction,
    *,
    at: str = "",
    where: str = "",
    rpm: Fraction | None = None,
) -> WhenRunning:
    """The true running figure for a cranking angle that the pointer shows; signed degrees.

    ``at`` names the conditions of a constant correction in words, and ``where`` its source.

    Raises:
        Refusal: the correction is a table that does not reach the speed asked for.
    """
    points = [(point.rpm.value if point.rpm else None, point.signed) for point in correction.points]
    speeds = [speed for speed, _ in points] if rpm is None or points[0][0] is None else [rpm]
    values, steps = [], []
    for speed in speeds:
        degrees = correction_at(points, speed)
        running = running_of_indicated(indicated, dead_centre, degrees)
        value = plain_angle(running, finest=_TENTH)
        when = f"{plain(speed)} rpm" if speed is not None else at
        values.append((when, value))
        side = "earlier" if degrees >= 0 else "later"
        inputs = (
            Input("true cranking angle", angle_in_words(true_angle(indicated, dead_centre))),
            Input("correction", f"reads {plain(degrees)}° {side} while cranking than when running", where),
        )
        name = f"when running, at {when}" if when else "when running"
        formula = f"cranking {'-' if degrees >= 0 else '+'} correction"
        steps.append(Step(name, formula, inputs, str(value), "to 0.1°, toward late" if value.low != running else ""))
    return WhenRunning(tuple(values), "", tuple(steps))
