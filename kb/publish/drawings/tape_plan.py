"""The plan of a degree tape for a rim: its length, its strips, and the side on which before top dead centre lies.

The tape goes around the flywheel and is read from outside at a fixed pointer. Seen so, a flywheel that turns clockwise
from above goes past to the left, and the marks before top dead centre, which come first, lie left of it.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from math import ceil, floor
from typing import TYPE_CHECKING, Any

from kb.book.setting.flywheel import Flywheel
from kb.calc.rim import arc
from kb.errors import QuantityError
from kb.frozen import record
from kb.quantity import plain, plain_angle
from kb.vocabulary.engine import MarksOn, Rotation

if TYPE_CHECKING:
    from collections.abc import Callable

    from kb.book.book import Book

PAPERS = {"a4": (Fraction(297), Fraction(210)), "letter": (Fraction("279.4"), Fraction("215.9"))}
"""Width and height of a sheet in landscape, in millimetres."""
MARGIN = Fraction(15)
TAB = Fraction(10)
"""The tab beyond a strip's end to glue the next one on."""
BLANK = Fraction(5)
"""The paper left beyond the tape's own ends."""
PAPER_THICKNESS = Fraction("0.1")
"""Of ordinary writing paper, in millimetres."""
_SMALLEST, _LARGEST = 60, 1000
_MIDDLE = 5
"""The middle of what is read most, in degrees before top dead centre."""


@record()
class Strip:
    """One piece of the tape, from its first to its last degree, left to right."""

    first: int
    last: int


@record()
class TapePlan:
    """A tape to be drawn. Lengths in millimetres, angles in signed degrees, before top dead centre positive.

    ``clockwise`` is how the flywheel turns seen from above, or None when that is not known: the tape then has no
    sides. ``note`` is a remark on the engine; ``name`` what the tape is for.
    """

    name: str
    diameter: Fraction
    thickness: Fraction
    early: int
    late: int
    clockwise: bool | None
    target: Fraction | None
    paper: str
    strips: tuple[Strip, ...]
    note: str
    invented: bool

    @property
    def before_left(self) -> bool:
        """Whether before top dead centre lies left of it; so it is drawn too when the direction is not known."""
        return self.clockwise is not False

    @property
    def full_turn(self) -> bool:
        """Whether the tape's ends meet."""
        return self.early - self.late == 360

    def along(self, degrees: float) -> float:
        """The distance along the tape of an angle in degrees, at half its thickness."""
        return arc(degrees, float(self.diameter), float(self.thickness))

    def to_document(self) -> dict[str, Any]:
        """The same as plain values for JSON."""
        return {
            **{name: float(value) if isinstance(value, Fraction) else value for name, value in vars(self).items()},
            "strips": [dict(vars(strip)) for strip in self.strips],
            "length_mm": self.along(self.early - self.late),
        }


