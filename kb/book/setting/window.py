"""A figure as something to set by the timing light: its true window in degrees, what is allowed, where to aim."""

from __future__ import annotations

from fractions import Fraction

from kb.book.model.answer import Answer
from kb.book.model.catalogue import FigureKind
from kb.book.model.crank_geometry import Crank
from kb.book.model.family import Family
from kb.calc.target import indicated_target
from kb.errors import MarginTooWide, NotAnAngle
from kb.frozen import record
from kb.quantity import DEGREE_OF_CRANK, Dimension, Quantity, Toward, plain, read_number, round_to_step
from kb.vocabulary import AimPoint

READABLE = Fraction(1, 2)
"""Degrees that an eye can tell apart under a timing light: common practice, no source. Nothing is judged finer."""

_FINEST = Fraction(1, 10**9)

STEPS = (READABLE, Fraction(1, 10), Fraction(1, 100), Fraction(1, 1000))
"""To what a target is rounded: half a degree, which an eye can read, or finer where half a degree leaves the window."""


@record()
class Setting:
    """A figure in signed degrees, before top dead centre positive; everything is true, not as the pointer shows it.

    ``low`` and ``high`` are the printed ends, later and earlier; one may be open. ``late`` and ``early`` are how far
    beyond them a reading is still allowed. ``target`` is where to aim, the margin in it; ``margin`` is what of the
    margin found room. ``lone`` says that the figure is one number and not a window; ``remarks`` must be said with it.
    """

    low: Fraction | None
    high: Fraction | None
    late: Fraction
    early: Fraction
    target: Fraction | None
    margin: Fraction
    lone: bool
    remarks: tuple[str, ...]

    @property
    def latest(self) -> Fraction | None:
        """The latest true angle that is still right."""
        return None if self.low is None else self.low - self.late

    @property
    def earliest(self) -> Fraction | None:
        """The earliest true angle that is still right."""
        return None if self.high is None else self.high + self.early

    def shown(self, dead_centre: Fraction) -> Fraction | None:
        """The target as a pointer shows it that stands at ``dead_centre`` at true top dead centre.

        Rounded toward late, to half a degree, or finer where that would leave the window on its late side; where even a
        thousandth late would, to the next mark inside.
        """
        if self.target is None:
            return None
        for step in STEPS:
            rounded = indicated_target(self.target, dead_centre, Fraction(0), step)
            if self.latest is None or rounded - dead_centre >= self.latest:
                return rounded
        exact = self.target + dead_centre
        inside = (round_to_step(exact, step, Toward.UP) for step in STEPS[1:])
        return next((one for one in inside if self.earliest is None or one - dead_centre <= self.earliest), exact)


def setting(answer: Answer, kind: FigureKind, family: Family, margin: Fraction) -> Setting:
    """An answer as a setting, with a margin in degrees to the late side of a maximum.

    A lone printed maximum is a limit on its early side: nothing is allowed beyond it, and the margin goes below it. In
    a window the margin never passes the late end. A lone number is allowed half of one in its last printed place,
    or half a degree where it is printed finer than an eye can read.

    Raises:
        NotAnAngle: the figure is not set by the timing light.
        MarginTooWide: the margin is more than the catalogue allows, or the figure takes none.
    """
    value, crank = _angle_of(answer, family)
    low, high = (_in_degrees(value, crank, end) for end in (value.low, value.high))
    require_margin(kind, margin)
    limit = low is None and kind.is_limit  # printed as "at most": a limit, with nothing too late
    if high is None or not (low == high or limit):
        target, kept, said = _in_window(low, high, kind, margin)
        return Setting(low, high, Fraction(0), Fraction(0), target, kept, False, said)
    step = Fraction(crank.step_degrees(value)) if crank else value.step
    half = Fraction(0) if limit else max(step / 2, READABLE)
    remarks = []
    if kind.is_limit:
        remarks.append("a lone printed maximum is a limit: never set it earlier")
    if margin:
        remarks.append(f"{plain(margin)}° of margin to the late side is your choice, not the book's")
    early = Fraction(0) if kind.is_limit else half
    return Setting(low, high, half + margin, early, high - margin, margin, True, tuple(remarks))


def _angle_of(answer: Answer, family: Family) -> tuple[Quantity, Crank | None]:
    """The value of an answer, and for a piston position the crank through which it is an angle."""
    value = answer.value
    what = f"{answer.label.lower()} of {answer.family} is {answer.printed}"
    if isinstance(value, Quantity) and value.unit is DEGREE_OF_CRANK:
        return value, None
    if not isinstance(value, Quantity) or value.unit.dimension is not Dimension.PISTON_POSITION:
        raise NotAnAngle(f"{what}: not set by the timing light")
    crank = Crank.of(family)
    if crank is None:
        raise NotAnAngle(f"{what}, and its file does not tell stroke and rod: set it by the depth gauge")
    return value, crank


def _in_degrees(value: Quantity, crank: Crank | None, end: Fraction | None) -> Fraction | None:
    """An end in signed degrees; through the crank to a thousand-millionth, so that no float's noise tips a rounding."""
    found = crank.signed_degrees(value, end) if crank else end
    return round_to_step(found, _FINEST) if crank and found is not None else found


def _in_window(
    low: Fraction | None, high: Fraction | None, kind: FigureKind, margin: Fraction
) -> tuple[Fraction | None, Fraction, tuple[str, ...]]:
    """Where to aim in a window, what of the margin finds room in it, and what to say; no target with an open end."""
    if low is None or high is None:
        return None, Fraction(0), ("a bound and no window: there is no one target",)
    start = {AimPoint.EARLY_END: high, AimPoint.MIDDLE: (low + high) / 2, AimPoint.LATE_END: low}.get(kind.aim)
    if start is None:
        return None, Fraction(0), ("the catalogue names nowhere to aim at in its window",)
    kept = min(margin, start - low)
    if kept == margin:
        return start - kept, kept, ()
    if kept:
        return low, kept, ("the margin stops at the printed window's late end",)
    return low, kept, ("the printed window's late end is aimed at; there is no room in it for a margin",)


def margin_limit(kind: FigureKind) -> Fraction:
    """How many degrees may be kept in hand on the late side; nought where the figure takes no margin."""
    raw = kind.document.get("margin_limit")
    return read_number(raw["deg"]).value if raw else Fraction(0)


def require_margin(kind: FigureKind, margin: Fraction) -> None:
    """Do nothing if a margin in degrees may be kept on a figure.

    Raises:
        MarginTooWide: it may not; the message says what may.
    """
    limit = margin_limit(kind)
    if margin and not limit:
        raise MarginTooWide(f"{kind.label.lower()} takes no margin: it is set in the middle of its window")
    if not 0 <= margin <= limit:
        raise MarginTooWide(f"a margin of {plain(margin)} degrees is too wide; it may be 0 to {plain(limit)} degrees")
