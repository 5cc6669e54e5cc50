"""Quantities as printed: one unit, a nominal or a window or a bound, and for a crank angle its side."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from functools import cached_property, lru_cache
from typing import Any

from kb.errors import QuantityError, WindowInverted
from kb.frozen import record
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


@record()
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
        steps = {number.step for number in self.numbers}
        return max(steps) if len(steps) > 1 else steps.pop()

    @property
    def nominal(self) -> Fraction | None:
        """The nominal value, signed for a crank angle; none for a window or a bound."""
        if self.form in (Form.NOMINAL, Form.TOLERANCE):
            return self._signed(0)
        return None

    @property
    def low(self) -> Fraction | None:
        """The smaller end (for a crank angle the later one); none where it is open."""
        return self._ends[0]

    @property
    def high(self) -> Fraction | None:
        """The larger end (for a crank angle the earlier one); none where it is open."""
        return self._ends[1]

    def _signed(self, index: int) -> Fraction:
        value = self.numbers[index].value
        if self.sides and self.sides[min(index, len(self.sides) - 1)] is Side.AFTER:
            return -value
        return value  # at top dead centre it is nought anyway

    @cached_property
    def _ends(self) -> tuple[Fraction | None, Fraction | None]:
        """The smaller and the larger end. Nothing is compared: the order of the numbers was checked when read."""
        if self.form is Form.NOMINAL:
            value = self._signed(0)
            return value, value
        after = bool(self.sides) and self.sides[-1] is Side.AFTER
        if self.form is Form.WINDOW:
            first, second = self._signed(0), self._signed(1)
            return (second, first) if after or len(self.sides) == 2 else (first, second)
        if self.form is Form.TOLERANCE:
            value = self.numbers[0].value
            low, high = value - self.numbers[2].value, value + self.numbers[1].value
            return (-high, -low) if after else (low, high)
        if (self.form is Form.AT_LEAST) is not after:
            return self._signed(0), None
        return None, self._signed(0)

    @property
    def degrees(self) -> tuple[Decimal | None, Decimal | None]:
        """The later and the earlier end of a crank angle as signed decimals of a degree.

        Raises:
            QuantityError: the quantity is no crank angle in degrees.
        """
        if self.unit is not DEGREE_OF_CRANK:
            raise QuantityError(f"{self} is not a crank angle in degrees")
        low, high = self._ends
        return _decimal(low), _decimal(high)

    def holds(self, value: Fraction) -> bool:
        """Whether a value in this unit lies inside; both ends belong to the window."""
        low, high = self._ends
        return (low is None or not _less(value, low)) and (high is None or not _less(high, value))

    def to(self, unit: Unit) -> Quantity:
        """The same in another unit of its dimension: exact, then rounded to the printed precision."""
        if unit is self.unit:
            return self
        convert = self.unit.convert
        values = [convert(number.value, unit) for number in self.numbers]
        ratio = self.unit.ratio(unit)
        if self.form is Form.TOLERANCE:  # plus and minus are differences: the scale's offset is not theirs
            values[1:] = [number.value * ratio for number in self.numbers[1:]]
        step = decimal_step(self.step * ratio)
        numbers = tuple(write_number(value, step) for value in values)
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


_SIDES: dict[str, tuple[Side, ...]] = {side.value: (side,) for side in Side}
_PISTON = {"mm": PISTON_MM, "in": PISTON_IN}
_SHORT = 24  # longer texts are no figures of an engine, and are not worth keeping


def read_quantity(key: str, raw: Any) -> Quantity:
    """Read what stands under one unit key: a number, a list of two, or a mapping of a bound or a tolerance.

    Scalars are text, as the reader leaves them.

    Raises:
        NumberNotPlain: a number is not plain.
        WindowInverted: the first number is greater than the second.
        UnknownUnit: the key is no unit.
        QuantityError: the shape is none of these.
    """
    inner = ""
    if not isinstance(raw, (str, list)) and key in ("btdc", "atdc") and isinstance(raw, Mapping) and len(raw) == 1:
        only = next(iter(raw))
        inner, raw = (only, raw[only]) if only in _PISTON else ("", raw)
    if raw.__class__ is str and len(raw) <= _SHORT:
        return _read_again(key, inner, raw)
    if raw.__class__ is list and len(raw) == 2 and all(end.__class__ is str and len(end) <= _SHORT for end in raw):
        return _read_again(key, inner, tuple(raw))
    return _read(key, inner, raw)


def _read(key: str, inner: str, raw: Any) -> Quantity:
    """Read it; ``inner`` is the unit of a piston position, which stands below the side."""
    sides = _SIDES.get(key, ())
    unit = (_PISTON[inner] if inner else DEGREE_OF_CRANK) if sides else unit_of(key)
    form, texts = _shape(raw)
    fractions, signed = unit.fractions, unit.signed
    first = read_number(texts[0], fractions=fractions, signed=signed)
    if form is Form.TOLERANCE:  # a temperature may be below nought, a tolerance never is
        signed = False
    numbers = (first, *[read_number(text, fractions=fractions, signed=signed) for text in texts[1:]])
    if sides == (Side.CENTRE,) and (form is not Form.NOMINAL or numbers[0].value != 0):
        raise QuantityError("tdc is always 0; away from top dead centre write btdc or atdc")
    if form is Form.WINDOW and _less(numbers[1].value, numbers[0].value):
        raise WindowInverted(f"the first number, {numbers[0]}, is greater than the second, {numbers[1]}")
    return Quantity(unit, form, numbers, sides)


_read_again = lru_cache(maxsize=8192)(_read)
"""The same few thousand quantities stand in every book, and each is read by the models and by several rules."""


def read_straddle(first: Mapping[str, Any], last: Mapping[str, Any]) -> Quantity:
    """Read a window by its earlier and later end, ``from`` and ``to``, each with a side of its own.

    Raises:
        WindowInverted: ``from`` is later than ``to``.
        QuantityError: an end is not one plain crank angle, or the ends differ in unit.
    """
    ends = []
    for end in (first, last):
        if len(end) != 1 or next(iter(end)) not in _SIDES:
            raise QuantityError("each end of a straddling window is one of btdc, atdc or tdc")
        key = next(iter(end))
        ends.append(read_quantity(key, end[key]))
    early, late = ends
    if early.form is not Form.NOMINAL or late.form is not Form.NOMINAL or early.unit is not late.unit:
        raise QuantityError("each end of a straddling window is one number, both in the same unit")
    window = Quantity(early.unit, Form.WINDOW, early.numbers + late.numbers, early.sides + late.sides)
    if _less(window._signed(0), window._signed(1)):
        raise WindowInverted(f"from, {early}, is later than to, {late}")
    return window


def _less(one: Fraction, other: Fraction) -> bool:
    """Whether one is less than the other; ``<`` itself takes ten times as long."""
    return one.numerator * other.denominator < other.numerator * one.denominator


def _decimal(value: Fraction | None) -> Decimal | None:
    return None if value is None else Decimal(value.numerator) / Decimal(value.denominator)


def _shape(raw: Any) -> tuple[Form, tuple[str, ...]]:
    if isinstance(raw, str):
        return Form.NOMINAL, (raw,)
    if isinstance(raw, (list, tuple)) and len(raw) == 2 and isinstance(raw[0], str) and isinstance(raw[1], str):
        return Form.WINDOW, (raw[0], raw[1])
    if isinstance(raw, Mapping) and all(isinstance(item, str) for item in raw.values()):
        keys = raw.keys()
        if keys == {"at_least"} or keys == {"at_most"}:
            key = next(iter(keys))
            return Form(key), (raw[key],)
        if keys == {"nominal", "plus_minus"}:
            return Form.TOLERANCE, (raw["nominal"], raw["plus_minus"], raw["plus_minus"])
        if keys == {"nominal", "plus", "minus"}:
            return Form.TOLERANCE, (raw["nominal"], raw["plus"], raw["minus"])
    raise QuantityError("write a number, [smaller, larger], {at_least: n}, {at_most: n} or {nominal: n, plus_minus: m}")
