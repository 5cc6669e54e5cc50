"""The readings that engines were left at, as dots beside the printed window: places on a strip of 300 steps."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from kb.publish.site.family.engine_rows import EngineRow, FigureRows, was_one_of
from kb.quantity import Quantity, Value, read_value

if TYPE_CHECKING:
    from kb.publish.site.family.page_types import PageDocument, PageReading, PageReport, PageRow
    from kb.publish.site.family.view_types import LeftAt, StripView

WIDE = 300

Reading = tuple["PageReport", "PageReading"]
"""A report, and one of the readings that it left."""


def dots_of(page: PageDocument, figure_rows: FigureRows) -> list[StripView]:
    """A strip for each printed window that reports can be compared with; none where no report has a reading of an
    engine of this family in that state. Without a window or a dot to draw, its ``wide`` is 0 and the words stand alone.

    Larger values, and for an angle earlier ones, lie to the right. An angle that is as shown, or not said to be true,
    is in words alone: beside true ones a pointer that was off would pass for an engine that ran well there. An engine
    whose serial number does not decide which of several windows is its own is shown beside none of them.
    """
    if not page["reports"]:
        return []
    figure = next(one for one in page["figures"] if one["id"] == figure_rows.figure)
    rows = figure_rows.depends or (EngineRow("", figure_rows.row, figure_rows.kinds),)
    strips = []
    for engines, row, kinds in rows:
        readings = [
            (report, one)
            for report, one in _left(page, figure_rows.figure, figure_rows.row)
            if was_one_of(page, figure, report.get("serial", ""), kinds)
        ]
        if readings:
            strips.append(_strip(engines, row, readings))
    return strips


def _left(page: PageDocument, figure: str, row: PageRow) -> Iterator[Reading]:
    for report in page["reports"]:
        for one in report["left"].get(figure, ()):
            if one["state"] == row["state"] and one.get("conditions", "") == row.get("conditions", ""):
                yield report, one


def _strip(engines: str, row: PageRow, readings: Sequence[Reading]) -> StripView:
    said: list[LeftAt] = [
        {"words": f"{_printed(one)} on {report['on']}", "ran": report.get("ran", "")} for report, one in readings
    ]
    ran_at = ", ".join(dict.fromkeys(_briefly(one) for _, one in readings))
    bare: StripView = {
        "engines": engines,
        "printed": row.get("printed", ""),
        "ran_at": ran_at,
        "said": said,
        "from": 0,
        "wide": 0,
        "points": [],
    }
    window = read_value(row["value"]) if "value" in row else None
    if not isinstance(window, Quantity):
        return bare
    values = [
        value
        for _, one in readings
        if "doubt" not in one and (value := _in_unit(read_value(one.get("value", _WORDS)), window)) is not None
    ]
    if not values:
        return bare
    ends = [end for end in (window.low, window.high) if end is not None]
    low, high = min(*ends, *values), max(*ends, *values)
    room = (high - low) / 4 or Fraction(1)
    first, whole = low - room, high - low + 2 * room

    def place(value: Fraction) -> int:
        return int((value - first) * WIDE / whole)

    # A bound is open on one side: its block extends to the strip's end.
    start = 0 if window.low is None else place(window.low) - 2
    end = WIDE if window.high is None else place(window.high) + 2
    return {**bare, "from": start, "wide": end - start, "points": [{"x": place(value)} for value in values]}


def _printed(reading: PageReading) -> str:
    return f"{reading['printed']} ({reading['doubt']})" if "doubt" in reading else reading["printed"]


def _briefly(reading: PageReading) -> str:
    """A reading with a question mark if it may not be the true angle; the words below the row say why."""
    return f"{reading['printed']}{'?' if 'doubt' in reading else ''}".replace(" of piston travel", " travel")


def _in_unit(value: Value, window: Quantity) -> Fraction | None:
    if not isinstance(value, Quantity) or value.low is None or value.unit.dimension is not window.unit.dimension:
        return None
    return value.unit.convert(value.low, window.unit)


_WORDS = {"mark": "-"}
