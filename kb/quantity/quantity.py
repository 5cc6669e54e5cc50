"""Quantities as printed: one unit, a nominal or a window or a bound, and for a crank angle its side."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from math import inf

from kb.errors import QuantityError
from kb.frozen import cached_property, record
from kb.quantity.form import Form, Side, less
from kb.quantity.number import Number, Toward, decimal_step, round_to_step, write_number
from kb.quantity.unit import DEGREE_OF_CRANK, Dimension, Unit
from kb.quantity.words import words_of


@record()
class Quantity:
    """A printed value. Crank angles and piston positions are signed inside, before top dead centre positive.

    ``numbers`` holds the printed numbers in the order of the form: nominal; smaller and larger; the bound; nominal,
    plus and minus. ``sides`` has one side for each end of a straddling window, else one side for all; it is empty
    for anything but a crank angle. Both ends belong to a window.
    """

    unit: Unit
    form: Form
    numbers: tuple[Number, ...]
    sides: tuple[Side, ...] = ()

    def __hash__(self) -> int:
        return self._hash

    @cached_property
    def _hash(self) -> int:
        """Worked out once: the same few quantities are looked up over and over."""
        return hash((self.unit.key, self.form, self.numbers, self.sides))

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
        return value  # zero at top dead centre, so it needs no sign

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

    @cached_property
    def float_ends(self) -> tuple[float, float]:
        """The smaller and the larger end as floating-point numbers, an open one infinite: quick to compare with.

        No value is ever made from these.
        """
        low, high = self._ends
        return (-inf if low is None else float(low)), (inf if high is None else float(high))

    @property
    def degrees(self) -> tuple[Decimal | None, Decimal | None]:
        """The later and the earlier end of a crank angle as signed decimals of a degree.

        Raises:
            QuantityError: the quantity is not a crank angle in degrees.
        """
        if self.unit is not DEGREE_OF_CRANK:
            raise QuantityError(f"{self} is not a crank angle in degrees")
        low, high = self._ends
        return _decimal(low), _decimal(high)

    def holds(self, value: Fraction) -> bool:
        """Whether a value in this unit lies inside; both ends belong to the window."""
        low, high = self._ends
        return (low is None or not less(value, low)) and (high is None or not less(high, value))

    def to(self, unit: Unit) -> Quantity:
        """The same in another unit of its dimension: exact, then rounded to the printed precision."""
        if unit is self.unit:
            return self
        convert = self.unit.convert
        values = [convert(number.value, unit) for number in self.numbers]
        ratio = self.unit.ratio(unit)
        if self.form is Form.TOLERANCE:  # plus and minus are differences, to which no offset applies
            values[1:] = [number.value * ratio for number in self.numbers[1:]]
        step = decimal_step(self.step * ratio)
        numbers = tuple(write_number(value, step) for value in values)
        return Quantity(unit, self.form, numbers, self.sides)

    def __str__(self) -> str:
        return self._words

    @cached_property
    def _words(self) -> str:
        return in_words(self)


def in_words(quantity: Quantity) -> str:
    """The value as printed, with unit and side, such as ``4 to 6° ATDC`` or ``7/64 in``; an angle shows no sign."""
    return words_of(quantity.unit, quantity.form, quantity.numbers, quantity.sides)


def crank_angle(
    low: Fraction, high: Fraction, step: Fraction = Fraction(1, 10), toward: Toward = Toward.NEAREST
) -> Quantity:
    """A crank angle in degrees from its signed later and earlier ends; equal ends give a nominal."""
    return signed_quantity(DEGREE_OF_CRANK, low, high, step, toward)


def plain_angle(low: Fraction, high: Fraction | None = None, finest: Fraction = Fraction(1, 1000)) -> Quantity:
    """A crank angle or a window from signed degrees, with as few decimals as it needs; rounded toward late.

    >>> str(plain_angle(Fraction(25))), str(plain_angle(Fraction(49, 2), Fraction(26)))
    ('25° BTDC', '24.5 to 26.0° BTDC')
    """
    low, high = (round_to_step(end, finest, Toward.DOWN) for end in (low, low if high is None else high))
    steps = (Fraction(1), Fraction(1, 10), Fraction(1, 100))
    step = next((step for step in steps if all((end / step).denominator == 1 for end in (low, high))), finest)
    return signed_quantity(DEGREE_OF_CRANK, low, high, step)


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


def _decimal(value: Fraction | None) -> Decimal | None:
    return None if value is None else Decimal(value.numerator) / Decimal(value.denominator)
