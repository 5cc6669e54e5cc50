"""A colon followed by a space ends a key. Text that contains one must be in quotes."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Show the text in quotes."""
    words = fault.found
    quote = "'" if '"' in words else '"'
    fits = not words.endswith("…") and quote not in words and words[:1] not in "\"'"
    what = f"the colon in {words} makes it look like another key"
    do = f"put the text in quotes: {quote}{words}{quote}" if fits else "put everything after the first colon in quotes"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a colon inside text without quotes",
    why="there is no telling whether it ends a key or belongs to the text",
    bad=(
        Bad("look_for: E31: stamped below the coil\n", where="E31: stamped below the coil"),
        Bad(
            "figures:\n  plug-gap:\n    - mm: 0.9\n      source: plate\n      note: says: about 0.9\n",
            where="says: about 0.9",
        ),
        Bad(
            "figures:\n  idle-stop:\n    - mark: line: the upper one  # of two\n      state: at-rest\n",
            where="line: the upper one",
        ),
        Bad("look_for: plate reads\u00a0E31: or E32\n", where="plate reads\u00a0E31: or E32"),
    ),
    good=(
        Good('look_for: "E31: stamped below the coil"\n'),
        Good("look_for: stamped 3:1 below the coil\n"),
        Good("look_for: see https://example.org\n"),
    ),
    check=check,
)
