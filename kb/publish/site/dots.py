"""What engines ran at, as dots beside the printed window: places on a strip of 300 steps, and the same in words."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from kb.book.fits import Document
from kb.quantity import Quantity, read_value

WIDE = 300


def dots_of(page: Document, figure: str, row: Document) -> list[dict[str, Any]]:
    """One strip, or none where nobody reported what an engine of this family was left at in that state.

    Larger values, and for an angle earlier ones, lie to the right.
    """
    reports = list(_left(page, figure, row))
    if not reports or "value" not in row or "by_rpm" in row["value"]:
        return []
    printed = read_value(row["value"])
    if not isinstance(printed, Quantity) or printed.low is None or printed.high is None:
        return []
    readings = []
    for report, raw, words in reports:
        value = read_value(raw)
        if isinstance(value, Quantity) and value.unit is printed.unit and value.low is not None:
            readings.append((report, value.low, words))
    if not readings:
        return []
    low = min(printed.low, *(value for _, value, _ in readings))
    high = max(printed.high, *(value for _, value, _ in readings))
    room = (high - low) / 4 or Fraction(1)
    first, whole = low - room, high - low + 2 * room

    def place(value: Fraction) -> int:
        return int((value - first) * WIDE / whole)

    return [
        {
            "from": place(printed.low) - 2, "wide": place(printed.high) - place(printed.low) + 4,
            "printed": str(printed),
            "points": [{"x": place(value)} for _, value, _ in readings],
            "said": [{"words": f"{words} on {report['on']}", "ran": report.get("ran", "")}
                     for report, _, words in readings],
        }
    ]  # fmt: skip


def _left(page: Document, figure: str, row: Document) -> Iterator[tuple[Document, Document, str]]:
    for report in page["reports"]:
        for one in report["left"].get(figure, ()):
            alike = one["state"] == row["state"] and one.get("conditions", "") == row.get("conditions", "")
            if alike and "value" in one:
                yield report, one["value"], one["printed"]
