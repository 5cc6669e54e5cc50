"""Numbers as they are printed: our own grammar, exact values, the precision that the digits claim."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from kb.errors import NumberNotPlain

DECIMAL_PATTERN = r"(?:0|[1-9][0-9]{0,8})(?:\.[0-9]{1,9})?"
FRACTION_PATTERN = r"(?:[1-9][0-9]{0,3} )?[1-9][0-9]{0,3}/[1-9][0-9]{0,3}"

_DECIMAL = re.compile(DECIMAL_PATTERN)
_SIGNED = re.compile("-?" + DECIMAL_PATTERN)
_FRACTION = re.compile(FRACTION_PATTERN)


class Toward(StrEnum):
    """Which way a value is rounded. For crank angles, which count before top dead centre positive,
    ``DOWN`` is later and ``UP`` is earlier."""

    NEAREST = "nearest"
    DOWN = "down"
    UP = "up"


@dataclass(frozen=True, slots=True)
class Number:
    """A printed number: its text, its exact value, and one unit in its last printed place.

    The step of a fraction is one over its denominator: ``7/64`` claims sixty-fourths.
    """

    text: str
    value: Fraction
    step: Fraction

    def __str__(self) -> str:
        return self.text


def read_number(text: str, *, fractions: bool = False, signed: bool = False) -> Number:
    """Read a number as printed.

    ``fractions`` admits ``7/64`` and ``1 1/4``; ``signed`` admits a leading minus (temperatures only). Leading
    zeros, exponents, underscores, other scripts' digits, infinities and blanks are refused.

    Raises:
        NumberNotPlain: the text is none of these; the message says what to type.

    >>> read_number("0.030").step
    Fraction(1, 1000)
    >>> read_number("1 1/4", fractions=True).value
    Fraction(5, 4)
    """
    if (_SIGNED if signed else _DECIMAL).fullmatch(text):
        digits, _, decimals = text.partition(".")
        scale = 10 ** len(decimals)
        return Number(text, Fraction(int(digits + decimals), scale), Fraction(1, scale))
    if fractions and _FRACTION.fullmatch(text):
        whole, _, part = text.rpartition(" ")
        top, _, bottom = part.partition("/")
        numerator, denominator = int(top), int(bottom)
        if numerator < denominator:
            value = Fraction(int(whole or 0) * denominator + numerator, denominator)
            return Number(text, value, Fraction(1, denominator))
    wanted = "plain digits such as 24 or 0.030" + (", or a fraction such as 7/64 or 1 1/4" if fractions else "")
    raise NumberNotPlain(f"{text[:40]!r} is not a plain number; write {wanted}")


def write_number(value: Fraction, step: Fraction, toward: Toward = Toward.NEAREST) -> Number:
    """Print a value to a decimal step, such as 1/100, rounding half away from zero unless told otherwise.

    >>> write_number(Fraction(5, 3), Fraction(1, 10)).text
    '1.7'
    """
    decimals = len(str(int(1 / step))) - 1 if step < 1 else 0
    step = Fraction(1, 10**decimals)
    rounded = round_to_step(value, step, toward)
    scaled = abs(int(rounded / step))
    digits = str(scaled).rjust(decimals + 1, "0")
    text = f"{digits[:-decimals]}.{digits[-decimals:]}" if decimals else digits
    return Number(("-" if rounded < 0 else "") + text, rounded, step)


def round_to_step(value: Fraction, step: Fraction, toward: Toward = Toward.NEAREST) -> Fraction:
    """Round a value to a multiple of ``step``: nearest (half away from zero), down or up.

    >>> round_to_step(Fraction(77, 4), Fraction(1, 2), Toward.DOWN)
    Fraction(19, 1)
    """
    places = value / step
    if toward is Toward.DOWN:
        return places.__floor__() * step
    if toward is Toward.UP:
        return places.__ceil__() * step
    sign = -1 if places < 0 else 1
    return sign * (abs(places) + Fraction(1, 2)).__floor__() * step


def decimal_step(step: Fraction) -> Fraction:
    """The largest power of ten, at most one, that is not coarser than ``step``: the precision a conversion keeps.

    >>> decimal_step(Fraction(254, 10000))
    Fraction(1, 100)
    """
    power = Fraction(1)
    while power > step:
        power /= 10
    return power
