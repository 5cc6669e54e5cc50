"""A flywheel as its family's file describes it: its rotation, its marks and their numbers, its diameter."""

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
    """A flywheel; what the file does not state is empty.

    ``numbered`` are the marks with a number, in signed degrees, before top dead centre positive, the latest first;
    ``division`` is the size of one division in degrees; ``diameter`` that of the rim, in millimetres.
    """

    rotation: str
    marks_on: str
    numbered: tuple[Fraction, ...]
    division: Fraction | None
    diameter: Fraction | None

    @classmethod
    def read(cls, document: Document | None) -> Flywheel:
        """From what stands under ``flywheel`` in a family's file."""
        stated = document or {}
        marks = stated.get("numbered_marks") or {}
        numbered = {read_number(text).value for text in as_list(marks.get("btdc"))}
        numbered |= {-read_number(text).value for text in as_list(marks.get("atdc"))}
        return cls(
            stated.get("rotation", ""),
            stated.get("marks_on", ""),
            tuple(sorted(numbered)),
            _one_number(stated.get("division"), "deg"),
            _one_number(stated.get("rim_diameter"), "mm"),
        )


def _one_number(raw: Any, unit: str) -> Fraction | None:
    """A value in a unit; None where it is not one number."""
    value = read_value(raw) if raw else None
    if not isinstance(value, Quantity) or value.nominal is None:
        return None
    return value.unit.convert(value.nominal, UNITS[unit])
