"""Checking and compiling at a hundred thousand families, and how their cost grows from a hundredth of that to all."""

from __future__ import annotations

from collections.abc import Iterator
from math import log

from tests.benchmarks.compiling import Costs, cost_rows, measured
from tests.benchmarks.measure import Row

EXPONENT = 1.05
"""The most that processor time may grow with the size of the book, as a power of it."""


def rows(families: int) -> Iterator[Row]:
    """Every figure, as it is measured.

    Growth is judged from a tenth to all. The tenth is measured before all of it and once more after it: in the half
    hour between, a machine changes its pace by as much as what is looked for.
    """
    sizes = [size for size in (families // 100, families // 10, families) if size]
    costs = [measured(size) for size in sizes]
    yield from cost_rows(costs[-1])
    costs += [measured(size) for size in sizes[-2:-1]]
    for what, field in (("check", "check"), ("compile, kept", "after_check"), ("compile, cold", "cold")):
        yield from _grown(what, field, costs)


def _grown(what: str, field: str, costs: list[Costs]) -> Iterator[Row]:
    """How one command's cost grows to the largest book, from the mean of the two measurements around it."""
    taken = [(one.families, getattr(one, field)) for one in costs]
    each = ", ".join(f"{size}: {one.seconds / size * 1000:.2f} ms {one.memory / 1e6:.0f} MB" for size, one in taken)
    match taken[-3:]:
        case [(few, before), (many, large), (_, after)]:
            exponent = log(large.seconds / ((before.seconds + after.seconds) / 2)) / log(many / few)
            yield Row(f"{what}: growth", f"exponent {exponent:.3f}", each, str(EXPONENT), exponent <= EXPONENT)
