"""One calculation with its check vectors: names, units, tolerance, and rows of input and output."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from kb.errors import StopscrewError
from kb.frozen import record

Row = dict[str, Any]

LENGTH = "length, the same unit throughout"
DEGREES = "deg"
BEFORE = "deg, before top dead centre positive"
EXACT = "deg, before top dead centre positive, an exact fraction as text"


@record()
class Calculation:
    """A calculation, with the inputs to run it on.

    ``about`` is its formula in words, ``inputs`` and ``outputs`` the unit of each value. ``cases`` are the inputs, and
    ``work`` gives the outputs of one, or raises. A result agrees if it is off by no more than ``absolute`` or
    ``relative`` times the wanted one; with both zero it agrees exactly.
    """

    name: str
    about: str
    source: str
    inputs: Mapping[str, str]
    outputs: Mapping[str, str]
    cases: Callable[[], Iterable[Row]]
    work: Callable[..., Row]
    relative: float = 1e-12
    absolute: float = 0.0

    def rows(self) -> list[Row]:
        """Every case once with its outputs, or the name of the error."""
        rows, seen = [], set()
        for case in self.cases():
            if (mark := repr(case)) not in seen:
                seen.add(mark)
                rows.append({"in": case, **self._outcome(case)})
        return rows

    def _outcome(self, case: Row) -> Row:
        try:
            return {"out": self.work(**case)}
        except StopscrewError as refusal:
            return {"error": type(refusal).__name__}


def rows_of(names: str, *rows: tuple[Any, ...]) -> list[Row]:
    """Rows of inputs as mappings, their names given as one line of words.

    >>> rows_of("angle diameter", (10, 240))
    [{'angle': 10, 'diameter': 240}]
    """
    return [dict(zip(names.split(), row, strict=True)) for row in rows]
