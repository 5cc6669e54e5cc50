"""What the report of a job says of an angle: whether it is true, what it was reckoned by, and what it was read with."""

from __future__ import annotations

from fractions import Fraction

from kb.quantity import DEGREE_OF_CRANK, Form, Quantity, Side, read_value
from kb.vocabulary.work import AngleRead

TYPE_CHECKING = False
if TYPE_CHECKING:
    from kb.book.model.engine_ranges import Document

NOT_SAID = "true or as shown?"
"""What a reader is told of an angle in a report from before reports said it."""


def is_angle(reading: Document) -> bool:
    """Whether a reading is a crank angle, in degrees or as a piston position."""
    return not {*map(str, Side), "from"}.isdisjoint(reading)


def is_by_pointer(reading: Document) -> bool:
    """Whether a reading is an angle in degrees: a gauge in the plug hole finds the top itself, a pointer may be off."""
    value = read_value(reading) if is_angle(reading) else None
    return isinstance(value, Quantity) and value.unit is DEGREE_OF_CRANK


def doubt_of(reading: Document) -> str:
    """Why a reading cannot stand beside a printed angle, in words; empty if it can, as whatever is no angle."""
    said = reading.get("reads", "")
    if said == AngleRead.AS_SHOWN:
        return "as shown"
    return NOT_SAID if not said and is_by_pointer(reading) else ""


def how_read(reading: Document) -> str:
    """All that a report says of how an angle was read, in words; empty if it is no angle, or nothing is said."""
    told = [doubt_of(reading) or ("true angle" if "reads" in reading else "")]
    if shown := reading.get("shown"):
        told.append(f"{read_value(shown)} shown")
    if centre := reading.get("dead_centre"):
        told.append(_pointer(centre, reading.get("dead_centre_uncertainty")))
    told.append(reading.get("instrument", "").replace("-", " "))
    return ", ".join(filter(None, told))


def _pointer(centre: Document, within: Document | None) -> str:
    found = read_value(centre)
    right = isinstance(found, Quantity) and found.nominal == 0
    words = "pointer right at dead centre" if right else f"pointer {found} at dead centre"
    return f"{words} ± {read_value(within)}" if within else words


def reckoned(reading: Document) -> tuple[Fraction, Fraction] | None:
    """The true angle that is written, and the one reckoned from what was shown, both in signed degrees.

    None where the report does not hold all three, or a window was read instead of one angle.
    """
    if not is_by_pointer(reading) or "shown" not in reading or "dead_centre" not in reading:
        return None
    written, shown, centre = (read_value(one) for one in (reading, reading["shown"], reading["dead_centre"]))
    angles = [one.nominal for one in (written, shown, centre) if isinstance(one, Quantity) and one.form is Form.NOMINAL]
    if len(angles) < 3:
        return None
    true, seen, off = (angle for angle in angles if angle is not None)
    return true, seen - off
