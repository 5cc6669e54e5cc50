"""Quantities as printed: one unit, a nominal or a window or a bound, and for a crank angle its side."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from typing import Any

from kb.errors import QuantityError, WindowInverted
from kb.quantity.number import Number, Toward, decimal_step, read_number, round_to_step, write_number
from kb.quantity.unit import DEGREE_OF_CRANK, PISTON_IN, PISTON_MM, Dimension, Unit, unit_of


class Form(StrEnum):
    """How the value is printed."""

    NOMINAL = "nominal"
    WINDOW = "window"
    AT_LEAST = "at_least"
    AT_MOST = "at_most"
    TOLERANCE = "tolerance"


class Side(StrEnum):
    """The side of top dead centre, by the key that is typed."""

    BEFORE = "btdc"
    AFTER = "atdc"
    CENTRE = "tdc"

    @property
    def sign(self) -> int:
        """+1 before top dead centre, -1 after, 0 at it."""
        return {"btdc": 1, "atdc": -1, "tdc": 0}[self.value]


@dataclass(frozen=True, slots=True)
class Quantity:
    """A printed value. Crank angles and piston positions are signed inside, before top dead centre positive.

    ``numbers`` holds the printed numbers in the order of the form: nominal; smaller and larger; the bound; nominal,
    plus and minus. ``sides`` has one side for each end of a straddling window, else one side for all; it is empty
    for what is no crank angle. A window holds both its ends.
    """

    unit: Unit
    form: Form
    numbers: tuple[Number, ...]
    sides: tuple[Side, ...] = ()

    @property
    def step(self) -> Fraction:
        """The printed precision, in the unit: the coarsest of the printed numbers."""
        return max(number.step for number in self.numbers)

    @property
    def nominal(self) -> Fraction | None:
        """The nominal value, signed for a crank angle; none for a window or a bound."""
        if self.form in (Form.NOMINAL, Form.TOLERANCE):
            return self._signed(0)
        return None

    @property
    def low(self) -> Fraction | None:
        """The smaller end (for a crank angle the later one); none where it is open."""
        return self._ends()[0]

    @property
    def high(self) -> Fraction | None:
        """The larger end (for a crank angle the earlier one); none where it is open."""
        return self._ends()[1]

    def _signed(self, index: int) -> Fraction:
        value = self.numbers[index].value
        if not self.sides:
            return value
        return value * self.sides[min(index, len(self.sides) - 1)].sign

    def _ends(self) -> tuple[Fraction | None, Fraction | None]:
        if self.form is Form.NOMINAL:
            value = self._signed(0)
            return value, value
        if self.form is Form.WINDOW:
            first, second = self._signed(0), self._signed(1)
            return (first, second) if first <= second else (second, first)
        if self.form is Form.TOLERANCE:
            value = self.numbers[0].value
            low, high = value - self.numbers[2].value, value + self.numbers[1].value
        else:
            bound = self.numbers[0].value
            if (self.form is Form.AT_LEAST) == (not self.sides or self.sides[0] is not Side.AFTER):
                return self._signed(0), None
            return None, (bound if not self.sides else self._signed(0))
        if self.sides and self.sides[0] is Side.AFTER:
            return -high, -low
        return low, high

    @property
    def degrees(self) -> tuple[Decimal | None, Decimal | None]:
        """The later and the earlier end of a crank angle as signed decimals of a degree.

        Raises:
            QuantityError: the quantity is no crank angle in degrees.
        """
        if self.unit is not DEGREE_OF_CRANK:
            raise QuantityError(f"{self} is not a crank angle in degrees")
        low, high = self._ends()
        return _decimal(low), _decimal(high)

    def holds(self, value: Fraction) -> bool:
        """Whether a value in this unit lies inside; both ends belong to the window."""
        low, high = self._ends()
        return (low is None or low <= value) and (high is None or value <= high)

    def to(self, unit: Unit) -> Quantity:
        """The same in another unit of its dimension: exact, then rounded to the printed precision."""
        if unit is self.unit:
            return self
        step = decimal_step(self.step * self.unit.factor / unit.factor)
        convert = self.unit.convert
        numbers = tuple(write_number(convert(number.value, unit), step) for number in self.numbers)
        if self.form is Form.TOLERANCE:  # plus and minus are differences: the scale's offset is not theirs
            ratio = self.unit.factor / unit.factor
            numbers = (numbers[0], *(write_number(number.value * ratio, step) for number in self.numbers[1:]))
        return Quantity(unit, self.form, numbers, self.sides)

    def __str__(self) -> str:
        from kb.quantity.words import in_words

        return in_words(self)


def crank_angle(
    low: Fraction, high: Fraction, step: Fraction = Fraction(1, 10), toward: Toward = Toward.NEAREST
) -> Quantity:
    """A crank angle in degrees from its signed later and earlier ends; equal ends give a nominal."""
    return signed_quantity(DEGREE_OF_CRANK, low, high, step, toward)


def signed_quantity(
    unit: Unit, low: Fraction, high: Fraction, step: Fraction, toward: Toward = Toward.NEAREST
) -> Quantity:
    """A quantity from its two ends in a unit, printed to a step; equal ends give a nominal.

    For crank angles and piston positions the ends are signed; the result carries sides and no signs.
    """
    step = decimal_step(step)
    low, high = round_to_step(low, step, toward), round_to_step(high, step, toward)
    if unit.dimension not in (Dimension.CRANK_ANGLE, Dimension.PISTON_POSITION):
        numbers = tuple(write_number(value, step) for value in ((low,) if low == high else (low, high)))
        return Quantity(unit, Form.NOMINAL if low == high else Form.WINDOW, numbers)
    ends = (low,) if low == high else (low, high)
    written = [write_number(abs(value), step) for value in ends]
    if len(ends) == 1:
        side = Side.CENTRE if low == 0 else Side.BEFORE if low > 0 else Side.AFTER
        return Quantity(unit, Form.NOMINAL, (written[0],), (side,))
    if low >= 0:
        return Quantity(unit, Form.WINDOW, tuple(written), (Side.BEFORE,))
    if high <= 0:
        return Quantity(unit, Form.WINDOW, tuple(reversed(written)), (Side.AFTER,))
    return Quantity(unit, Form.WINDOW, tuple(reversed(written)), (Side.BEFORE, Side.AFTER))


def read_quantity(key: str, raw: Any) -> Quantity:
    """Read what stands under one unit key: a number, a list of two, or a mapping of a bound or a tolerance.

    Scalars are text, as the reader leaves them.

    Raises:
        NumberNotPlain: a number is not plain.
        WindowInverted: the first number is greater than the second.
        UnknownUnit: the key is no unit.
        QuantityError: the shape is none of these.
    """
    sides: tuple[Side, ...] = ()
    if key in ("btdc", "atdc", "tdc"):
        unit, sides = DEGREE_OF_CRANK, (Side(key),)
        if key != "tdc" and isinstance(raw, Mapping) and len(raw) == 1 and (inner := next(iter(raw))) in ("mm", "in"):
            unit, raw = (PISTON_MM if inner == "mm" else PISTON_IN), raw[inner]
    else:
        unit = unit_of(key)
    form, texts = _shape(raw)
    numbers = tuple(
        read_number(text, fractions=unit.fractions, signed=unit.signed and not (index and form is Form.TOLERANCE))
        for index, text in enumerate(texts)
    )
    if sides == (Side.CENTRE,) and (form is not Form.NOMINAL or numbers[0].value != 0):
        raise QuantityError("tdc is always 0; away from top dead centre write btdc or atdc")
    if form is Form.WINDOW and numbers[0].value > numbers[1].value:
        raise WindowInverted(f"the first number, {numbers[0]}, is greater than the second, {numbers[1]}")
    return Quantity(unit, form, numbers, sides)


def read_straddle(first: Mapping[str, Any], last: Mapping[str, Any]) -> Quantity:
    """Read a window by its earlier and later end, ``from`` and ``to``, each with a side of its own.

    Raises:
        WindowInverted: ``from`` is later than ``to``.
        QuantityError: an end is not one plain crank angle, or the ends differ in unit.
    """
    ends = []
    for end in (first, last):
        if len(end) != 1 or next(iter(end)) not in ("btdc", "atdc", "tdc"):
            raise QuantityError("each end of a straddling window is one of btdc, atdc or tdc")
        key = next(iter(end))
        ends.append(read_quantity(key, end[key]))
    early, late = ends
    if early.form is not Form.NOMINAL or late.form is not Form.NOMINAL or early.unit is not late.unit:
        raise QuantityError("each end of a straddling window is one number, both in the same unit")
    if (early.nominal or 0) < (late.nominal or 0):
        raise WindowInverted(f"from, {early}, is later than to, {late}")
    return Quantity(early.unit, Form.WINDOW, early.numbers + late.numbers, early.sides + late.sides)


def _decimal(value: Fraction | None) -> Decimal | None:
    return None if value is None else Decimal(value.numerator) / Decimal(value.denominator)


def _shape(raw: Any) -> tuple[Form, tuple[str, ...]]:
    if isinstance(raw, str):
        return Form.NOMINAL, (raw,)
    if isinstance(raw, (list, tuple)) and len(raw) == 2 and all(isinstance(item, str) for item in raw):
        return Form.WINDOW, tuple(raw)
    if isinstance(raw, Mapping) and all(isinstance(item, str) for item in raw.values()):
        keys = set(raw)
        if keys == {"at_least"} or keys == {"at_most"}:
            key = next(iter(keys))
            return Form(key), (raw[key],)
        if keys == {"nominal", "plus_minus"}:
            return Form.TOLERANCE, (raw["nominal"], raw["plus_minus"], raw["plus_minus"])
        if keys == {"nominal", "plus", "minus"}:
            return Form.TOLERANCE, (raw["nominal"], raw["plus"], raw["minus"])
    raise QuantityError("write a number, [smaller, larger], {at_least: n}, {at_most: n} or {nominal: n, plus_minus: m}")
