"""A quote inside quoted words ends them. Inside single quotes it is written twice, inside double ones with a
backslash."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say how to write a quote within quotes."""
    inner = "two of them ('')" if fault.expected[0] == "'" else 'a backslash before it (\\")'
    what = f"in {fault.found} something follows the quote that ends the words"
    do = f"put all of it in quotes; a quote within them is written as {inner}"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="words that go on behind their closing quote",
    why="a computer can not tell what belongs to the value",
    bad=(
        Bad("look_for: 'it's stamped below the coil'\n", where="'it's stamped below the coil'"),
        Bad('look_for: "E31" stamped below the coil\n', where='"E31" stamped below the coil'),
        Bad(
            "figures:\n  plug-gap:\n    - mm: 0.9\n      source: plate\n      note: 'gauge' worn\n",
            where="'gauge' worn",
        ),
        Bad('look_for: "the "upper" line"\n', where='"the "upper" line"'),
    ),
    good=(
        Good("look_for: 'it''s stamped below the coil'\n"),
        Good('look_for: the plate "E31" below the coil\n'),
        Good('look_for: "the \\"upper\\" line"  # of two\n'),
    ),
    check=check,
)
