"""Oil for petrol, with the gallon named; and the ratio of a mixture of two volumes."""

from __future__ import annotations

from fractions import Fraction

from kb.bench.wording import NEAREST, TYPED, cited
from kb.bench.worked_calculation import Worked
from kb.calc.premix import oil_for, ratio_of
from kb.errors import QuantityError
from kb.frozen import record
from kb.quantity import UNITS, Quantity, Toward, plain, round_to_step
from kb.working import Input, Step

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from kb.book.model.answer import Answer

USUAL = (16, 100)
"""Parts of petrol to one of oil between which mixtures lie; common practice, no source."""

_OIL_UNITS = (("mL", Fraction(1)), ("us_fl_oz", Fraction(1, 10)), ("imp_fl_oz", Fraction(1, 10)))
_MORE = "rounded up: a little more oil rather than too little"
CAUTIONS = (
    "too little oil seizes the engine: measure both, pour the oil into part of the petrol, shake, then fill up",
    "mix outdoors, away from sparks and flames, in a petrol can on the ground",
)


@record()
class Ratio:
    """Parts of petrol to one of oil, with its source and remarks."""

    parts: Fraction
    printed: str
    source: str = TYPED
    remarks: tuple[str, ...] = ()

    @classmethod
    def typed(cls, parts: Fraction) -> Ratio:
        """A ratio that was typed."""
        return cls(parts, f"{plain(parts)}:1")

    @classmethod
    def of(cls, answer: Answer) -> Ratio:
        """The book's ratio; of a window its oilier end.

        Raises:
            QuantityError: it is not a ratio, or has no oilier end.
        """
        low = answer.low
        if low is None or not isinstance(answer.value, Quantity):
            raise QuantityError(f"the book's figure, {answer.printed}, names no ratio to mix by; write --ratio")
        window = () if low == answer.high else (f"of the book's {answer.printed} the end with more oil is used",)
        return cls(low, f"{plain(low)}:1", cited(answer), (*answer.remarks, *window))


def work_oil(petrol: Quantity, ratio: Ratio) -> Worked:
    """The oil for a volume of petrol, in millilitres and in both fluid ounces.

    Raises:
        GeometryImpossible: the ratio is under 1.
    """
    amount = petrol.nominal or Fraction(0)
    exact = {key: oil_for(amount, ratio.parts, petrol.unit, UNITS[key]) for key, _ in _OIL_UNITS}
    amounts = [f"{plain(round_to_step(exact[key], step, Toward.UP))} {UNITS[key].symbol}" for key, step in _OIL_UNITS]
    first, *others = amounts
    answer = (f"{first} of oil for {petrol} of petrol, at {ratio.printed}", f"that is {', or '.join(others)}")
    values: dict[str, Any] = {f"oil_{key}": float(oil) for key, oil in exact.items()}
    values.update(petrol_L=float(petrol.unit.convert(amount, UNITS["L"])), parts_to_one=float(ratio.parts))
    inputs = Input("petrol", str(petrol), TYPED), Input("parts of petrol to one of oil", ratio.printed, ratio.source)
    steps = (Step("oil", "petrol / parts", inputs, " = ".join(amounts), _MORE),)
    remarks = (*ratio.remarks, *_implausible(ratio.parts), *_gallon(petrol))
    return Worked("oil for petrol", answer, values, steps, remarks, CAUTIONS)


def work_ratio(petrol: Quantity, oil: Quantity) -> Worked:
    """Parts of petrol to one of oil in a mixture.

    Raises:
        GeometryImpossible: there is no oil.
    """
    parts = ratio_of(petrol.nominal or Fraction(0), oil.nominal or Fraction(0), petrol.unit, oil.unit)
    words = f"{plain(parts, 1)}:1"
    inputs = Input("petrol", str(petrol), TYPED), Input("oil", str(oil), TYPED)
    steps = (Step("ratio", "petrol / oil, in one unit", inputs, words, NEAREST),)
    answer = (f"{petrol} of petrol and {oil} of oil are {words}",)
    remarks = (*_implausible(parts), *_gallon(petrol))
    return Worked("ratio of a mixture", answer, {"parts_to_one": float(parts)}, steps, remarks, CAUTIONS)


def _implausible(parts: Fraction) -> tuple[str, ...]:
    if USUAL[0] <= parts <= USUAL[1]:
        return ()
    return (f"mixtures are usually {USUAL[0]}:1 to {USUAL[1]}:1 (common practice): look at the numbers again",)


def _gallon(petrol: Quantity) -> tuple[str, ...]:
    if petrol.unit.key not in ("us_gal", "imp_gal"):
        return ()
    litres = plain(petrol.unit.convert(Fraction(1), UNITS["L"]))
    return (f"one {petrol.unit.name} is {litres} L",)
