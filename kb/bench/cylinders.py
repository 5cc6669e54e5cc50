"""Where each cylinder fires on one flywheel, and what the pointer shows when another cylinder stands at its figure."""

from __future__ import annotations

from fractions import Fraction

from kb.bench.wording import NEAREST, TYPED, angle, degrees, length, listed
from kb.bench.worked_calculation import Worked
from kb.book.setting.flywheel import Flywheel
from kb.book.setting.rim_position import way_round
from kb.calc.cylinders import firing_angles, on_marks_of_the_first
from kb.calc.rim import arc
from kb.errors import FigureUnknown, QuantityError
from kb.frozen import record
from kb.quantity import Order, read_value
from kb.vocabulary.engine import Cycle
from kb.working import Input, Step

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from kb.book.model.family import Family

MOST_CYLINDERS = 16


@record()
class Firing:
    """A firing order, the kind of engine, whether it fires at even intervals, and the source of these.

    ``even_fire`` is None where it is not known; so is ``diameter``, the rim's in millimetres, and ``flywheel``.
    """

    order: tuple[int, ...]
    four_stroke: bool
    even_fire: bool | None
    source: str = TYPED
    diameter: float | None = None
    flywheel: Flywheel | None = None

    @classmethod
    def of(cls, family: Family, diameter: float | None = None) -> Firing:
        """The firing order of a family.

        Raises:
            FigureUnknown: its file does not state the order.
        """
        raw = family.part("engine", "firing_order")
        found = read_value({"order": raw}) if raw else None
        if not isinstance(found, Order):
            raise FigureUnknown(f"the file of {family.id} does not state its firing order; write --order, --strokes")
        four = family.part("engine", "cycle") == Cycle.FOUR_STROKE
        even = {"true": True, "false": False}.get(str(family.part("engine", "even_fire")))
        flywheel = Flywheel.read(family.part("flywheel"))
        return cls(found.cylinders, four, even, f"file of {family.id}", diameter, flywheel)

    @property
    def from_one(self) -> tuple[int, ...]:
        """The order beginning at cylinder one, from which the marks are counted."""
        if 1 not in self.order:
            raise QuantityError(f"the order {'-'.join(map(str, self.order))} has no cylinder 1; write such as 1,3,2")
        start = self.order.index(1)
        return self.order[start:] + self.order[:start]


def work_cylinders(firing: Firing, figure: Fraction | None = None) -> Worked:
    """Where each cylinder has its top dead centre and fires, on marks that count from cylinder one.

    ``figure`` is what each cylinder is to stand at, in signed degrees before its own top dead centre.

    Raises:
        OddFire: it does not fire at even intervals, or that is not known.
        GeometryImpossible: the order does not name each cylinder once.
        QuantityError: too many cylinders, or the figure is more than half a turn.
    """
    if len(firing.order) > MOST_CYLINDERS:
        raise QuantityError(f"{len(firing.order)} cylinders are too many; write such as --order 1,3,2")
    if figure is not None and abs(figure) > 180:
        raise QuantityError(f"{angle(figure)} is more than half a turn; write up to 180 before or after")
    order = firing.from_one
    places = firing_angles(order, even_fire=firing.even_fire, four_stroke=firing.four_stroke)
    interval = Fraction(720 if firing.four_stroke else 360, len(order))
    kind = Cycle.FOUR_STROKE if firing.four_stroke else Cycle.TWO_STROKE
    words = "-".join(map(str, order))
    answer = [f"{words}, {kind}: a spark every {degrees(interval)} of the crank"] if len(order) > 1 else []
    values: dict[str, Any] = {"order": list(order), "spark_every_deg": float(interval)}
    given = (
        Input("order", words, firing.source),
        Input("cycle", kind, firing.source),
        Input("fires at even intervals", "yes", firing.source),
    )
    rounding = NEAREST if interval.denominator > 1 else ""
    formula = f"place in the order x {'720' if firing.four_stroke else '360'} / cylinders, whole turns subtracted"
    shown = {
        cylinder: on_marks_of_the_first(
            float(figure or 0), cylinder, order, even_fire=firing.even_fire, four_stroke=firing.four_stroke
        )
        for cylinder in order
    }
    for cylinder in sorted(order):
        after = places[cylinder]
        line = f"cylinder {cylinder}: top dead centre {_after(after)}"
        if firing.diameter and after:
            along = length(arc(after, firing.diameter))
            line += f", {along} along the rim from its mark, {way_round(firing.flywheel, 'late')}"
        if figure is not None:
            line += f"; at its {angle(figure)} the pointer shows {angle(shown[cylinder])}"
        answer.append(line)
    values["top_dead_centre_deg_after_first"] = {str(cylinder): places[cylinder] for cylinder in sorted(order)}
    steps = [Step("top dead centres after cylinder 1", formula, given, _by_cylinder(places, degrees), rounding)]
    if figure is not None:
        values.update(figure_deg=float(figure), pointer_deg={str(one): shown[one] for one in sorted(order)})
        inputs = (Input("figure of each cylinder", angle(figure), TYPED), *given)
        steps.append(
            Step(
                "what the pointer shows",
                "figure - degrees after cylinder 1, whole turns subtracted",
                inputs,
                _by_cylinder(shown, angle),
                rounding,
            )
        )
    return Worked("where each cylinder fires", tuple(answer), values, tuple(steps), _remarks(places), ())


def _after(after: float) -> str:
    return f"{degrees(after)} after cylinder 1's" if after else "at the mark 0"


def _by_cylinder(found: dict[int, float], say: Any) -> str:
    return ", ".join(f"{cylinder}: {say(found[cylinder])}" for cylinder in sorted(found))


def _remarks(places: dict[int, float]) -> tuple[str, ...]:
    remarks = ["the numbers on the flywheel are taken to count from cylinder 1's top dead centre"]
    if len(places) > 1:
        remarks.append("this holds only for an engine that fires at even intervals")
    for place in sorted(set(places.values())):
        sharing = [str(cylinder) for cylinder in sorted(places) if places[cylinder] == place]
        if len(sharing) > 1:
            remarks.append(f"cylinders {listed(sharing)} fire at the same place: put the light on the lead you mean")
    return tuple(remarks)
