"""What is typed at the bench, read: angles, lengths, volumes, times, numbers, and readings of a screw.

Every reader says the name of what it could not read, and what to type instead, as a ``QuantityError``.
"""

from __future__ import annotations

import re
from fractions import Fraction

from kb.errors import QuantityError
from kb.quantity import Quantity, read_number, read_value, spoken_angle, spoken_quantity

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from typing import TypeVar

    Read = TypeVar("Read")

LENGTH = ("mm", "in")
TIME = {"us": "us", "µs": "us", "microsecond": "us", "microseconds": "us", "ms": "ms", "s": "s"}
_NO_FAMILY = re.compile(r"(nan|inf(inity)?|tdc|at tdc|before|after|btdc|atdc)\b", re.IGNORECASE)
_NUMBER = r"[0-9]+(?:\.[0-9]+)?(?:/[0-9]+)?(?: [0-9]+/[0-9]+)?"
_WANTS_MORE = re.compile(_NUMBER + r"( (us|imp|imperial|uk|fl|(us|imp|imperial|uk) (fl|fluid)))?", re.IGNORECASE)
_VOLUMES = {
    "litre": "L",
    "litres": "L",
    "liter": "L",
    "liters": "L",
    "millilitre": "mL",
    "millilitres": "mL",
    "milliliter": "mL",
    "milliliters": "mL",
    "cc": "cm3",
    "cm³": "cm3",
    "gallon": "gal",
    "gallons": "gal",
    "gals": "gal",
    "imperial": "imp",
    "uk": "imp",
    "fluid": "fl",
    "ounce": "oz",
    "ounces": "oz",
    "floz": "fl oz",
}
"""Words of volume as they are typed, and what they are here."""

VOLUME = ("L", "mL", "cm3", "us_gal", "imp_gal", "us_fl_oz", "imp_fl_oz")
_PETROL = "such as '20 L', '6 US gal' or '5 imp gal'"


def family_first(words: Sequence[str]) -> tuple[str | None, list[str]]:
    """The family where one stands first, and the rest; a side or a unit by itself belongs to the number before it.

    >>> family_first(["skerrow/ketch-47", "24", "before"])
    ('skerrow/ketch-47', ['24 before'])
    >>> family_first(["6", "US", "gal", "50"])
    (None, ['6 US gal', '50'])
    """
    family = None
    if words and words[0][:1].isalpha() and not _NO_FAMILY.match(words[0]):
        family, words = words[0], words[1:]
    return family, joined(words)


def joined(words: Sequence[str]) -> list[str]:
    """The words, a side or a unit by itself joined to the number before it."""
    rest: list[str] = []
    for word in words:
        if rest and word[:1].isalpha() and _WANTS_MORE.fullmatch(rest[-1]):
            rest[-1] += " " + word
        else:
            rest.append(word)
    return rest


def read(what: str, reader: Callable[[str], Read], words: str) -> Read:
    """What was typed, read; an error names what it was typed for.

    Raises:
        QuantityError: it cannot be read; the message says what to type.
    """
    try:
        return reader(words.strip())
    except QuantityError as error:
        raise QuantityError(f"{what}: {error}") from None


def angle(what: str, words: str) -> Fraction:
    """Signed degrees from an angle with its side."""
    return read(what, spoken_angle, words)


def number(what: str, words: str) -> Fraction:
    """A plain number or a fraction, not negative."""
    return read(what, lambda text: read_number(text, fractions=True).value, words)


def positive(what: str, words: str) -> Fraction:
    """A plain number or a fraction above zero."""
    value = number(what, words)
    if not value:
        raise QuantityError(f"{what}: {words!r} is nothing; write a number above 0")
    return value


def whole(what: str, words: str) -> int:
    """A whole number."""
    value = number(what, words)
    if value.denominator != 1:
        raise QuantityError(f"{what}: {words!r} is not whole; write a whole number such as 3")
    return int(value)


def length(what: str, words: str) -> Quantity:
    """A length in millimetres or inches."""
    found = read(what, lambda text: spoken_quantity(text, LENGTH), words)
    if found.nominal == 0:
        raise QuantityError(f"{what}: {words!r} is not a length above zero; write one such as '62 mm'")
    return found


def size_in_degrees(what: str, words: str) -> Fraction:
    """Degrees without a side."""
    return read(what, lambda text: spoken_quantity(text, ("deg",), bare="deg"), words).nominal or Fraction(0)


