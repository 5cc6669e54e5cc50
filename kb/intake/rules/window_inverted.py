"""A window is written [smaller, larger], whatever the side; a straddling one from early to late."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.fault import Fault
from kb.intake.rules import Bad, Good, Rule


def check(fault: Fault) -> Iterator[Slip]:
    """Say which number is the greater and what to write."""
    yield Slip(fault.path, fault.found, f"write {fault.expected[0]} if the page agrees", fault.part)


RULE = Rule(
    severity=Severity.ERROR,
    reads="typing",
    summary="the first end of a window lies beyond the second",
    why="anyone may set anywhere between the two ends; the wrong way round there is no such place",
    bad=(
        Bad(
            """
figures:
  throttle-pickup:
    - atdc: [6, 4]
      state: cranking
      source: handbook
      page: 41
""",
            where="[6, 4]",
        ),
    ),
    good=(Good("figures:\n  throttle-pickup:\n    - {atdc: [4, 6], state: cranking, source: handbook, page: 41}\n"),),
    check=check,
)
