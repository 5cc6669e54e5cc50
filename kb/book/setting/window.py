"""A figure as something to set by the timing light: its true window in degrees, what is allowed, where to aim."""

from __future__ import annotations

from fractions import Fraction

from kb.calc.dead_centre import indicated_angle, true_angle
from kb.calc.target import indicated_target
from kb.errors import GeometryImpossible, MarginTooWide, NotAnAngle
from kb.frozen import record
from kb.quantity import DEGREE_OF_CRANK, Dimension, Quantity, Toward, plain, plain_angle, read_number, round_to_step
from kb.vocabulary.catalogue import AimPoint, SafestEnd

TYPE_CHECKING = False
if TYPE_CHECKING:
    from kb.book.model.crank_geometry import Crank
    from kb.book.model.engine_ranges import Document
    from kb.quantity import Value

READABLE = Fraction(1, 2)
"""Degrees that the eye can distinguish under a timing light: common practice, no source. Nothing is judged finer."""

_FINEST = Fraction(1, 10**9)

STEPS = (READABLE, Fraction(1, 10), Fraction(1, 100), Fraction(1, 1000))
"""The steps that a target is rounded to: half a degree, which the eye can read, or finer to stay inside the window."""


@record()
class SettingRule:
    """The catalogue's rule for setting a figure by the timing light.

    ``aim`` is where in its window to aim; ``is_limit`` whether a lone number is a limit on its early side, as a maximum
    advance is; ``margin_deg`` how many degrees may be kept in hand on the late side, empty where it takes no margin.
    """

    label: str
    aim: str
    is_limit: bool
    margin_deg: str

    @classmethod
    def read(cls, kind: Document) -> SettingRule:
        """From the catalogue's entry of the figure."""
        margin = kind.get("margin_limit")
        is_limit = kind.get("safest_end") == SafestEnd.LATER
        return cls(kind["label"], kind.get("aim", ""), is_limit, margin["deg"] if margin else "")

    @property
    def margin_limit(self) -> Fraction:
        """The most degrees to keep in hand on the late side; 0 where the figure takes no margin."""
        return read_number(self.margin_deg).value if self.margin_deg else Fraction(0)

    def require_margin(self, margin: Fraction | int) -> None:
        """Raise unless a margin in degrees is allowed for the figure.

        Raises:
            MarginTooWide: it is not; the message says what is.
        """
        limit = self.margin_limit
        if margin and not limit:
            raise MarginTooWide(f"{self.label.lower()} takes no margin: it is set in the middle of its window")
        if not 0 <= margin <= limit:
            raise MarginTooWide(
                f"a margin of {plain(margin)} degrees is too wide; it may be 0 to {plain(limit)} degrees"
            )


@record()
class Setting:
    """A figure in true signed degrees, before top dead centre positive, without the pointer's error.

    ``low`` and ``high`` are the printed ends, later and earlier; one may be open. ``late`` and ``early`` are how far
    beyond them a reading is still allowed. ``target`` is where to aim, with the margin in it; ``margin`` is the part of
    the margin that has room. ``lone`` says that the figure is one number, not a window, ``is_limit`` that it is a
    maximum, whose late side is the safe one; ``remarks`` are shown with it.
    """

    low: Fraction | None
    high: Fraction | None
    late: Fraction
    early: Fraction
    target: Fraction | None
    margin: Fraction
    lone: bool
    is_limit: bool
    remarks: tuple[str, ...]

    @property
    def latest(self) -> Fraction | None:
        """The latest true angle that is still right."""
        return None if self.low is None else self.low - self.late

    @property
    def earliest(self) -> Fraction | None:
        """The earliest true angle that is still right."""
        return None if self.high is None else self.high + self.early

    def shown(self, target: Fraction, dead_centre: Fraction) -> Fraction:
        """A true target as a pointer shows it that stands at ``dead_centre`` at true top dead centre.

        Rounded toward late, to half a degree, or finer where that would leave the window on its late side, or, where
        neither side is the safe one, take more than half of the way there; where even a thousandth would leave it, to
        the next step inside.
        """
        latest = self.latest
        if latest is not None and not self.is_limit:
            latest = (latest + target) / 2
        for step in STEPS:
            rounded = indicated_target(target, dead_centre, Fraction(0), step)
            if latest is None or true_angle(rounded, dead_centre) >= latest:
                return rounded
        exact = indicated_angle(target, dead_centre)
        for step in STEPS[1:]:
            inside = round_to_step(exact, step, Toward.UP)
            if self.earliest is None or true_angle(inside, dead_centre) <= self.earliest:
                return inside
        return exact

    def allowed(self, dead_centre: Fraction) -> Quantity | None:
        """The pointer readings between which it is right; each end rounded inward, by at most a fifth of the window."""
        if self.latest is None or self.earliest is None:
            return None
        low, high = (indicated_angle(end, dead_centre) for end in (self.latest, self.earliest))
        step = next((step for step in STEPS[1:] if 5 * step <= high - low), STEPS[-1])
        last = round_to_step(high, step, Toward.DOWN)
        return plain_angle(min(round_to_step(low, step, Toward.UP), last), last)


