"""The key ``<<`` of YAML 1.1 merges one mapping into another. In this book every key is written where it belongs."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say what to write instead."""
    what = "<< merges the keys of another mapping into this one"
    do = "write those keys here, each on its own line, and delete <<"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a merge key (<<)",
    why="a figure would be written in one place and apply in another, and programs disagree about which key wins",
    bad=(
        Bad("engine:\n  <<: {cylinders: 3}\n  cycle: two-stroke\n  power: {hp: 31}\n", where="<<"),
        Bad("figures:\n  plug-gap:\n    - {<<: {mm: 0.9}, source: plate}\n", where="<<"),
        Bad("figures:\n  plug-gap:\n    - &a {mm: 0.9, source: plate}\n    - <<: *a\n      page: 3\n", where="<<"),
    ),
    good=(Good("look_for: <<E31>> stamped below the coil\n"), Good("look_for: E31\n# <<: *plate\n")),
    check=check,
)
