"""Quantities read from what a document has under a unit key, where scalars are text; and written back."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache

from kb.errors import QuantityError, WindowInverted
from kb.quantity.form import Form, Side, less
from kb.quantity.number import Number, read_number
from kb.quantity.quantity import Quantity
from kb.quantity.unit import DEGREE_OF_CRANK, PISTON_IN, PISTON_MM, SIDE_KEYS, Unit, unit_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

_SIDES: dict[str, tuple[Side, ...]] = {side.value: (side,) for side in Side}
_PISTON = {"mm": PISTON_MM, "in": PISTON_IN}
_SHORT = 24  # longer texts are not figures of an engine, and not worth caching


def read_quantity(key: str, raw: Any) -> Quantity:
    """Read what stands under one unit key: a number, a list of two, or a mapping of a bound or a tolerance.

    Scalars are text, as the reader leaves them.

    Raises:
        NumberNotPlain: a number is not plain.
        WindowInverted: the first number is greater than the second.
        UnknownUnit: there is no unit with that key.
        QuantityError: the shape is none of these.
    """
    if raw.__class__ is str:
        if len(raw) <= _SHORT:
            return _read_number(key, raw)
    elif raw.__class__ is list:
        if len(raw) == 2:
            first, second = raw
            if first.__class__ is second.__class__ is str and len(first) <= _SHORT and len(second) <= _SHORT:
                return _read_pair(key, first, second)
    elif key in SIDE_KEYS and isinstance(raw, Mapping) and len(raw) == 1:
        inner = next(iter(raw))
        if inner in _PISTON:
            return _read(key, raw[inner], _PISTON[inner])
    return _read(key, raw)


def _read(key: str, raw: Any, crank: Unit = DEGREE_OF_CRANK) -> Quantity:
    """Read a quantity; ``crank`` is the unit of one with a side: a piston position has its unit below the side."""
    sides = _SIDES.get(key, ())
    unit = crank if sides else unit_of(key)
    form, texts = _shape(raw)
    fractions, signed = unit.fractions, unit.signed
    first = read_number(texts[0], fractions=fractions, signed=signed)
    if form is Form.TOLERANCE:  # a temperature may be below zero, a tolerance never is
        signed = False
    numbers = (first, *[read_number(text, fractions=fractions, signed=signed) for text in texts[1:]])
    if sides == (Side.CENTRE,) and (form is not Form.NOMINAL or numbers[0].value != 0):
        raise QuantityError("tdc is always 0; away from top dead centre write btdc or atdc")
    if form is Form.WINDOW and less(numbers[1].value, numbers[0].value):
        raise WindowInverted(f"the first number, {numbers[0]}, is greater than the second, {numbers[1]}")
    return Quantity(unit, form, numbers, sides)


@lru_cache(maxsize=8192)
def _read_number(key: str, text: str) -> Quantity:
    """Read one number. Cached: a book repeats a few thousand quantities, and models and rules each read them."""
    return _read(key, text)


@lru_cache(maxsize=8192)
def _read_pair(key: str, first: str, second: str) -> Quantity:
    """Read two numbers; cached for the same reason."""
    return _read(key, (first, second))


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
    if less(_signed(early), _signed(late)):
        raise WindowInverted(f"from, {early}, is later than to, {late}")
    return Quantity(early.unit, Form.WINDOW, early.numbers + late.numbers, early.sides + late.sides)


def _signed(end: Quantity) -> Fraction:
    value = end.numbers[0].value
    return -value if end.sides[0] is Side.AFTER else value


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


def to_document(quantity: Quantity) -> dict[str, Any]:
    """The mapping that a contributor would type for a quantity; reading it gives the same quantity back."""
    unit = quantity.unit
    inner = {"piston_mm": "mm", "piston_in": "in"}.get(unit.key)

    def below(side: Side, shape: Any) -> dict[str, Any]:
        return {side.value: {inner: shape} if inner else shape}

    if len(quantity.sides) == 2:
        first, last = map(below, quantity.sides, [number.text for number in quantity.numbers])
        return {"from": first, "to": last}
    shape = _shape_of(quantity.form, quantity.numbers)
    if quantity.sides == (Side.CENTRE,):  # a piston position of zero is top dead centre too
        return {Side.CENTRE.value: shape}
    if quantity.sides:
        return below(quantity.sides[0], shape)
    return {unit.key: shape}


def _shape_of(form: Form, numbers: tuple[Number, ...]) -> Any:
    texts = [number.text for number in numbers]
    if form is Form.NOMINAL:
        return texts[0]
    if form is Form.WINDOW:
        return texts
    if form is Form.TOLERANCE:
        nominal, plus, minus = texts
        if plus == minus:
            return {"nominal": nominal, "plus_minus": plus}
        return {"nominal": nominal, "plus": plus, "minus": minus}
    return {form.value: texts[0]}