def seconds(what: str, words: str) -> Quantity:
    """A time in microseconds, milliseconds or seconds."""

    def spoken(text: str) -> Quantity:
        digits = text.rstrip("abcdefghijklmnopqrstuvwxyzµ").strip()
        unit = text[len(digits) :].strip()
        if unit not in TIME:
            raise QuantityError(f"{text[:40]!r}: write a number and us or ms, such as '50 us'")
        return spoken_quantity(f"{digits} {TIME[unit]}", ("us", "ms", "s"))

    return read(what, spoken, words)


def volume(what: str, words: str) -> Quantity:
    """A volume, its gallon or fluid ounce named."""

    def spoken(text: str) -> Quantity:
        digits = re.match(r"[0-9./ ]*", text)
        amount = digits[0] if digits else ""
        unit = " ".join(_VOLUMES.get(word, word) for word in text[len(amount) :].lower().replace(".", "").split())
        if unit in ("gal", "oz", "fl oz") or unit.endswith(("pint", "pints", "quart", "quarts", "pt", "qt")):
            bare = "gallon" if unit == "gal" else "fluid ounce" if unit in ("oz", "fl oz") else "gallon or litre"
            shown = {"gallon": "gal", "fluid ounce": "fl oz"}.get(bare, "gal")
            raise QuantityError(
                f"{text[:40]!r} does not say which {bare}: a US gallon is 3.785 L and an imperial one 4.546 L; "
                f"write '{amount.strip()} US {shown}', '{amount.strip()} imp {shown}' or litres"
            )
        key = {"l": "L", "ml": "mL"}.get(unit, unit.replace(" ", "_"))
        if key not in VOLUME:
            raise QuantityError(f"{text[:40]!r} is not a volume; write a number and its unit, {_PETROL}")
        found = read_value({key: amount.strip()})
        if not isinstance(found, Quantity) or not found.nominal:
            raise QuantityError(f"{text[:40]!r} is nothing to mix; write a volume, {_PETROL}")
        return found

    return read(what, spoken, words)


def no_more(rest: Sequence[str], example: str) -> None:
    """Do nothing when nothing is left over.

    Raises:
        QuantityError: something is; the message shows what to type.
    """
    if rest:
        raise QuantityError(f"{' '.join(rest)[:60]!r} is more than this asks for; write {example}")


_SCREW = re.compile(
    rf"(?P<turns>{_NUMBER})(?:\s*turns?)?(?:\s*(?P<way>in|out))?[\s=:,]\s*"
    rf"(?P<angle>{_NUMBER}\s*(?:°|deg|degrees)?\s*(?:before|after|btdc|atdc))\s*",
    re.IGNORECASE,
)


def screw_readings(words: Sequence[str]) -> tuple[list[str], list[tuple[Fraction, Fraction]]]:
    """The family and figure where they stand first, and pairs of turns in and reading in signed degrees.

    >>> screw_readings(["0", "24", "before", "1/2 out 1 after"])[1]
    [(Fraction(0, 1), Fraction(24, 1)), (Fraction(-1, 2), Fraction(-1, 1))]
    """
    named = []
    while words and words[0][:1].isalpha() and not _NO_FAMILY.match(words[0]):
        named.append(words[0])
        words = words[1:]
    text, settings, at = " ".join(words).strip(), [], 0
    while at < len(text):
        found = _SCREW.match(text, at)
        if not found:
            raise QuantityError(
                f"{text[at : at + 40]!r} is not turns and a reading; write both, such as 0 24 before, 1/2 25 before or "
                "1/4 out 23.5 before"
            )
        turns = number("turns", found["turns"])
        settings.append((-turns if (found["way"] or "").lower() == "out" else turns, angle("reading", found["angle"])))
        at = found.end()
    return named, settings


_SIDED = re.compile(r"(?P<length>.*(?:mm|in|inch|inches|\"))\s+(?P<side>before|after|btdc|atdc)", re.IGNORECASE)


def position_or_angle(words: Sequence[str]) -> list[str]:
    """A side that stands after a length belongs to it."""
    if len(words) == 2 and words[1].lower() in ("before", "after", "btdc", "atdc"):
        return [" ".join(words)]
    return list(words)


def position(words: str, example: str) -> tuple[Quantity | None, int, Fraction]:
    """A piston position and its side (+1 before, -1 after, 0 either), or no position and signed degrees of crank."""
    sided = _SIDED.fullmatch(words.strip())
    text = (sided["length"] if sided else words).strip()
    if re.search(r"(mm|in|inch|inches|\")$", text, re.IGNORECASE):
        side = 0 if not sided else 1 if sided["side"].lower() in ("before", "btdc") else -1
        return read("position", lambda found: spoken_quantity(found, LENGTH), text), side, Fraction(0)
    try:
        return None, 0, spoken_angle(words)
    except QuantityError:
        raise QuantityError(f"{words[:40]!r} is neither degrees nor a position; write {example}") from None
