"""Printed values in words for a reader. An angle never shows a sign."""

from __future__ import annotations

from kb.quantity.form import Form, Side
from kb.quantity.number import Number
from kb.quantity.unit import Dimension, Unit

_SIDE_WORDS = {Side.BEFORE: "BTDC", Side.AFTER: "ATDC", Side.CENTRE: "TDC"}


def words_of(unit: Unit, form: Form, numbers: tuple[Number, ...], sides: tuple[Side, ...]) -> str:
    """A printed value with its unit and side, such as ``4 to 6° ATDC`` or ``7/64 in``."""
    texts = [number.text for number in numbers]
    if sides == (Side.CENTRE,):
        return "TDC"
    if len(sides) == 2:
        return " to ".join(_with_unit(unit, text, side) for text, side in zip(texts, sides, strict=True))
    side = sides[0] if sides else None
    if form is Form.WINDOW:
        return _with_unit(unit, f"{texts[0]} to {texts[1]}", side)
    if form is Form.AT_LEAST:
        return "at least " + _with_unit(unit, texts[0], side)
    if form is Form.AT_MOST:
        return "at most " + _with_unit(unit, texts[0], side)
    if form is Form.TOLERANCE:
        nominal, plus, minus = texts
        tolerance = f" ± {plus}" if plus == minus else f" +{plus} −{minus}"
        return _with_unit(unit, nominal + tolerance, side)
    return _with_unit(unit, texts[0], side)


def _with_unit(unit: Unit, text: str, side: Side | None) -> str:
    if side is Side.CENTRE:
        return "TDC"
    words = f"{text}{'' if unit.symbol in ('°', ':1') else ' '}{unit.symbol}"
    if unit.dimension is Dimension.PISTON_POSITION:
        words += " of piston travel"
    return f"{words} {_SIDE_WORDS[side]}" if side else words
