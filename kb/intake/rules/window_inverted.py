"""A window is written [smaller, larger], whatever its side; one that straddles top dead centre goes from early to
late."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say which number is greater and what to write."""
    yield Slip(fault.path, fault.found, f"write {fault.expected[0]} if {fault.page} agrees", fault.part)


RULE = Rule(
    severity=Severity.ERROR,
    reads="typing",
    summary="a window whose first end is beyond its second",
    why="an engine may be set anywhere between the two ends; the wrong way round there is no such place",
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
        Bad(
            """
figures:
  idle-timing:
    - {from: {atdc: 3}, to: {btdc: 2}, state: cranking, source: handbook, page: 40}
""",
            where="{atdc: 3}",
        ),
        Bad("figures:\n  plug-gap:\n    - {in: 0.035, also: {mm: [1, 0.9]}, source: plate}\n", where="[1, 0.9]"),
        Bad(
            """
figures:
  max-advance:
    - {btdc: {mm: [3.1, 2.9]}, state: cranking, source: handbook, page: 42}
""",
            where="[3.1, 2.9]",
        ),
        Bad(
            """
figures:
  max-advance:
    - {btdc: 22, state: running, at: {rpm: [5500, 5000]}, source: handbook, page: 42}
""",
            where="[5500, 5000]",
        ),
    ),
    good=(
        Good("figures:\n  throttle-pickup:\n    - {atdc: [4, 6], state: cranking, source: handbook, page: 41}\n"),
        Good("figures:\n  throttle-pickup:\n    - {atdc: [4, 4], state: cranking, source: handbook, page: 41}\n"),
        Good(
            """
figures:
  idle-timing:
    - {from: {btdc: 2}, to: {atdc: 3}, state: cranking, source: handbook, page: 40}
"""
        ),
    ),
    check=check,
)
