"""The flywheel's rim: degrees to distance by tape and by callipers, and back; from which mark to count."""

from __future__ import annotations

from fractions import Fraction

from kb.bench.wording import LATE, NEAREST, READ, TYPED, angle, degrees, in_millimetres, length
from kb.bench.worked_calculation import Worked
from kb.book.setting.flywheel import Flywheel
from kb.book.setting.pointer import pointer_input, pointer_remarks, require_near_centre
from kb.book.setting.rim_position import counted_from, neighbours, on_the_rim, way_round
from kb.calc.dead_centre import true_angle
from kb.calc.rim import angle_of_arc, angle_of_chord, arc, chord, from_nearest_mark
from kb.errors import FigureUnknown, QuantityError
from kb.frozen import record
from kb.quantity import Quantity, plain, read_value
from kb.working import Input, Step

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence
    from typing import Any

    from kb.book.model.family import Family

CAUTIONS = ("the engine must be still, and unable to start, while a tape or callipers are at the flywheel",)
_BY_TAPE = "diameter measured at the edge that the tape lies on"


@record()
class Rim:
    """A rim's diameter, its source, and the thickness of the tape around it (None where it is too thin to matter)."""

    diameter: Quantity
    source: str = TYPED
    tape: Quantity | None = None

    @classmethod
    def of(cls, family: Family, tape: Quantity | None = None) -> Rim:
        """The rim of a family.

        Raises:
            FigureUnknown: its file does not state the diameter.
        """
        raw = family.part("flywheel", "rim_diameter")
        found = read_value(raw) if raw else None
        if not isinstance(found, Quantity) or found.nominal is None:
            raise FigureUnknown(f"the file of {family.id} does not state the rim's diameter; measure it: --diameter")
        return cls(found, f"file of {family.id}", tape)

    @property
    def millimetres(self) -> float:
        """The diameter in millimetres."""
        return in_millimetres(self.diameter)

    @property
    def thickness(self) -> float:
        """The tape's thickness in millimetres."""
        return in_millimetres(self.tape) if self.tape else 0.0

    @property
    def inputs(self) -> tuple[Input, ...]:
        """As inputs of a working."""
        tape = (Input("tape's thickness", str(self.tape), TYPED),) if self.tape else ()
        return Input("rim's diameter", str(self.diameter), self.source), *tape


@record()
class Marks:
    """Numbered marks in signed degrees, and the size of one division where it is known, as typed."""

    numbered: tuple[Fraction, ...]
    division: Fraction | None = None


def work_distance(size: Fraction, rim: Rim) -> Worked:
    """The distance between two marks that many degrees apart: along the rim, and across it.

    Raises:
        QuantityError: that is more than a turn.
        GeometryImpossible: no such rim.
    """
    answer, values, steps = _distances(size, rim, "from mark to mark")
    return Worked("distance on the rim", answer, values, steps, (_BY_TAPE,), CAUTIONS)


def work_place(
    shown: Fraction, rim: Rim, family: Family | None, marks: Marks | None, dead_centre: Fraction | None = None
) -> Worked:
    """Where an angle that the pointer is to show lies on the rim: from which mark to count, by tape and by callipers.

    ``shown`` in signed degrees as the pointer shows it. Marks are those typed, else the family's. Without any it is
    counted from the mechanic's own mark at true top dead centre, with the dead-centre reading taken off.

    Raises:
        DeadCentreTooFar: the pointer is out by more than 3 degrees.
        QuantityError: the angle is more than half a turn.
    """
    if abs(shown) > 180:
        raise QuantityError(f"{angle(shown)} is more than half a turn; write up to 180 before or after")
    require_near_centre(dead_centre or Fraction(0))
    true = true_angle(shown, dead_centre or Fraction(0))
    values: dict[str, Any] = {"shown_deg": float(shown), "true_deg": float(true)}
    steps: list[Step] = []
    answer: list[str] = []
    flywheel = Flywheel.read(family.part("flywheel")) if family else None
    if marks:
        _count(shown, marks, rim, answer, values, steps)
    elif flywheel and (place := on_the_rim(flywheel, shown, true)) and place.mark:
        answer.append(f"{angle(shown)} is {place.words}")
        values.update(counted_from=str(place.mark), from_mark_deg=float(place.degrees), side=place.side)
        if place.divisions is not None:
            values["divisions"] = float(place.divisions)
        inputs = (Input("pointer shows", angle(shown), TYPED), Input("nearest number", str(place.mark), rim.source))
        steps.append(
            Step("counted from a number", "angle - number", inputs, place.words, f"{LATE} to 0.1 mm along the rim")
        )
    side = "early" if true > 0 else "late"
    way = f" to the {side} side, {way_round(flywheel, side)}" if true else ""
    own, distances, worked = _distances(abs(true), rim, f"from your own mark at true top dead centre{way}")
    answer += own
    steps.append(
        Step(
            "from true top dead centre",
            "what the pointer shows - dead-centre reading",
            (Input("pointer shows", angle(shown), TYPED), pointer_input(dead_centre)),
            angle(true),
        )
    )
    remarks = (_BY_TAPE, *pointer_remarks(dead_centre))
    return Worked("place on the rim", tuple(answer), {**values, **distances}, (*steps, *worked), remarks, CAUTIONS)


