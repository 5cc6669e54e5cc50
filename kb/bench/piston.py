"""From degrees of crank to the piston's position and back, also through a leaning plug hole or with an offset pin."""

from __future__ import annotations

from fractions import Fraction

from kb.bench.wording import ABOVE, NEAREST, READ, TYPED, CrankGiven, angle, degrees, in_millimetres, length
from kb.bench.worked_calculation import Worked
from kb.calc.crank import crank_degrees, degrees_per_length, piston_position
from kb.calc.offset import offset_crank_degrees, offset_piston_position
from kb.calc.plug_hole import position_of_travel, travel_of_position
from kb.errors import QuantityError
from kb.frozen import record
from kb.quantity import UNITS, Quantity, plain
from kb.working import Input, Step

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

CAUTIONS = (
    "turn by hand only while a gauge or a stop is in the plug hole, and take it out before anyone touches the starter",
)
_HUNDREDTH = Fraction(1, 100)  # millimetres: the last digit of a position in an answer
_STRAIGHT = "the hole is taken to stand in line with the bore; if it leans, say --hole-angle"


@record()
class Hole:
    """How the plug hole leans from the bore, and how the crown's slope faces it; both in degrees."""

    tilt: Fraction = Fraction(0)
    crown_slope: Fraction = Fraction(0)

    @property
    def inputs(self) -> tuple[Input, ...]:
        """As inputs of a working."""
        leans = Input("hole leans by", degrees(self.tilt), TYPED)
        return leans, Input("crown slopes by", degrees(self.crown_slope), TYPED)


def work_position(
    shown: Fraction, crank: CrankGiven, hole: Hole | None = None, offset: Quantity | None = None
) -> Worked:
    """How far the piston is below its top at true signed degrees of crank; along a leaning hole as well.

    Raises:
        QuantityError: the angle is more than half a turn.
        GeometryImpossible: no such crank or hole.
    """
    if abs(shown) > 180:
        raise QuantityError(f"{angle(shown)} is more than half a turn; write up to 180 before or after")
    throw, rod = crank.throw, crank.rod_length
    if offset:
        below = offset_piston_position(float(shown), throw, rod, in_millimetres(offset))
    else:
        below = piston_position(float(shown), throw, rod)
    steps = [
        Step(
            "piston below its top",
            _formula(offset),
            (Input("crank", angle(shown), TYPED), *_inputs(crank, offset)),
            length(below),
            NEAREST,
        )
    ]
    answer = [f"at {angle(shown)} the piston is {length(below)} below its top"]
    values: dict[str, Any] = {"crank_deg": float(shown), "position_mm": below, "position_in": _inches(below)}
    if hole:
        along = travel_of_position(below, float(hole.tilt), float(hole.crown_slope))
        answer.insert(0, f"at {angle(shown)} a gauge in the leaning hole shows {length(along)} from its top")
        values.update(gauge_mm=along, gauge_in=_inches(along))
        steps.append(_hole_step("along the hole", "position x cos(slope) / cos(lean - slope)", below, hole, along))
    worth = _worth(answer, values, below, float(_HUNDREDTH), "0.01 mm", crank)
    remarks = _remarks(hole, offset)
    return Worked("piston position", tuple(answer), values, (*steps, *worth), remarks, CAUTIONS)


def work_degrees(
    shown: Quantity, side: int, crank: CrankGiven, hole: Hole | None = None, offset: Quantity | None = None
) -> Worked:
    """At how many degrees of crank the piston is that far below its top, or a gauge in a leaning hole shows it.

    ``side`` is +1 before top dead centre, -1 after, 0 either.

    Raises:
        GeometryImpossible: no such crank or hole, or the piston does not reach that position.
    """
    read = in_millimetres(shown)
    throw, rod = crank.throw, crank.rod_length
    steps, below = [], read
    if hole:
        below = position_of_travel(read, float(hole.tilt), float(hole.crown_slope))
        steps.append(_hole_step("piston below its top", "reading x cos(lean - slope) / cos(slope)", read, hole, below))
    if offset:
        first, second = offset_crank_degrees(below, throw, rod, in_millimetres(offset))
    else:
        first = crank_degrees(below, throw, rod)
        second = -first
    sides = {1: (first,), -1: (second,), 0: (first, second)}[side]
    words = " or ".join(angle(one) for one in sides)
    source = ABOVE if hole else READ
    given = length(below) if hole else str(shown)
    steps.append(
        Step(
            "crank",
            _formula(offset) + ", solved for the crank",
            (Input("piston below its top", given, source), *_inputs(crank, offset)),
            words,
            NEAREST,
        )
    )
    answer = [f"{shown} is {words} top dead centre" if first else f"{shown} is top dead centre"]
    values: dict[str, Any] = {"position_mm": below, "position_in": _inches(below)}
    if hole:
        values.update(gauge_mm=read, gauge_in=_inches(read))
    if side >= 0:
        values["before_deg"] = first
    if side <= 0:
        values["after_deg"] = -second
    step = float(shown.step * shown.unit.factor)
    if hole:
        step = position_of_travel(step, float(hole.tilt), float(hole.crown_slope))
    shown_step = f"{plain(shown.step, 9)} {shown.unit.symbol}"
    worth = _worth(answer, values, below, step, shown_step, crank)
    return Worked("degrees of crank", tuple(answer), values, (*steps, *worth), _remarks(hole, offset), CAUTIONS)


def _formula(offset: Quantity | None) -> str:
    if offset:
        return "throw and rod with an offset pin, from where they are in line"
    return (
        "rod + throw - throw x cos(crank) - root of (rod squared - (throw x sin(crank)) squared), throw half the stroke"
    )


def _inputs(crank: CrankGiven, offset: Quantity | None) -> tuple[Input, ...]:
    return (*crank.inputs, *([Input("pin offset", str(offset), TYPED)] if offset else []))


def _hole_step(name: str, formula: str, given: float, hole: Hole, result: float) -> Step:
    reading = name.startswith("piston")
    first = Input("reading" if reading else "position", length(given), READ if reading else ABOVE)
    return Step(name, formula, (first, *hole.inputs), length(result), NEAREST)


def _inches(millimetres: float) -> float:
    return millimetres / float(UNITS["in"].factor)


def _worth(
    answer: list[str], values: dict[str, Any], below: float, step: float, shown_step: str, crank: CrankGiven
) -> tuple[Step, ...]:
    """How many degrees the last digit of a position is worth there; added to the answer and the values."""
    throw, rod = crank.throw, crank.rod_length
    if not 0 < below < 2 * throw:
        answer.append("at a dead centre itself the piston hardly moves: never set by the peak of a gauge")
        return ()
    worth = degrees_per_length(below, throw, rod) * step
    answer.append(f"one in the last digit, {shown_step}, is worth {degrees(worth, 3)} there")
    values["last_digit_deg"] = worth
    inputs = (
        Input("piston below its top", length(below), ABOVE),
        Input("one in the last digit", shown_step, "as printed"),
        *crank.inputs,
    )
    formula = "last digit x degrees of crank for a unit of the piston's travel there"
    return (Step("what the last digit is worth", formula, inputs, degrees(worth, 3), NEAREST),)


def _remarks(hole: Hole | None, offset: Quantity | None) -> tuple[str, ...]:
    remarks = ["true degrees, from true top dead centre: what the pointer shows differs by its dead-centre reading"]
    if not hole:
        remarks.append(_STRAIGHT)
    if offset:
        remarks.append("before and after assume that the pin is offset to the before side; if not, swap them")
    return tuple(remarks)
