"""A quote inside quoted text ends it. Inside single quotes write it twice, inside double quotes with a backslash before
it."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say how to write a quote inside quotes."""
    inner = "twice ('')" if fault.expected[0] == "'" else 'with a backslash before it (\\")'
    what = f"in {fault.found} something follows the closing quote"
    do = f"put all of it in quotes; write a quote inside the text {inner}"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="text after a closing quote",
    why="there is no telling what belongs to the value",
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
