"""From a figure to the target of one engine today: what the pointer should show, and where that is on the flywheel."""

from __future__ import annotations

from fractions import Fraction

from kb.book.lookup.look_up import look_up
from kb.book.lookup.which_family import require_family
from kb.book.model.answer import Answer
from kb.book.model.crank_geometry import Crank
from kb.book.model.engine_on_the_stand import ANY_ENGINE, EngineOnTheStand
from kb.book.setting.flywheel import Flywheel
from kb.book.setting.pointer import pointer_input, pointer_remarks, require_near_centre
from kb.book.setting.rim_position import OnTheRim, on_the_rim
from kb.book.setting.when_running import WhenRunning, when_running
from kb.book.setting.window import Setting, SettingRule, setting
from kb.calc.dead_centre import indicated_angle, true_angle
from kb.errors import NotAnAngle
from kb.frozen import record
from kb.quantity import (
    PISTON_MM,
    Dimension,
    Quantity,
    Toward,
    angle_in_words,
    plain,
    plain_angle,
    round_to_step,
    signed_quantity,
)
from kb.working import Input, Step, Working, working_document

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from kb.book.model.book_reader import BookReader
    from kb.book.model.family import Heading


@record()
class Aim:
    """A target for one engine today.

    ``answer`` is the figure as the book has it; ``show`` what the pointer should show, ``window`` the readings between
    which it is right (None where one end is open), ``dead_centre`` what the pointer shows at true top dead centre in
    signed degrees (None where it was not given), ``margin`` the degrees kept to the late side, ``rim`` the place on the
    flywheel, ``piston`` the same target by the depth gauge, without the pointer's error (where the crank is known),
    ``running`` what it will be when running.
    """

    answer: Answer
    show: Quantity
    window: Quantity | None
    dead_centre: Fraction | None
    margin: Fraction
    rim: OnTheRim | None
    piston: Quantity | None
    running: WhenRunning
    working: Working
    remarks: tuple[str, ...]

    def to_document(self) -> dict[str, Any]:
        """The target as plain values for JSON, with the figure's answer in it; numbers as text."""
        return {
            "family": self.answer.family,
            "figure": self.answer.figure,
            "state": self.answer.state,
            "show": str(self.show),
            "window": None if self.window is None else str(self.window),
            "printed": self.answer.printed,
            "how_sure": self.answer.how_sure,
            "dead_centre_reading": None if self.dead_centre is None else angle_in_words(self.dead_centre),
            "margin_deg": plain(self.margin),
            "rim": self.rim.to_document() if self.rim else None,
            "piston": None if self.piston is None else str(self.piston),
            "running": self.running.to_document(),
            "working": working_document(self.working),
            "remarks": list(self.remarks),
            "answer": self.answer.to_document(),
            "date": self.answer.date,
            "invented": self.answer.invented,
        }


def aim(book: BookReader, family: str, figure: str, engine: EngineOnTheStand = ANY_ENGINE) -> Aim:
    """What the pointer should show for a figure of a family on an engine.

    The engine's margin is taken only from a maximum and goes to its late side: from a lone number up to the catalogue's
    limit, in a printed window never past its late end. A maximum is never aimed past its early end; pickup and idle
    are aimed at the middle of their window. Rounded toward late, to half a degree where that stays inside and, but for
    a maximum, takes no more than half of the way to the late end.

    Raises:
        LookUpError, Refusal: as ``Book.look_up``.
        DeadCentreTooFar: the pointer is out by more than 3 degrees: stop, and look at the flywheel first.
        MarginTooWide: the margin is more than the catalogue allows, or the figure takes none.
        NotAnAngle: the figure is not set by the timing light, or has no one target.
    """
    answer, heading, found = set_on_engine(book, family, figure, engine)
    if found.target is None:
        raise NotAnAngle(f"{answer.label.lower()} of {answer.family} is {answer.printed}: {found.remarks[0]}")
    show = found.shown(found.target, engine.pointer)
    shown = plain_angle(show)
    running = when_running(book, answer, show, engine)
    flywheel = Flywheel.read(heading.part("flywheel"))
    step = _step(answer, found, found.target, engine, show)
    return Aim(
        answer,
        shown,
        found.allowed(engine.pointer),
        engine.dead_centre,
        found.margin,
        on_the_rim(flywheel, show, true_angle(show, engine.pointer)),
        _piston(answer, heading, found.target),
        running,
        (*answer.working, step, *running.working),
        (*answer.remarks, *found.remarks, *pointer_remarks(engine.dead_centre)),
    )


def set_on_engine(
    book: BookReader, family: str, figure: str, engine: EngineOnTheStand
) -> tuple[Answer, Heading, Setting]:
    """A figure of a family as the book has it, the family, and the figure as something to set on an engine.

    Raises:
        LookUpError, Refusal: as ``aim``.
    """
    require_near_centre(engine.pointer)
    answer = look_up(book, family, figure, engine)
    heading = book.get_heading(answer.family) or require_family(book, answer.family, engine)
    rule = SettingRule.read(book.figures[answer.figure].document)
    try:
        found = setting(answer.value, rule, Crank.of(heading), engine.margin)
    except NotAnAngle as error:
        raise NotAnAngle(f"{answer.label.lower()} of {answer.family} is {error}") from None
    return answer, heading, found


def _piston(answer: Answer, family: Heading, target: Fraction) -> Quantity | None:
    """The piston travel at a true target, in the printed unit or hundredths of a millimetre, rounded toward late; first
    rounded to a millionth, so that a float's noise does not tip that rounding."""
    crank = Crank.of(family)
    if crank is None:
        return None
    unit, step = PISTON_MM, Fraction(1, 100)
    if isinstance(answer.value, Quantity) and answer.value.unit.dimension is Dimension.PISTON_POSITION:
        unit, step = answer.value.unit, answer.value.step
    position = round_to_step(crank.signed_position(target, unit), Fraction(1, 10**6))
    return signed_quantity(unit, position, position, step, Toward.DOWN)


def _step(answer: Answer, found: Setting, target: Fraction, engine: EngineOnTheStand, show: Fraction) -> Step:
    cited = "worked out above" if answer.working else answer.where
    inputs = [Input(f"{answer.label.lower()}, {answer.state}", answer.printed, cited)]
    start = target + found.margin
    if not found.lone:
        where = {found.low: "the late end", found.high: "the early end"}.get(start, "the middle of the window")
        inputs.append(Input("aimed at", angle_in_words(start), where))
    elif start != answer.high:
        inputs.append(Input("aimed at", angle_in_words(start), "through stroke and rod"))
    inputs.append(pointer_input(engine.dead_centre))
    if found.margin:
        inputs.append(Input("margin to the late side", f"{plain(found.margin)}°", "the mechanic's choice"))
    formula = "figure + dead-centre reading" + (" - margin" if found.margin else "")
    rounding = "" if indicated_angle(target, engine.pointer) == show else "toward late"
    return Step("what the pointer should show", formula, tuple(inputs), str(plain_angle(show)), rounding)
