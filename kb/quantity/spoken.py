"""Reads what a mechanic types: an angle with its side in words ("2 before"), a number with its unit ("62 mm")."""

from __future__ import annotations

import re
from fractions import Fraction

from kb.errors import QuantityError
from kb.quantity.number import read_number, write_number
from kb.quantity.quantity import Quantity
from kb.quantity.value import read_value

_ANGLE = r"\s*(?P<number>[0-9][0-9./ ]*?)\s*(?:°|deg|degrees?)?\s*(?P<side>before|after|btdc|atdc)?\s*"
_UNITS = {
    '"': "in",
    "inch": "in",
    "inches": "in",
    "lb ft": "lbf_ft",
    "n m": "Nm",
    "us gal": "us_gal",
    "imp gal": "imp_gal",
    "us fl oz": "us_fl_oz",
    "imp fl oz": "imp_fl_oz",
    "l": "L",
    "ml": "mL",
    "kgf/cm2": "kgf_cm2",
    "kgf/cm²": "kgf_cm2",
    "kpa": "kPa",
    "°": "deg",
    "degrees": "deg",
    "degree": "deg",
}
"""Units as people type them, with their keys."""


def spoken_angle(words: str) -> Fraction:
    """Signed degrees of crank, before top dead centre positive, from words such as ``2 before``, ``1.5 ATDC`` or ``0``.

    Raises:
        QuantityError: the words have no side, or no plain number; the message says what to type.

    >>> spoken_angle("2 before"), spoken_angle("1.5° ATDC"), spoken_angle("0")
    (Fraction(2, 1), Fraction(-3, 2), Fraction(0, 1))
    """
    found = re.fullmatch(_ANGLE, words, re.IGNORECASE)  # compiled when first needed
    if words.strip().lower() in ("tdc", "0 tdc", "at tdc"):
        return Fraction(0)
    if found:
        value = read_number(found["number"].strip(), fractions=True).value
        side = (found["side"] or "").lower()
        if side in ("before", "btdc"):
            return value
        if side or value == 0:
            return -value
    raise QuantityError(
        f"{words[:40]!r} is not an angle with its side; write degrees and before or after top dead centre, "
        "such as '2 before', '1.5 after', or 0"
    )


def angle_in_words(degrees: Fraction | float) -> str:
    """Signed degrees as words, to a thousandth: ``2 before``, ``1.5 after``, ``0``.

    >>> angle_in_words(Fraction(-3, 2))
    '1.5 after'
    """
    number = plain(degrees)
    return number if number == "0" else f"{number} {'before' if degrees > 0 else 'after'}"


def plain(number: Fraction | float, decimals: int = 3) -> str:
    """The size of a number without its sign, with at most that many decimals and no trailing zeros.

    >>> plain(Fraction(-5, 2)), plain(2.0), plain(1 / 3)
    ('2.5', '2', '0.333')
    """
    text = write_number(abs(Fraction(number)), Fraction(1, 10**decimals)).text
    return text.rstrip("0").rstrip(".") if "." in text else text


def spoken_quantity(words: str, allowed: tuple[str, ...], bare: str = "") -> Quantity:
    """A quantity from a number and its unit, such as ``62 mm`` or ``0.150 in``.

    ``allowed`` are the unit keys it may have; ``bare`` is the unit of a number typed without one, if that is allowed.

    Raises:
        QuantityError: it has no unit, another one, or no plain number; the message says what to type.

    >>> str(spoken_quantity("62mm", ("mm", "in"))), str(spoken_quantity("47", ("deg",), bare="deg"))
    ('62 mm', '47°')
    """
    found = re.fullmatch(r"\s*([0-9][0-9./]*(?:\s+[0-9]+/[0-9]+)?)\s*(.*?)\s*", words)
    unit = found[2] if found else ""
    key = (_UNITS.get(unit.lower(), unit) if unit else bare).replace(" ", "_")
    if not found or key not in allowed:
        raise QuantityError(f"{words[:40]!r}: write a number and {' or '.join(allowed)}, such as '62 {allowed[0]}'")
    value = read_value({key: found[1]})
    if not isinstance(value, Quantity):
        raise QuantityError(f"{words[:40]!r} is not a plain quantity")
    return value
