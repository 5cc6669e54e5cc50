"""Text needs no quotes unless it would be read as something else without them: yes, no, a number, a date, text with a
colon or a hash sign, or text that begins with a sign. Ids, pages, serials and codes may be written either way."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Show the same without quotes."""
    what = f"{fault.found} means the same without its quotes"
    do = f"write {fault.expected[0]}" if len(fault.expected[0]) < 60 else "delete the two quotes"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.WARNING,
    reads="text",
    summary="quotes that change nothing",
    why="in this book quotes mean that something would be misread without them",
    bad=(
        Bad('look_for: "E31 stamped below the coil"\n', where='"E31 stamped below the coil"'),
        Bad(
            "figures:\n  plug-gap:\n    - {mm: 0.9, source: plate, note: 'read in poor light'}\n",
            where="'read in poor light'",
        ),
        Bad('engine: {"cycle": two-stroke, cylinders: 3, power: {hp: 31}}\n', where='"cycle"'),
        Bad('cautions: ["too-much-advance"]\n', where='"too-much-advance"'),
    ),
    good=(
        Good('look_for: "no"\n'),
        Good('look_for: "E31: stamped below the coil"\n'),
        Good('look_for: "E31 #2 below the coil"\n'),
        Good('look_for: "007"\n'),
        Good('figures:\n  plug-gap:\n    - {mm: 0.9, source: "plate"}\n'),
        Good('look_for: it\'s "E31", below the coil\n'),
        Good('look_for: "E31\\tstamped"\n'),
    ),
    check=check,
)
