"""YAML reserves some signs at the beginning of a value: ``@``, the backtick, ``%``, ``&``, ``*``, ``,`` and ``?``. Text
that begins with one of them must be in quotes."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Show the text in quotes."""
    words = fault.found
    quote = "'" if '"' in words else '"'
    fits = not words.endswith("…") and quote not in words
    what = f"text cannot begin with {words[:1]} unless it is in quotes"
    do = f"write {quote}{words}{quote}" if fits else "put quotes around the text"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="text that begins with a sign reserved by YAML",
    why="it would be obeyed as an instruction instead of read as text",
    bad=(
        Bad("look_for: @ the coil\n", where="@ the coil"),
        Bad("look_for: `E31` below the coil  # a plate\n", where="`E31` below the coil"),
        Bad("look_for: % of the scale\n", where="% of the scale"),
        Bad("look_for: & Sons\n", where="& Sons"),
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9, note: @plate, source: plate}\n", where="@plate"),
    ),
    good=(Good('look_for: "@ the coil"\n'), Good("look_for: E31 @ the coil, 50 %\n")),
    check=check,
)
