"""The second reading of a page is by another person, without sight of the first. Two readings by the same person catch
no mistake: the eye sees what it saw before."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """The readings of every statement."""
    for figure, statements in case.family.statements.items():
        for statement in statements:
            readings = statement.document.get("readings", ())
            if len(readings) < 2:
                continue
            seen: set[str] = set()
            for index, reading in enumerate(readings):
                reader = reading["by"].strip().casefold()
                if reader in seen:
                    path = ("figures", figure, statement.index, "readings", index, "by")
                    do = "delete this reading, and ask someone else to read the page"
                    yield Slip(path, f"{reading['by']} has already read this page", do)
                seen.add(reader)


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="two readings of one statement by the same person",
    why="it would count as a second reader when there was none",
    bad=(
        Bad(
            "figures:\n  plug-gap:\n    - {mm: 0.9, source: plate, readings: [{by: mk, on: 2026-03-02}, "
            "{by: mk, on: 2026-04-11}]}\n",
            where="mk",
        ),
        Bad(
            "figures:\n  plug-gap:\n    - {mm: 0.9, source: plate, readings: [{by: mk, on: 2026-03-02}, "
            "{by: MK, on: 2026-04-11, blind: true}]}\n",
            where="MK",
        ),
        Bad(
            "figures:\n  plug-gap:\n    - {mm: 0.9, source: plate, readings: [{by: mk, on: 2026-03-02}, "
            "{by: ro, on: 2026-03-05, blind: true}, {by: ro, on: 2026-04-11}]}\n",
            where="ro",
        ),
    ),
    good=(
        Good(
            "figures:\n  plug-gap:\n    - {mm: 0.9, source: plate, readings: [{by: mk, on: 2026-03-02}, "
            "{by: ro, on: 2026-03-02}]}\n"
        ),
        Good(
            "figures:\n  plug-gap:\n    - {mm: 0.9, source: plate, readings: [{by: mk, on: 2026-03-02}]}\n"
            "    - {mm: 0.9, source: bench, readings: [{by: mk, on: 2026-03-02}]}\n"
        ),
    ),
    check=check,
)
