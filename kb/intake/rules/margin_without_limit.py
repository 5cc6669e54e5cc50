"""A margin is kept on the late side of a maximum, whose early end is the dangerous one. If a catalogue entry allows a
margin and does not say that later is its safest end, a target could drift off a figure that has no safe side: too late
a pickup bogs, too late an idle stalls."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """The margin of a catalogue entry compared with its safest end."""
    entry = case.document
    if entry.get("margin_limit") and entry.get("safest_end") != "later":
        what = f"a margin is allowed, but the safest end is {entry.get('safest_end', 'not given')}"
        yield Slip(("margin_limit",), what, "delete margin_limit, or write safest_end: later if this is a maximum")


_PICKUP, _MAXIMUM = "catalogue/throttle-pickup.yaml", "catalogue/max-advance.yaml"

RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a margin on a figure that has no safe late side",
    why="a target would be moved to the late side of a figure that must be met exactly",
    bad=(
        Bad("margin_limit: {deg: 2}\n", where="{deg: 2}", file=_PICKUP),
        Bad("margin_limit: {deg: 1}\n", where="{deg: 1}", file="catalogue/idle-timing.yaml"),
        Bad("safest_end: none\n", where="{deg: 2}", file=_MAXIMUM),
        Bad("safest_end: earlier\n", where="{deg: 2}", file=_MAXIMUM),
    ),
    good=(
        Good("margin_limit: {deg: 1.5}\n", file=_MAXIMUM),
        Good("safest_end: later\nmargin_limit: {deg: 1}\n", file=_PICKUP),
        Good("safest_end: later\n", file=_PICKUP),
    ),
    check=check,
    kinds=("figure",),
)
