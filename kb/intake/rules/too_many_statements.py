"""A figure has a few statements about a handful of parts of the family. More than 150 statements of one figure, more
than 12 parts distinguished by `only`, or more than 60 ranges under `fits` mean several families in one file, or a table
that belongs elsewhere. Such a figure is not compared. Make a separate family of the engines set differently."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Part, Severity, Slip
from kb.intake.facts.family_facts import MOST_FITS, MOST_PARTS, MOST_STATEMENTS, has_too_many
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """The number of ranges, and of statements and parts of each figure."""
    do = "make a separate family of the engines that are set differently"
    if len(case.family.fits) > MOST_FITS:
        yield Slip(("fits",), f"{len(case.family.fits)} ranges; the limit is {MOST_FITS}", do, Part.KEY)
    for figure, statements in case.family.statements.items():
        if has_too_many(statements):
            parts = len({one.only for one in statements if one.only})
            what = f"{len(statements)} statements about {parts} parts of the family"
            limits = f"the limits are {MOST_STATEMENTS} and {MOST_PARTS}"
            yield Slip(("figures", figure), f"{what}; {limits}", do, Part.KEY)


def _gaps(count: int, only: str = "") -> str:
    lines = (f"    - {{mm: 0.9, source: plate{only.format(301000 + 100 * index)}}}\n" for index in range(count))
    return f"figures:\n  plug-gap:\n{''.join(lines)}"


_PART = ", only: {{serials: {{from: {0}, to: {0}}}}}"
_FITS = "".join(f"  - serials: {{from: {number}00, to: {number}99}}\n" for number in range(4000, 4061))

RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="far more statements, parts or ranges than a family has",
    why="comparing each with every other would take minutes, and nobody could read the page",
    bad=(
        Bad(_gaps(151), where="plug-gap"),
        Bad(_gaps(13, _PART), where="plug-gap"),
        Bad(f"fits:\n{_FITS}", where="fits"),
    ),
    good=(Good(_gaps(12, _PART)), Good(_gaps(20)), Good(f"fits:\n{_FITS.split(chr(10), 1)[1]}")),
    check=check,
)
