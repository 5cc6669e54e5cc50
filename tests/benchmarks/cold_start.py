"""The command from a cold start, with ten thousand families in the book; beside bare Python."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

from tests.benchmarks.generate import family_name, maker_id
from tests.benchmarks.looking_up import compiled
from tests.benchmarks.measure import Row, bare, best_of, how_often, in_milliseconds, processor_time


def rows(families: int) -> Iterator[Row]:
    """Every figure, as it is measured."""
    book = compiled(families)
    family = f"{maker_id(0)}/{family_name(0)}"
    show: list[str | Path] = ["show", "--book", book, family, "max-advance", "--state", "cranking"]
    rounds = how_often(families, 9)
    yield _row("look-up by id, cold", show, 5, rounds)
    stand: list[str | Path] = ["--margin", "1", "--dead-centre-reads", "2 before"]
    yield _row("aim, cold", ["aim", *show[1:], *stand], 5, rounds)
    yield _row("--help, cold", ["--help"], 4, rounds)


def _row(what: str, arguments: list[str | Path], budget: int, rounds: int) -> Row:
    command = Path(sys.executable).with_name("stopscrew")
    taken = best_of(rounds, lambda: processor_time([command, *arguments]))
    times = taken / bare()
    peer = f"bare Python {in_milliseconds(bare())}: {times:.1f} times"
    return Row(what, in_milliseconds(taken), peer, f"{budget} times bare Python", times <= budget)
