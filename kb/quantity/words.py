"""Quantities in words for a reader, and back to the keys a contributor types. An angle never shows a sign."""

from __future__ import annotations

from typing import Any

from kb.quantity.number import Number
from kb.quantity.quantity import Form, Quantity, Side
from kb.quantity.unit import Dimension

_SIDE_WORDS = {Side.BEFORE: "BTDC", Side.AFTER: "ATDC", Side.CENTRE: "TDC"}


def in_words(quantity: Quantity) -> str:
    """The value as printed, with unit and side, such as ``4 to 6° ATDC`` or ``7/64 in``."""
    numbers = [number.text for number in quantity.numbers]
    if quantity.sides == (Side.CENTRE,):
        return "TDC"
    if len(quantity.sides) == 2:
        ends = zip(numbers, quantity.sides, strict=True)
        return " to ".join(_with_unit(quantity, text, side) for text, side in ends)
    side = quantity.sides[0] if quantity.sides else None
    if quantity.form is Form.WINDOW:
        return _with_unit(quantity, f"{numbers[0]} to {numbers[1]}", side)
    if quantity.form is Form.AT_LEAST:
        return "at least " + _with_unit(quantity, numbers[0], side)
    if quantity.form is Form.AT_MOST:
        return "at most " + _with_unit(quantity, numbers[0], side)
    if quantity.form is Form.TOLERANCE:
        nominal, plus, minus = numbers
        tolerance = f" ± {plus}" if plus == minus else f" +{plus} −{minus}"
        return _with_unit(quantity, nominal + tolerance, side)
    return _with_unit(quantity, numbers[0], side)


def _with_unit(quantity: Quantity, text: str, side: Side | None) -> str:
    symbol = quantity.unit.symbol
    if side is Side.CENTRE:
        return "TDC"
    tight = symbol in ("°", ":1")
    words = f"{text}{'' if tight else ' '}{symbol}"
    if quantity.unit.dimension is Dimension.PISTON_POSITION:
        words += " of piston travel"
    return f"{words} {_SIDE_WORDS[side]}" if side else words


def to_document(quantity: Quantity) -> dict[str, Any]:
    """The mapping that a contributor would type for it: reading that gives the same quantity back."""
    unit = quantity.unit
    inner = {"piston_mm": "mm", "piston_in": "in"}.get(unit.key)
    if len(quantity.sides) == 2:
        return {
            key: {side.value: {inner: number.text} if inner else number.text}
            for key, side, number in zip(("from", "to"), quantity.sides, quantity.numbers, strict=True)
        }
    shape = _shape_of(quantity.form, quantity.numbers)
    if quantity.sides == (Side.CENTRE,):  # a piston position of nought, too, is top dead centre
        return {Side.CENTRE.value: shape}
    if quantity.sides:
        return {quantity.sides[0].value: {inner: shape} if inner else shape}
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
