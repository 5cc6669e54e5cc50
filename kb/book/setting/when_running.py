"""What a cranking reading will be when the engine runs, through the sourced correction; or why that is not known."""

from __future__ import annotations

from fractions import Fraction

from kb.book.lookup.look_up import look_up
from kb.book.model.answer import Answer
from kb.book.model.catalogue import CORRECTION, MAXIMUM
from kb.calc.correction import correction_at, running_from_cranking
from kb.errors import LookUpError, Refusal
from kb.frozen import record
from kb.quantity import Correction, Quantity, angle_in_words, plain, plain_angle
from kb.vocabulary import State
from kb.working import Input, Step, Working

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from kb.book.model.book_reader import BookReader

_TENTH = Fraction(1, 10)


@record()
class WhenRunning:
    """What a cranking reading comes to when running: at each speed that is known; ``unknown`` says why nothing is."""

    values: tuple[tuple[str, Quantity], ...] = ()
    unknown: str = ""
    working: Working = ()

    @property
    def words(self) -> str:
        """In words; empty where there is nothing to say."""
        said = [f"{value} at {at}" if at else str(value) for at, value in self.values]
        return ", ".join(said) or self.unknown

    def to_document(self) -> dict[str, Any]:
        """The same as plain values for JSON."""
        return {
            "values": [{"at": at, "value": str(value)} for at, value in self.values],
            "unknown": self.unknown,
            "words": self.words,
        }


def when_running(
    book: BookReader,
    answer: Answer,
    true: Fraction,
    serial: str | int | None,
    year: int | None,
    rpm: Fraction | int | None,
) -> WhenRunning:
    """What a true cranking angle, in signed degrees, will be when running.

    Only of a maximum that is read cranking: nothing else is ever corrected. ``rpm`` asks for one speed of a correction
    that is a table; without it each speed of the table is told.
    """
    if answer.figure != MAXIMUM or answer.state != State.CRANKING:
        return WhenRunning()
    try:
        found = look_up(book, answer.family, CORRECTION, serial=serial, year=year)
        return through_correction(found, true, rpm)
    except (LookUpError, Refusal) as error:
        return WhenRunning(unknown=f"not known: {error}")


def through_correction(found: Answer, true: Fraction, rpm: Fraction | int | None = None) -> WhenRunning:
    """What a true cranking angle, in signed degrees, will be when running, through a correction that was looked up.

    Raises:
        Refusal: the correction is a table that does not reach the speed asked for.
    """
    if not isinstance(found.value, Correction):
        return WhenRunning(unknown=f"not known: {found.label.lower()} is {found.printed}")
    points = [(point.rpm.value if point.rpm else None, point.signed) for point in found.value.points]
    speeds = [speed for speed, _ in points] if rpm is None or points[0][0] is None else [Fraction(rpm)]
    corrected = [(speed, correction_at(points, speed)) for speed in speeds]
    values, steps = [], []
    for speed, degrees in corrected:
        at = f"{plain(speed)} rpm" if speed is not None else found.conditions
        running = running_from_cranking(true, degrees)
        value = plain_angle(running, finest=_TENTH)
        values.append((at, value))
        side = "earlier" if degrees >= 0 else "later"
        cited = found.evidence[0]
        inputs = (
            Input("true cranking angle", angle_in_words(true)),
            Input("correction", f"reads {plain(degrees)}° {side} while cranking than when running", cited.where),
        )
        name = f"when running, at {at}" if at else "when running"
        formula = f"cranking {'-' if degrees >= 0 else '+'} correction"
        steps.append(Step(name, formula, inputs, str(value), "to 0.1°, toward late" if value.low != running else ""))
    return WhenRunning(tuple(values), "", tuple(steps))
