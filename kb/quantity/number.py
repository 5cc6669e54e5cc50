"""Numbers as they are printed: their grammar, their exact values, the precision that the digits claim."""

from __future__ import annotations

import re
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache

from kb.errors import NumberNotPlain
from kb.frozen import record

DECIMAL_PATTERN = r"(?:0|[1-9][0-9]{0,8})(?:\.[0-9]{1,9})?"
FRACTION_PATTERN = r"(?:[1-9][0-9]{0,3} )?[1-9][0-9]{0,3}/[1-9][0-9]{0,3}"

_SIGNED_PATTERN = "-?" + DECIMAL_PATTERN
_STEPS = tuple(Fraction(1, 10**decimals) for decimals in range(10))


class Toward(StrEnum):
    """Which way a value is rounded. For crank angles, which count before top dead centre positive,
    ``DOWN`` is later and ``UP`` is earlier."""

    NEAREST = "nearest"
    DOWN = "down"
    UP = "up"


@record()
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
    if (number := _read(text, fractions, signed)) is not None:
        return number
    wanted = "plain digits such as 24 or 0.030" + (", or a fraction such as 7/64 or 1 1/4" if fractions else "")
    raise NumberNotPlain(f"{text[:40]!r} is not a plain number; write {wanted}")


@lru_cache(maxsize=8192)
def _read(text: str, fractions: bool, signed: bool) -> Number | None:
    """The number, or None. Cached: a book repeats the same few thousand numbers, and fractions are slow to build."""
    if re.fullmatch(_SIGNED_PATTERN if signed else DECIMAL_PATTERN, text):  # compiled on first use, then cached
        digits, _, decimals = text.partition(".")
        if not decimals:
            return Number(text, Fraction(int(digits)), _STEPS[0])
        return Number(text, Fraction(int(digits + decimals), 10 ** len(decimals)), _STEPS[len(decimals)])
    if fractions and re.fullmatch(FRACTION_PATTERN, text):
        whole, _, part = text.rpartition(" ")
        top, _, bottom = part.partition("/")
        numerator, denominator = int(top), int(bottom)
        if numerator < denominator:
            value = Fraction(int(whole or 0) * denominator + numerator, denominator)
            return Number(text, value, Fraction(1, denominator))
    return None


def write_number(value: Fraction, step: Fraction, toward: Toward = Toward.NEAREST) -> Number:
    """Print a value to a decimal step, such as 1/100, rounding half away from zero unless ``toward`` says otherwise.

    For a step that is not a power of ten the next finer power is used.

    >>> write_number(Fraction(5, 3), Fraction(1, 10)).text
    '1.7'
    """
    decimals = _decimals(step)
    scaled = _whole_steps(value, _STEPS[decimals], toward)
    digits = str(abs(scaled)).rjust(decimals + 1, "0")
    text = f"{digits[:-decimals]}.{digits[-decimals:]}" if decimals else digits
    return Number("-" + text if scaled < 0 else text, Fraction(scaled, 10**decimals), _STEPS[decimals])


def round_to_step(value: Fraction, step: Fraction, toward: Toward = Toward.NEAREST) -> Fraction:
    """Round a value to a multiple of ``step``: nearest (half away from zero), down or up.

    >>> round_to_step(Fraction(77, 4), Fraction(1, 2), Toward.DOWN)
    Fraction(19, 1)
    """
    return Fraction(_whole_steps(value, step, toward) * step.numerator, step.denominator)


def _whole_steps(value: Fraction, step: Fraction, toward: Toward) -> int:
    """A value as a rounded number of steps, worked in integers: fractions would take ten times as long."""
    top, bottom = value.numerator * step.denominator, value.denominator * step.numerator
    if toward is Toward.DOWN:
        return top // bottom
    if toward is Toward.UP:
        return -(-top // bottom)
    return (2 * top + bottom) // (2 * bottom) if top >= 0 else -((bottom - 2 * top) // (2 * bottom))


def decimal_step(step: Fraction) -> Fraction:
    """The largest power of ten that is not coarser than ``step``: the precision that a conversion keeps.

    It is at most one, and at least a thousand-millionth, which is the last place of the grammar.

    >>> decimal_step(Fraction(254, 10000))
    Fraction(1, 100)
    """
    return _STEPS[_decimals(step)]


def _decimals(step: Fraction) -> int:
    """How many decimals a step needs; the grammar allows nine."""
    top, bottom, decimals = step.numerator, step.denominator, 0
    while top < bottom and decimals < len(_STEPS) - 1:
        top, decimals = top * 10, decimals + 1
    return decimals
