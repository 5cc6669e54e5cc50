"""A worked calculation: the answer in words, plain numbers for programs, and every step."""

from __future__ import annotations

from kb.frozen import record
from kb.working import working_document

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Mapping
    from typing import Any

    from kb.working import Working


@record()
class Worked:
    """A worked calculation.

    ``title`` names it, ``answer`` is the result in words, line by line, the most needed first. ``values`` are plain
    numbers and words for programs; each number's name ends in its unit (``dead_centre_reading_deg``, ``tape_mm``;
    signed degrees are before top dead centre positive). ``remarks`` and ``cautions`` are always shown with the answer;
    each caution is one sentence on what can hurt.
    """

    title: str
    answer: tuple[str, ...]
    values: Mapping[str, Any]
    working: Working
    remarks: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()

    def to_document(self) -> dict[str, Any]:
        """The calculation as plain values for JSON."""
        return {
            "title": self.title,
            "answer": list(self.answer),
            "values": dict(self.values),
            "working": working_document(self.working),
            "remarks": list(self.remarks),
            "cautions": list(self.cautions),
        }