def setting(value: Value, rule: SettingRule, crank: Crank | None, margin: Fraction | int) -> Setting:
    """A value as a setting, with a margin in degrees to the late side of a maximum.

    A lone printed maximum is a limit on its early side: nothing is allowed beyond it, and the margin goes below it. In
    a window the margin never passes the late end. A lone number is allowed half a unit of its last printed place, or
    half a degree where it is printed finer than the eye can read. A piston position becomes an angle by the crank.

    Raises:
        NotAnAngle: the figure is not set by the timing light.
        MarginTooWide: the margin is more than the catalogue allows, or the figure takes none.
    """
    margin = Fraction(margin)
    low, high, step = _ends(value, crank)
    rule.require_margin(margin)
    limit = low is None and rule.is_limit  # printed as "at most": a limit, with nothing too late
    if high is None or not (low == high or limit):
        target, kept, window_remarks = _in_window(low, high, rule, margin)
        return Setting(low, high, Fraction(0), Fraction(0), target, kept, False, rule.is_limit, window_remarks)
    half = Fraction(0) if limit else max(step / 2, READABLE)
    remarks = []
    if rule.is_limit:
        remarks.append("a single printed maximum is a limit: never set it earlier")
    if margin:
        remarks.append(f"{plain(margin)}° of margin to the late side is your choice, not the book's")
    early = Fraction(0) if rule.is_limit else half
    return Setting(low, high, half + margin, early, high - margin, margin, True, rule.is_limit, tuple(remarks))


def _ends(value: Value, crank: Crank | None) -> tuple[Fraction | None, Fraction | None, Fraction]:
    """The later and the earlier end in signed degrees, and one unit of the last printed place there, in degrees."""
    if isinstance(value, Quantity) and value.unit is DEGREE_OF_CRANK:
        return value.low, value.high, value.step
    if not isinstance(value, Quantity) or value.unit.dimension is not Dimension.PISTON_POSITION:
        raise NotAnAngle(f"{value}: not set by the timing light")
    if crank is None:
        raise NotAnAngle(f"{value}, and its file does not state stroke and rod: set it by the depth gauge")
    try:
        ends = [crank.signed_degrees(value, end) for end in (value.low, value.high)]
        step = Fraction(crank.step_degrees(value))
    except GeometryImpossible as error:
        raise NotAnAngle(f"{value}: {error}") from None
    # to a thousand-millionth, so that a float's noise does not tip a rounding
    low, high = (None if end is None else round_to_step(end, _FINEST) for end in ends)
    return low, high, step


def _in_window(
    low: Fraction | None, high: Fraction | None, rule: SettingRule, margin: Fraction
) -> tuple[Fraction | None, Fraction, tuple[str, ...]]:
    """Where to aim in a window, the part of the margin that has room in it, and remarks; no target with an open end."""
    if low is None or high is None:
        return None, Fraction(0), ("a bound, not a window: there is no single target",)
    start = {AimPoint.EARLY_END: high, AimPoint.MIDDLE: (low + high) / 2, AimPoint.LATE_END: low}.get(rule.aim)
    if start is None:
        return None, Fraction(0), ("the catalogue does not say where in its window to aim",)
    kept = min(margin, start - low)
    if kept == margin:
        return start - kept, kept, ()
    if kept:
        return low, kept, ("the margin stops at the printed window's late end",)
    return low, kept, ("the target is the printed window's late end, which leaves no room for a margin",)