def tape_plan(
    diameter: Fraction,
    *,
    early: Fraction = Fraction(40),
    late: Fraction = Fraction(-30),
    clockwise: bool | None = None,
    thickness: Fraction = PAPER_THICKNESS,
    target: Fraction | None = None,
    paper: str = "a4",
    name: str = "",
    note: str = "",
    invented: bool = False,
) -> TapePlan:
    """The tape for a rim of a diameter in millimetres, from its earliest to its latest degree.

    Without a known direction of rotation the tape reaches equally far to both sides.

    Raises:
        QuantityError: no such rim, range, paper or thickness, or the target lies outside; it says what to type.
    """
    if not _SMALLEST <= diameter <= _LARGEST:
        raise QuantityError(f"a tape is made for rims of {_SMALLEST} to {_LARGEST} mm across, not {plain(diameter)} mm")
    if early.denominator != 1 or late.denominator != 1:
        raise QuantityError("a tape begins and ends at a whole degree, such as '40 before' and '30 after'")
    if not 0 < early - late <= 360 or early < 0 or late > 0:
        raise QuantityError(
            f"from {plain_angle(early)} to {plain_angle(late)} is not a range for a tape: begin before top dead "
            "centre, end after it, at most a full turn, such as --from '40 before' --to '30 after'"
        )
    if not 0 <= thickness <= 3:
        raise QuantityError(f"a tape {plain(thickness)} mm thick does not lie on a rim; write such as '0.1 mm'")
    if paper not in PAPERS:
        raise QuantityError(f"no paper {paper!r}; there are {' and '.join(PAPERS)}")
    if clockwise is None:
        if target:
            raise QuantityError(
                f"a target has a side: say which way the flywheel turns, --rotation {Rotation.CLOCKWISE} "
                f"or --rotation {Rotation.ANTICLOCKWISE}, seen from above"
            )
        reach = min(max(early, -late), Fraction(180))
        early, late = reach, -reach
    if target is not None and not late <= target <= early:
        raise QuantityError(
            f"the target, {plain_angle(target)}, lies beyond the tape; make it longer, such as "
            f"--from '{plain(max(early, abs(target)) + 10)} before'"
        )
    room = PAPERS[paper][0] - 2 * MARGIN - TAB - BLANK
    strips = _strips(int(early), int(late), int(float(room) / arc(1, float(diameter), float(thickness))))
    if clockwise is False:  # before top dead centre lies to the right
        strips = tuple(Strip(strip.last, strip.first) for strip in reversed(strips))
    return TapePlan(name, diameter, thickness, int(early), int(late), clockwise, target, paper, strips, note, invented)


def tape_plan_for(
    book: Book, family_id: str, *, diameter: Fraction | None = None, clockwise: bool | None = None, **others: Any
) -> TapePlan:
    """The tape for a family's rim; ``others`` as for ``tape_plan``. What is given here overrides the family's file.

    Raises:
        LookUpError: no such family.
        QuantityError: as ``tape_plan``; or the rim's diameter is neither known nor given.
    """
    family = book.family(family_id)
    flywheel = Flywheel.read(family.part("flywheel"))
    across = diameter or flywheel.diameter
    if across is None:
        raise QuantityError(f"no rim diameter is published for {family.id}; measure it: --diameter '240 mm'")
    if clockwise is None and flywheel.rotation:
        clockwise = flywheel.rotation == Rotation.CLOCKWISE
    note = ""
    if flywheel.marks_on == MarksOn.FIXED_SCALE:
        note = (
            "On this engine the scale is fixed and the pointer is on the flywheel. The tape goes on the flywheel: "
            "fix a pointer to the block for it."
        )
    maker = book.makers[family.maker].name if family.maker in book.makers else family.maker
    return tape_plan(
        across,
        clockwise=clockwise,
        name=f"{maker} {family.name}",
        note=note,
        invented=book.invented or family.invented,
        **others,
    )


def _strips(early: int, late: int, most: int) -> tuple[Strip, ...]:
    """The tape from its earliest degree in strips of at most ``most`` degrees, joined at an odd five, without a number.

    The part read most, some forty degrees before to thirty after, is on one strip where a strip is long enough.
    """
    if early - late <= most:
        return (Strip(early, late),)
    half = max(10, most // 20 * 10)
    upper, lower = min(early, _MIDDLE + half), max(late, _MIDDLE - half)
    if upper == early:
        lower = _odd_five(ceil, early - most)
    elif lower == late:
        upper = _odd_five(floor, late + most)
    return (*_even_strips(early, upper, most), Strip(upper, lower), *_even_strips(lower, late, most))


def _even_strips(early: int, late: int, most: int) -> tuple[Strip, ...]:
    """The tape in strips of about equal length; none for an empty range."""
    count = ceil((early - late) / most)
    while count:
        joins = (_odd_five(round, early - (early - late) * number / count) for number in range(1, count))
        strips = tuple(Strip(start, end) for start, end in pairwise((early, *joins, late)))
        if all(0 < strip.first - strip.last <= most for strip in strips):
            return strips
        count += 1
    return ()


def _odd_five(whole: Callable[[float], int], degree: float) -> int:
    return 10 * whole((degree - 5) / 10) + 5