def work_angle(rim: Rim, tape: Quantity | None = None, callipers: Quantity | None = None) -> Worked:
    """The degrees between two marks from their distance apart, by tape or by callipers.

    Raises:
        QuantityError: by tape it is more than once around.
        GeometryImpossible: by callipers it is more than the rim's diameter.
    """
    answer: list[str] = []
    values: dict[str, Any] = {"rim_diameter_mm": rim.millimetres}
    steps = []
    if tape:
        found = angle_of_arc(in_millimetres(tape), rim.millimetres, rim.thickness)
        if found > 360:
            raise QuantityError(f"{tape} is more than once around a rim of {rim.diameter}; measure again")
        formula = "distance / (radius + half of the tape's thickness)" if rim.tape else "distance / radius"
        steps.append(_back("by tape", formula, tape, rim, found))
        answer.append(f"{tape} along the rim by tape is {degrees(found)}")
        values.update(tape_mm=in_millimetres(tape), by_tape_deg=found)
    if callipers:
        found = angle_of_chord(in_millimetres(callipers), rim.millimetres)
        bare = Rim(rim.diameter, rim.source)
        steps.append(_back("by callipers", "2 x arc sine of (distance / diameter)", callipers, bare, found))
        answer.append(f"{callipers} across by callipers is {degrees(found)}")
        values.update(callipers_mm=in_millimetres(callipers), by_callipers_deg=found)
    return Worked("degrees on the rim", tuple(answer), values, tuple(steps), (_BY_TAPE,), CAUTIONS)


def _back(name: str, formula: str, distance: Quantity, rim: Rim, found: float) -> Step:
    return Step(name, formula, (Input("distance", str(distance), READ), *rim.inputs), degrees(found), NEAREST)


def _distances(size: Fraction, rim: Rim, origin: str) -> tuple[tuple[str, ...], dict[str, Any], tuple[Step, ...]]:
    if size > 360:
        raise QuantityError(f"{degrees(size)} is more than one turn of the flywheel; write up to 360")
    if not size:
        return (f"0° {origin}: at the mark itself",), {"tape_mm": 0.0, "callipers_mm": 0.0}, ()
    along = arc(float(size), rim.millimetres, rim.thickness)
    formula = "degrees as arc x " + ("(radius + half of the tape's thickness)" if rim.tape else "radius")
    given = (Input("degrees", degrees(size), TYPED), *rim.inputs)
    steps = [Step("along the rim, by tape", formula, given, length(along), NEAREST)]
    line, values = f"{degrees(size)} {origin}: {length(along)} along the rim by tape", {"tape_mm": along}
    if size <= 180:
        across = chord(float(size), rim.millimetres)
        steps.append(
            Step("across, by callipers", "diameter x sine of half the degrees", given[:2], length(across), NEAREST)
        )
        line += f", {length(across)} across by callipers"
        values["callipers_mm"] = across
    else:
        line += "; callipers do not reach beyond half a turn"
    return (line,), {"degrees_apart": float(size), **values}, tuple(steps)


def _count(
    shown: Fraction, marks: Marks, rim: Rim, answer: list[str], values: dict[str, Any], steps: list[Step]
) -> None:
    """Count from the nearest of the marks that were typed; the result is added to answer, values and steps."""
    worth = None if marks.division is None else float(marks.division)
    found = from_nearest_mark(float(shown), [float(mark) for mark in marks.numbered], worth)
    far = abs(found.beyond)
    side = "early" if found.beyond > 0 else "late"
    mark = angle(found.mark)
    if far:
        ahead, behind = neighbours(marks.numbered, Fraction(found.mark), side)
        toward, away_from = (None if one is None else angle(one) for one in (ahead, behind))
        many = "division" if found.divisions == 1 else "divisions"
        divisions = "" if found.divisions is None else f"{plain(found.divisions)} {many}, "
        along = length(arc(far, rim.millimetres, rim.thickness))
        place = counted_from(f"the mark {mark}", side, toward, away_from)
        words = f"{divisions}{degrees(far)} {place}, {along} along the rim"
        words += "; past the last number, so counted on from it" if found.extrapolated else ""
    else:
        words = f"at the mark {mark}"
    answer.append(f"{angle(shown)} is {words}")
    values.update(counted_from=mark, from_mark_deg=far, side=side if far else "")
    if found.divisions is not None:
        values["divisions"] = found.divisions
    inputs: Sequence[Input] = [Input("pointer shows", angle(shown), TYPED), Input("nearest number", mark, READ)]
    steps.append(Step("counted from a number", "angle - number", tuple(inputs), words, NEAREST))
