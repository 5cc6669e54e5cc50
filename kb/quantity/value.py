"""Everything a statement may state: a quantity, words, an order, or a correction."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from itertools import pairwise

from kb.errors import QuantityError
from kb.frozen import record
from kb.quantity.number import Number, read_number
from kb.quantity.quantity import Quantity
from kb.quantity.reading import read_quantity, read_straddle, to_document
from kb.quantity.unit import CORRECTION_KEYS, VALUE_KEYS, WORD_KEYS, Dimension

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

_VALUE_KEYS = frozenset(VALUE_KEYS)
_OTHERS = frozenset((*WORD_KEYS, *CORRECTION_KEYS))


@record()
class Words:
    """An alignment mark in words, or a code such as a plug type: kept as printed, never judged by program."""

    dimension: Dimension
    text: str

    def __str__(self) -> str:
        return self.text


@record()
class Order:
    """A firing order: the cylinders in the order in which they fire."""

    cylinders: tuple[int, ...]

    def __str__(self) -> str:
        return "-".join(map(str, self.cylinders))


@record()
class CorrectionPoint:
    """How much earlier (or later) the timing reads while cranking than at one speed; no speed means constant."""

    degrees: Number
    cranking_earlier: bool
    rpm: Number | None = None

    @property
    def signed(self) -> Fraction:
        """Cranking reading minus running reading, in degrees, before top dead centre positive."""
        return self.degrees.value if self.cranking_earlier else -self.degrees.value

    def __str__(self) -> str:
        side = "earlier" if self.cranking_earlier else "later"
        speed = f" at {self.rpm} rpm" if self.rpm else ""
        return f"reads {self.degrees}° {side} while cranking than when running{speed}"


@record()
class Correction:
    """A constant, or a table by speed in ascending order."""

    points: tuple[CorrectionPoint, ...]

    def __str__(self) -> str:
        return "; ".join(map(str, self.points))


Value = Quantity | Words | Order | Correction


def value_keys(keys: Iterable[str]) -> list[str]:
    """Those of the keys that hold a value, in their order; ``from`` and ``to`` count as one, under ``from``."""
    found = [key for key in keys if key in _VALUE_KEYS]
    if len(found) > 1 and "to" in found and "from" in found:
        found.remove("to")
    return found


def value_key(keys: Iterable[str]) -> str:
    """The first of the keys that holds a value, or nothing."""
    for key in keys:
        if key in _VALUE_KEYS:
            return key
    return ""


def read_value(document: Mapping[str, Any]) -> Value:
    """Read the one value in a mapping; other keys are ignored.

    Raises:
        QuantityError: there is none, more than one, or it cannot be read.
    """
    found = _VALUE_KEYS.intersection(document)
    keys = found if len(found) == 1 else value_keys(document)
    if len(keys) != 1:
        raise QuantityError(f"exactly one unit is needed, not {', '.join(keys) or 'none'}")
    (key,) = keys
    if key in ("from", "to"):
        ends = document.get("from"), document.get("to")
        if not (isinstance(ends[0], Mapping) and isinstance(ends[1], Mapping)):
            raise QuantityError("a straddling window has both from and to, each with its side")
        return read_straddle(ends[0], ends[1])
    return read_under(key, document[key])


def read_under(key: str, raw: Any) -> Value:
    """Read what stands under one key that holds a value, other than an end of a straddling window.

    Raises:
        QuantityError: it cannot be read.
    """
    if key not in _OTHERS:
        return read_quantity(key, raw)
    if key in ("mark", "code"):
        if not isinstance(raw, str) or not raw.strip():
            raise QuantityError(f"{key} is words")
        return Words(Dimension(key), raw)
    if key == "order":
        return _read_order(raw)
    return _read_table(raw) if key == "by_rpm" else Correction((_read_point(key, raw),))


def write_value(value: Value) -> dict[str, Any]:
    """The mapping that a contributor would type for a value."""
    if isinstance(value, Quantity):
        return to_document(value)
    if isinstance(value, Words):
        return {value.dimension.value: value.text}
    if isinstance(value, Order):
        return {"order": [str(cylinder) for cylinder in value.cylinders]}
    rows: list[dict[str, Any]] = []
    for point in value.points:
        row = {"cranking_earlier" if point.cranking_earlier else "cranking_later": point.degrees.text}
        rows.append({"rpm": point.rpm.text, **row} if point.rpm else row)
    return {"by_rpm": rows} if value.points[0].rpm else rows[0]


def _read_order(raw: Any) -> Order:
    if not isinstance(raw, (list, tuple)) or not raw or not all(isinstance(item, str) for item in raw):
        raise QuantityError("an order is a list of cylinder numbers, such as [1, 3, 2]")
    numbers = [read_number(item) for item in raw]
    if any(number.step != 1 or not 0 < number.value < 100 for number in numbers):
        raise QuantityError("cylinder numbers are whole and count from 1")
    return Order(tuple(int(number.value) for number in numbers))


def _read_point(key: str, raw: Any, rpm: Number | None = None) -> CorrectionPoint:
    if not isinstance(raw, str):
        raise QuantityError(f"{key} is one number of degrees")
    return CorrectionPoint(read_number(raw), key == "cranking_earlier", rpm)


def _read_table(raw: Any) -> Correction:
    points = []
    for row in raw if isinstance(raw, (list, tuple)) else ():
        keys = set(row) - {"rpm"} if isinstance(row, Mapping) else set()
        if len(keys) != 1 or not keys <= {"cranking_earlier", "cranking_later"} or not isinstance(row.get("rpm"), str):
            raise QuantityError("each row of by_rpm has rpm, and cranking_earlier or cranking_later")
        key = next(iter(keys))
        points.append(_read_point(key, row[key], read_number(row["rpm"])))
    speeds = [point.rpm.value for point in points if point.rpm]
    if len(speeds) < 2 or any(slower >= faster for slower, faster in pairwise(speeds)):
        raise QuantityError("by_rpm is a list of at least two rows, each at a higher speed than the one before")
    return Correction(tuple(points))
