"""Which engine: serial numbers and years, ranges that hold them, and the kinds of engine that ranges tell apart."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from kb.book.records import Fit, Range

_RUNS = re.compile(r"[A-Z]+|[0-9]+")

SerialKey = tuple[str | int, ...]
"""A serial number as runs of letters and whole numbers, so that A 900 comes before A 12000."""


def serial_key(serial: str) -> SerialKey:
    """The key by which serial numbers are ordered; case, blanks, dots, slashes and hyphens do not count.

    >>> serial_key("b 20417") < serial_key("B-104170")
    True
    """
    return tuple(int(run) if run.isdigit() else run for run in _RUNS.findall(serial.upper()))


def same_shape(one: SerialKey, other: SerialKey) -> bool:
    """Whether two keys have the same runs of letters and digits; only such serial numbers are ordered."""
    return len(one) == len(other) and all(isinstance(a, int) == isinstance(b, int) for a, b in zip(one, other, strict=True))


def range_holds_serial(held: Range, serial: str) -> bool:
    """Whether a serial number lies in a range; one of another shape than the range's ends never does."""
    key = serial_key(serial)
    first = serial_key(held.first) if held.first else None
    last = serial_key(held.last) if held.last else None
    if any(end is not None and not same_shape(end, key) for end in (first, last)):
        return False
    return (first is None or first <= key) and (last is None or key <= last)


def range_holds_year(held: Range, year: int) -> bool:
    """Whether a year lies in a range."""
    return (held.first is None or int(held.first) <= year) and (held.last is None or year <= int(held.last))


@dataclass(frozen=True, slots=True)
class Engine:
    """One engine, as far as it is known."""

    serial: str | None = None
    year: int | None = None


def fit_holds(fit: Fit, engine: Engine) -> bool | None:
    """Whether an engine lies in a fit; none when what the fit asks for is not known."""
    answers: list[bool | None] = []
    if fit.serials:
        answers.append(None if engine.serial is None else range_holds_serial(fit.serials, engine.serial))
    if fit.years:
        answers.append(None if engine.year is None else range_holds_year(fit.years, engine.year))
    if False in answers:
        return False
    return None if None in answers else True


def engine_kinds(fits: Iterable[Fit], parts: Iterable[Fit], engine: Engine | None = None) -> list[frozenset[Fit]]:
    """The kinds of engine that the parts of a family tell apart: for each, the parts that hold it.

    ``fits`` bound the family; ``engine`` leaves only the kinds that it may be. Every range's ends, and what lies
    between them, are tried.
    """
    engine = engine or Engine()
    fits, parts = tuple(fits), tuple(dict.fromkeys(parts))
    if not parts:
        return [frozenset()]
    serials = [engine.serial] if engine.serial is not None else _serial_points((*fits, *parts))
    years = [engine.year] if engine.year is not None else _year_points((*fits, *parts))
    kinds: dict[frozenset[Fit], None] = {}
    for serial in serials:
        for year in years:
            one = Engine(serial, year)
            if fits and all(fit_holds(fit, one) is False for fit in fits):
                continue
            kinds[frozenset(part for part in parts if fit_holds(part, one))] = None
    return list(kinds) or [frozenset()]


def _serial_points(fits: Iterable[Fit]) -> list[str | None]:
    points: dict[str, None] = {}
    for fit in fits:
        for end, step in ((fit.serials.first, -1), (fit.serials.last, 1)) if fit.serials else ():
            if end:
                points[end] = None
                points[_next_to(end, step)] = None
    return [*points] or [None]


def _next_to(serial: str, step: int) -> str:
    """The serial number next to one, in its last run of digits."""
    runs = re.split(r"([0-9]+)", serial)
    for index in range(len(runs) - 1, -1, -1):
        if runs[index].isdigit():
            runs[index] = str(max(0, int(runs[index]) + step)).rjust(len(runs[index]), "0")
            break
    return "".join(runs)


def _year_points(fits: Iterable[Fit]) -> list[int | None]:
    points: dict[int, None] = {}
    for fit in fits:
        for end, step in ((fit.years.first, -1), (fit.years.last, 1)) if fit.years else ():
            if end:
                points[int(end)] = None
                points[int(end) + step] = None
    return [*points] or [None]
