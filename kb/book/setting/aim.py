"""From a figure to what the pointer should show on one engine today, and where that is on the flywheel."""

from __future__ import annotations

from fractions import Fraction

from kb.book.lookup.look_up import look_up
from kb.book.lookup.which_family import require_family
from kb.book.model.answer import Answer
from kb.book.model.crank_geometry import Crank
from kb.book.setting.pointer import NOT_READ, pointer_input, require_near_centre
from kb.book.setting.rim_position import OnTheRim, on_the_rim
from kb.book.setting.when_running import WhenRunning, when_running
from kb.book.setting.window import STEPS, Setting, setting
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
    from kb.book.model.family import Family


@record()
class Aim:
    """A target for one engine today.

    ``answer`` is the figure as the book has it; ``show`` what the pointer should show, ``window`` between which
    readings it is right (nothing where one end is open), ``dead_centre`` what the pointer shows at true top dead centre
    in signed degrees (nothing where it was not given), ``margin`` the degrees kept to the late side, ``rim`` where it
    is on the flywheel, ``piston`` the same target by the depth gauge, with no pointer in it (where the crank is known),
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
        """The same as plain values for JSON, the figure's own answer in it; numbers as text."""
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


def aim(
    book: BookReader,
    family: str,
    figure: str,
    state: str | None = None,
    *,
    margin: Fraction | int = 0,
    dead_centre: Fraction | int | None = None,
    serial: str | int | None = None,
    year: int | None = None,
    running_rpm: Fraction | int | None = None,
    **conditions: Any,
) -> Aim:
    """What the pointer should show for a figure of a family.

    ``dead_centre`` is what it shows at true top dead centre, in signed degrees, before positive. ``margin`` in degrees
    is taken only from a maximum and goes to its late side: from a lone number up to the catalogue's limit, in a printed
    window never past its late end. A maximum is never aimed past its early end; pickup and idle are aimed at the middle
    of their window. Rounded toward late, to half a degree where that stays inside.

    Raises:
        LookUpError, Refusal: as ``Book.look_up``.
        DeadCentreTooFar: the pointer is out by more than 3 degrees: stop, and look at the flywheel first.
        MarginTooWide: the margin is more than the catalogue allows, or the figure takes none.
        NotAnAngle: the figure is not set by the timing light, or has no one target.
    """
    pointer = Fraction(dead_centre or 0)
    require_near_centre(pointer)
    answer = look_up(book, family, figure, state, serial=serial, year=year, **conditions)
    heading = book.get_heading(answer.family) or require_family(book, answer.family)
    found = setting(answer, book.figures[answer.figure], heading, Fraction(margin))
    show = found.shown(pointer)
    if show is None:
        raise NotAnAngle(f"{answer.label.lower()} of {answer.family} is {answer.printed}: {found.remarks[0]}")
    true = show - pointer
    shown = plain_angle(show)
    running = when_running(book, answer, true, serial, year, running_rpm)
    remarks = (*answer.remarks, *found.remarks, *((NOT_READ,) if dead_centre is None else ()))
    given = None if dead_centre is None else pointer
    step = _step(answer, found, given, shown, show)
    working = (*answer.working, step, *running.working)
    return Aim(
        answer,
        shown,
        allowed_window(found, pointer),
        given,
        found.margin,
        on_the_rim(heading, show, true),
        _piston(answer, heading, found.target),
        running,
        working,
        remarks,
    )


def allowed_window(found: Setting, dead_centre: Fraction) -> Quantity | None:
    """Between which readings of the pointer a setting is right; each end rounded inward, to a fifth of it at most."""
    if found.latest is None or found.earliest is None:
        return None
    low, high = (end + dead_centre for end in (found.latest, found.earliest))
    step = next((step for step in STEPS[1:] if 5 * step <= high - low), STEPS[-1])
    inward = round_to_step(low, step, Toward.UP), round_to_step(high, step, Toward.DOWN)
    if inward[0] <= inward[1]:
        return plain_angle(*inward)
    return plain_angle(high)


def _piston(answer: Answer, family: Family, target: Fraction | None) -> Quantity | None:
    """How far the piston stands below its top at a true target: in the unit that is printed, or hundredths of a
    millimetre, rounded toward late; first to a millionth, so that no float's noise tips that rounding."""
    crank = Crank.of(family)
    if crank is None or target is None:
        return None
    printed = answer.value if isinstance(answer.value, Quantity) else None
    as_printed = printed is not None and printed.unit.dimension is Dimension.PISTON_POSITION
    unit, step = (printed.unit, printed.step) if printed and as_printed else (PISTON_MM, Fraction(1, 100))
    position = round_to_step(crank.signed_position(target, unit), Fraction(1, 10**6))
    return signed_quantity(unit, position, position, step, Toward.DOWN)


def _step(answer: Answer, found: Setting, dead_centre: Fraction | None, shown: Quantity, show: Fraction) -> Step:
    cited = "worked out above" if answer.working else answer.evidence[0].where
    inputs = [Input(f"{answer.label.lower()}, {answer.state}", answer.printed, cited)]
    start = (found.target or Fraction(0)) + found.margin
    if start not in (answer.low, answer.high) or answer.low != answer.high:
        where = {found.low: "the late end", found.high: "the early end"}.get(start, "the middle of the window")
        where = "through stroke and rod" if found.lone else where
        inputs.append(Input("aimed at", angle_in_words(start), where))
    inputs.append(pointer_input(dead_centre))
    if found.margin:
        inputs.append(Input("margin to the late side", f"{plain(found.margin)}°", "the mechanic's choice"))
    formula = "figure + dead-centre reading" + (" - margin" if found.margin else "")
    exact = (found.target or Fraction(0)) + (dead_centre or Fraction(0))
    rounding = "" if exact == show else "toward late"
    return Step("what the pointer should show", formula, tuple(inputs), str(shown), rounding)
