"""Numbers to run calculations on: the same on every machine, since none needs more than one rounded operation."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random


def powers(first: int, last: int, *mantissas: str) -> list[float]:
    """Numbers over many powers of ten, such as 1e-12, 2e-12, 5e-12, 1e-11.

    >>> powers(-1, 0, "1", "2.5")
    [0.1, 0.25, 1.0, 2.5]
    """
    return [
        float(f"{mantissa}e{power}") for power in range(first, last + 1) for mantissa in mantissas or ("1", "2", "5")
    ]


def steps(first: float, last: float, count: int) -> list[float]:
    """Numbers from one to another in ``count`` even steps, both ends included.

    >>> steps(0, 3, 3)
    [0.0, 1.0, 2.0, 3.0]
    """
    return [first + (last - first) * step / count for step in range(count + 1)]


def scattered(count: int, *ranges: tuple[float, float], places: int = 3, seed: int = 1) -> Iterator[tuple[float, ...]]:
    """Rows of numbers scattered over ranges, rounded to decimal places; always the same rows for the same seed.

    >>> list(scattered(1, (0, 1), (10, 20)))
    [(0.134, 18.474)]
    """
    chance = Random(seed)
    for _ in range(count):
        yield tuple(round(low + (high - low) * chance.random(), places) for low, high in ranges)
