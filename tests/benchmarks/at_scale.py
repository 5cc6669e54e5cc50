"""Checking and compiling at a hundred thousand families, and how their cost grows from a hundredth of that to all."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import log

from tests.benchmarks.compiling import Costs, cost_rows, measured
from tests.benchmarks.measure import Row

EXPONENT = 1.05
"""The most that processor time may grow with the size of the book, as a power of it."""


def rows(families: int) -> Iterator[Row]:
    """Every figure, as it is measured."""
    sizes = [size for size in (families // 100, families // 10, families) if size]
    costs = [measured(size) for size in sizes]
    yield from cost_rows(costs[-1])
    for what, field in (("check", "check"), ("compile, kept", "after_check"), ("compile, cold", "cold")):
        yield from _grown(what, field, costs)


def _grown(what: str, field: str, costs: list[Costs]) -> Iterator[Row]:
    """How one command's cost grows; where it starts counts least in the last step, which is judged."""
    taken = [(one.families, getattr(one, field)) for one in costs]
    exponents = [
        log(large.seconds / small.seconds) / log(many / few) for (few, small), (many, large) in pairwise(taken)
    ]
    if exponents:
        each = ", ".join(f"{size}: {one.seconds / size * 1000:.2f} ms {one.memory / 1e6:.0f} MB" for size, one in taken)
        yield Row(f"{what}: growth", f"exponent {exponents[-1]:.3f}", each, str(EXPONENT), exponents[-1] <= EXPONENT)
