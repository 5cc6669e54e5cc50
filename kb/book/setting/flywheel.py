"""A flywheel as its family's file describes it: how it turns, what bears the marks, which have a number, how wide."""

from __future__ import annotations

from kb.book.model.engine_ranges import as_list
from kb.frozen import record
from kb.quantity import UNITS, Quantity, read_number, read_value

TYPE_CHECKING = False
if TYPE_CHECKING:
    from fractions import Fraction
    from typing import Any

    from kb.book.model.engine_ranges import Document


@record()
class Flywheel:
    """What is known of it; what the file does not say is empty.

    ``numbered`` are the marks that bear a number, in signed degrees, before top dead centre positive, the latest first;
    ``division`` is what one division is worth, in degrees; ``diameter`` that of the rim, in millimetres.
    """

    rotation: str
    marks_on: str
    numbered: tuple[Fraction, ...]
    division: Fraction | None
    diameter: Fraction | None

    @classmethod
    def read(cls, document: Document | None) -> Flywheel:
        """From what stands under ``flywheel`` in a family's file."""
        told = document or {}
        marks = told.get("numbered_marks") or {}
        numbered = {read_number(text).value for text in as_list(marks.get("btdc"))}
        numbered |= {-read_number(text).value for text in as_list(marks.get("atdc"))}
        return cls(
            told.get("rotation", ""),
            told.get("marks_on", ""),
            tuple(sorted(numbered)),
            _one_number(told.get("division"), "deg"),
            _one_number(told.get("rim_diameter"), "mm"),
        )


def _one_number(raw: Any, unit: str) -> Fraction | None:
    """A value in a unit; nothing where it is not one number."""
    value = read_value(raw) if raw else None
    if not isinstance(value, Quantity) or value.nominal is None:
        return None
    return value.unit.convert(value.nominal, UNITS[unit])
