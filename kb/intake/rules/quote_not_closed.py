"""Text that begins with a quote ends with the same kind of quote. Without it, everything that follows counts as part of
the text."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say which quote is missing."""
    quote = fault.expected[0]
    what = f"the quote that opens {fault.found} is not closed where it should be"
    do = f"write {quote} at the end of the text, or delete the one at its beginning"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a quote that is not closed",
    why="everything after it, up to the next quote, is read as text",
    bad=(
        Bad('look_for: "E31 stamped below the coil\n', where='"E31 stamped below the coil'),
        Bad("look_for: 'E31 stamped below the coil\n", where="'E31 stamped below the coil"),
        Bad('look_for: "E31 stamped\ncautions: ["too-much-advance"]\n', where='"E31 stamped'),
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9, source: 'plate}\n", where="'plate}"),
    ),
    good=(
        Good('look_for: "E31 stamped\n  below the coil"\n'),
        Good("look_for: the owner's plate\n"),
        Good('look_for: a rod of 7"\n'),
    ),
    check=check,
)
