"""Overlapping ranges of serial numbers, found in one sweep over all ranges of a maker."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from kb.book.model.engine_kinds import SerialKey, same_shape, serial_key, years_meet
from kb.book.model.family import Range

_End = tuple[int, SerialKey]


class Claim(NamedTuple):
    """A range of serial numbers in the years it was stamped, with its place."""

    file: str
    path: tuple[str | int, ...]
    serials: Range
    years: Range | None


def can_be_ordered(serials: Range) -> bool:
    """Whether a range has an end, and its two ends, if it has both, have the same pattern."""
    first, last = (serial_key(end) if end else None for end in (serials.first, serials.last))
    return bool(first or last) and not (first and last and not same_shape(first, last))


def meeting(claims: Iterable[Claim]) -> Iterator[tuple[Claim, Claim]]:
    """Pairs of overlapping claims, the one earlier in the book first: each claim with one before it in numeric order.

    ``can_be_ordered`` must hold for every claim. Ranges of numbers with different patterns never overlap.
    """
    shapes: dict[tuple[bool, ...], list[tuple[_End, _End, Claim]]] = {}
    for claim in claims:
        first, last = (serial_key(end) if end else None for end in (claim.serials.first, claim.serials.last))
        shape = tuple(isinstance(run, int) for run in first or last or ())
        low, high = (1, first) if first else (0, ()), (1, last) if last else (2, ())
        shapes.setdefault(shape, []).append((low, high, claim))
    for ranges in shapes.values():
        ranges.sort(key=lambda one: (one[0], one[2].file, str(one[2].path)))
        yield from _sweep(ranges)


def _sweep(ranges: Sequence[tuple[_End, _End, Claim]]) -> Iterator[tuple[Claim, Claim]]:
    running: list[tuple[_End, _End, Claim]] = []
    for low, high, claim in ranges:
        running = [other for other in running if other[1] >= low]
        for _, _, other in running:
            if not (claim.years and other.years) or years_meet(claim.years, other.years):
                yield (other, claim) if other[:2] <= claim[:2] else (claim, other)
                break
        running.append((low, high, claim))
