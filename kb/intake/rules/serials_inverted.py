"""A range of serial numbers goes from the smaller to the greater, both included, and both have the same pattern of
letters and digits, as stamped. `A 900` comes before `A 12000`, because runs of digits count as numbers; spaces, hyphens
and dots do not count. Swap the two ends, or look for a letter that one of them has lost."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.model.engine_kinds import same_shape, serial_key
from kb.finding import Severity, Slip
from kb.intake.facts.range_places import ranges
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Every range of serial numbers that ends before it begins, or whose ends cannot be put in order."""
    for path, serials in ranges(case, "serials"):
        if not (serials.first and serials.last):
            continue
        first, last = serial_key(serials.first), serial_key(serials.last)
        if not same_shape(first, last):
            what = f"{serials.first} and {serials.last} have different patterns, so neither comes before the other"
            yield Slip(path, what, "write both as stamped, with letters and digits in the same places")
        elif first > last:
            what = f"the first serial number, {serials.first}, comes after the last, {serials.last}"
            do = f"write {{from: {serials.last}, to: {serials.first}}}, or correct the digit that is wrong"
            yield Slip(path, what, do)


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a range of serial numbers that ends before it begins, or whose ends have different patterns",
    why="no engine has a number in that range, so nothing that depends on it is ever found",
    bad=(
        Bad("fits:\n  - serials: {from: 418999, to: 300100}\n", where="{from: 418999, to: 300100}"),
        Bad("fits:\n  - serials: {from: B 12000, to: B 900}\n", where="{from: B 12000, to: B 900}"),
        Bad("fits:\n  - serials: {from: B 300100, to: 418999}\n", where="{from: B 300100, to: 418999}"),
        Bad(
            "figures:\n  plug-gap:\n    - {mm: 0.8, source: plate, only: {serials: {from: 360000, to: 350000}}}\n",
            where="{from: 360000, to: 350000}",
        ),
    ),
    good=(
        Good("fits:\n  - serials: {from: B 900, to: B-12000}\n"),
        Good("fits:\n  - serials: {from: 300100, to: 300100}\n"),
        Good("fits:\n  - serials: {from: A99999, to: B00001}\n"),
        Good("fits:\n  - serials: {from: 300100}\n  - serials: {to: 1200}\n"),
    ),
    check=check,
    kinds=("family", "withdrawn"),
)
