"""Serial numbers and years, the ranges that hold them, and the kinds of engine that ranges distinguish."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache

from kb.book.model.engine_on_the_stand import ANY_ENGINE, EngineOnTheStand
from kb.book.model.engine_ranges import Fit, Range

_RUNS = re.compile(r"[A-Z]+|[0-9]+")
_LONGEST = 64  # no engine has a longer serial number; it bounds the work on what is typed

_MOST_POINTS = 400  # ends of ranges that are distinguished for one figure

SerialKey = tuple[str | int, ...]
"""A serial number as runs of letters and whole numbers, so that A 900 comes before A 12000."""


@lru_cache(maxsize=4096)
def serial_key(serial: str) -> SerialKey:
    """The key by which serial numbers are ordered; case, blanks, dots, slashes and hyphens do not count.

    >>> serial_key("b 20417") < serial_key("B-104170")
    True
    """
    return tuple(int(run) if run.isdigit() else run for run in _RUNS.findall(serial[:_LONGEST].upper()))


def same_shape(one: SerialKey, other: SerialKey) -> bool:
    """Whether two keys have the same runs of letters and digits; only such serial numbers are ordered."""
    return len(one) == len(other) and all(
        isinstance(a, int) == isinstance(b, int) for a, b in zip(one, other, strict=True)
    )


def _ends(held: Range) -> tuple[SerialKey | None, SerialKey | None]:
    return serial_key(held.first) if held.first else None, serial_key(held.last) if held.last else None


def _holds_key(held: Range, key: SerialKey) -> bool:
    first, last = _ends(held)
    if any(end is not None and not same_shape(end, key) for end in (first, last)):
        return False
    return (first is None or first <= key) and (last is None or key <= last)


def range_holds_serial(held: Range, serial: str) -> bool:
    """Whether a serial number lies in a range; one of another shape than the range's ends never does."""
    return _holds_key(held, serial_key(serial))


def range_holds_year(held: Range, year: int) -> bool:
    """Whether a year lies in a range."""
    return (held.first is None or int(held.first) <= year) and (held.last is None or year <= int(held.last))


def serials_meet(one: Range, other: Range) -> bool:
    """Whether two ranges of serial numbers hold one in common; ranges of different shape never do."""
    ends = [end for end in (*_ends(one), *_ends(other)) if end is not None]
    if any(not same_shape(ends[0], end) for end in ends):
        return False
    (first, last), (other_first, other_last) = _ends(one), _ends(other)
    return not _beyond(first, other_last) and not _beyond(other_first, last)


def years_meet(one: Range, other: Range) -> bool:
    """Whether two ranges of years hold one in common."""
    first, last, other_first, other_last = (
        None if end is None else int(end) for end in (one.first, one.last, other.first, other.last)
    )
    return not (first is not None and other_last is not None and first > other_last) and not (
        other_first is not None and last is not None and other_first > last
    )


def _beyond(first: SerialKey | None, last: SerialKey | None) -> bool:
    return first is not None and last is not None and first > last


def fits_meet(one: Fit, other: Fit) -> bool:
    """Whether an engine may lie in both; a limit that only one of them has does not separate them."""
    if one.serials and other.serials and not serials_meet(one.serials, other.serials):
        return False
    return not (one.years and other.years and not years_meet(one.years, other.years))


def changeovers(fit: Fit) -> set[SerialKey | int]:
    """Where a fit ends or begins: the first serial number, and the first year, on the later side of each end.

    A range to 349999 and one from 350000 have that end in common.
    """
    first, last = _ends(fit.serials) if fit.serials else (None, None)
    begins, ends = (fit.years.first, fit.years.last) if fit.years else (None, None)
    serials = (first, _next_to(last, 1) if last else None)
    years = (int(begins) if begins else None, int(ends) + 1 if ends else None)
    return {end for end in (*serials, *years) if end is not None}


def fit_holds(fit: Fit, engine: EngineOnTheStand) -> bool | None:
    """Whether an engine lies in a fit; None when its serial number or year, on which that depends, is not known."""
    unknown = False
    if fit.serials:
        if engine.serial is None:
            unknown = True
        elif not range_holds_serial(fit.serials, engine.serial):
            return False
    if fit.years:
        if engine.year is None:
            unknown = True
        elif not range_holds_year(fit.years, engine.year):
            return False
    return None if unknown else True


def engine_kinds(
    fits: Iterable[Fit], parts: Iterable[Fit], engine: EngineOnTheStand = ANY_ENGINE
) -> list[frozenset[Fit]]:
    """The kinds of engine that the parts of a family distinguish: for each, the parts that hold it.

    ``fits`` bound the family; ``engine`` leaves only the kinds that it may be. Between any two neighbouring ends of
    ranges one engine represents all; beyond a few hundred ends no more are distinguished.
    """
    parts = tuple(dict.fromkeys(parts))
    if not parts:
        return [frozenset()]
    fits = tuple(fits)
    serials = _serial_points((*fits, *parts)) if engine.serial is None else [serial_key(engine.serial)]
    years = _year_points((*fits, *parts)) if engine.year is None else [engine.year]
    held_by_serial = {(_by_serial(fits, key, True), _by_serial(parts, key, False)) for key in serials}
    held_by_year = {(_by_year(fits, year, True), _by_year(parts, year, False)) for year in years}
    kinds = {
        by_serial & by_year
        for fits_serial, by_serial in held_by_serial
        for fits_year, by_year in held_by_year
        if not fits or fits_serial & fits_year
    }
    return [frozenset(part for bit, part in enumerate(parts) if kind >> bit & 1) for kind in sorted(kinds or {0})]


def _by_serial(fits: Sequence[Fit], key: SerialKey | None, unknown: bool) -> int:
    """A bit for each fit whose serial numbers hold the key; ``unknown`` is the answer when there is no key."""
    held = (fit.serials is None or (unknown if key is None else _holds_key(fit.serials, key)) for fit in fits)
    return sum(1 << bit for bit, holds in enumerate(held) if holds)


def _by_year(fits: Sequence[Fit], year: int | None, unknown: bool) -> int:
    """A bit for each fit whose years hold the year; ``unknown`` is the answer when there is none."""
    held = (fit.years is None or (unknown if year is None else range_holds_year(fit.years, year)) for fit in fits)
    return sum(1 << bit for bit, holds in enumerate(held) if holds)


def _serial_points(fits: Sequence[Fit]) -> Sequence[SerialKey | None]:
    """The ends of all ranges and the serial numbers just outside them; one None if there are no ranges."""
    points: dict[SerialKey, None] = {}
    for fit in fits:
        first, last = _ends(fit.serials) if fit.serials else (None, None)
        for end, step in ((first, -1), (last, 1)):
            if end:
                points[end] = None
                points[_next_to(end, step)] = None
    return list(points)[:_MOST_POINTS] or [None]


def _next_to(key: SerialKey, step: int) -> SerialKey:
    """The next key up or down; it need not be a possible serial number, such as the one before B 0."""
    last = key[-1]
    if isinstance(last, int):
        return (*key[:-1], last + step)
    return (*key[:-1], last + "A" if step > 0 else last[:-1] + chr(ord(last[-1]) - 1))


def _year_points(fits: Sequence[Fit]) -> Sequence[int | None]:
    points: dict[int, None] = {}
    for fit in fits:
        for end, step in ((fit.years.first, -1), (fit.years.last, 1)) if fit.years else ():
            if end:
                points[int(end)] = None
                points[int(end) + step] = None
    return list(points)[:_MOST_POINTS] or [None]
