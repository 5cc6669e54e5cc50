"""Some keys take one of a few fixed words: a state, a type of ignition, a kind of source. Any other word would never
match anything, so the nearest allowed words are offered."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.models.spelling import either, write_instead
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault

_FEW = 12


def check(fault: Fault) -> Iterator[Slip]:
    """Offer the nearest words, else all that are allowed."""
    key = next((part for part in reversed(fault.path) if isinstance(part, str)), "this")
    some = either(fault.expected) if len(fault.expected) <= _FEW else f"one of {', '.join(fault.expected)}"
    do = write_instead(fault.found.strip("'"), fault.expected, f"write {some}")
    yield Slip(fault.path, f"{fault.found} is not a value that {key} can have", do)


RULE = Rule(
    severity=Severity.ERROR,
    reads="typing",
    summary="a word that is not one of those allowed there",
    why="it would never match what anyone looks for",
    bad=(
        Bad("figures:\n  max-advance:\n    - {btdc: 24, state: runing, source: handbook, page: 42}\n", where="runing"),
        Bad("ignition: {type: CDI}\n", where="CDI"),
        Bad("linkage: cam touches at idle\n", where="cam touches at idle"),
        Bad("kind: manual\n", where="manual", file="sources/manual.yaml"),
    ),
    good=(
        Good("ignition: {type: battery-capacitor-discharge}\n"),
        Good("figures:\n  max-advance:\n    - {btdc: 24, state: static, source: handbook, page: 42}\n"),
    ),
    check=check,
)
