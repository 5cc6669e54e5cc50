"""A file of the book has a few hundred keys and values. One with many thousands is a table from elsewhere and is not
read."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say how many is too many."""
    most, things = fault.expected
    holder = "the file" if " " in things else "this mapping"
    what = f"{holder} has more than {int(most):,} {things}; this is the first one over the limit"
    do = "write one family per file, and keep other tables out of the book"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="far more keys than a file of the book needs",
    why="somebody has to review every key",
    bad=(
        Bad("".join(f"k{number}: 1\n" for number in range(1_200)), where="k1000", whole=True),
        Bad("look_for: {" + ", ".join(f"k{number}" for number in range(1_200)) + "}\n", where="k1000"),
        Bad("look_for: [" + "a," * 20_000 + "]\n", where="a"),
    ),
    good=(
        Good("look_for: {" + ", ".join(f"k{number}" for number in range(1_000)) + "}\n"),
        Good("look_for: [" + "a," * 15_000 + "]\n"),
    ),
    check=check,
)
