"""A serial number leads to one family, so two families of one maker must not cover the same number in the same years;
nor must two ranges of one family. Families without serial numbers are told apart by name alone and are not compared.
Correct the end that is wrong; or, if the maker did start counting again, give both families the years in which each
series was stamped."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from kb.book.model.family import Range
from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase, RuleContext
from kb.intake.facts.serial_overlap import Claim, can_be_ordered, meeting
from kb.intake.rules import Bad, Facts, Good, Rule


def extract_facts(case: FileCase) -> Any:
    """The ranges of serial numbers of one family, with their years."""
    found = [
        {
            "path": list(case.original(("fits", index, "serials"))),
            "serials": [fit.serials.first, fit.serials.last],
            "years": [fit.years.first, fit.years.last] if fit.years else None,
        }
        for index, fit in enumerate(case.family.fits)
        if fit.serials and can_be_ordered(fit.serials)
    ]
    return found or None


def check(facts: Facts, _context: RuleContext) -> Iterator[tuple[str, Slip]]:
    """Every two ranges that overlap; the later one in the book is reported."""
    claims = [
        Claim(file, tuple(fit["path"]), Range(*fit["serials"]), Range(*fit["years"]) if fit["years"] else None)
        for file, fits in facts.items()
        for fit in fits
    ]
    for earlier, later in meeting(claims):
        family = earlier.file.removeprefix("families/").removesuffix(".yaml")
        whose = "another range of this family" if earlier.file == later.file else family
        what = f"serial numbers {later.serials} overlap those of {whose}, {earlier.serials}"
        all_dated = earlier.years and later.years
        do = "correct the end that is wrong" + ("" if all_dated else ", or give both the years they were stamped in")
        yield later.file, Slip(later.path, what, do)


_OTHER = "families/skerrow/other.yaml"

RULE = Rule(
    severity=Severity.ERROR,
    reads="maker",
    summary="two families of one maker claim the same engine",
    why="whoever looks up a serial number would get two families, and could set the engine by the wrong one",
    bad=(
        Bad(
            "fits:\n  - years: [1970, 1978]\n    serials: {from: 100100, to: 300100}\n",
            where="{from: 100100, to: 300100}",
            file=_OTHER,
        ),
        Bad("fits:\n  - serials: {from: 418000}\n", where="{from: 418000}", file=_OTHER),
        Bad(
            "fits:\n  - serials: {from: B 100, to: B 200}\n  - serials: {from: B 200, to: B 300}\n",
            where="{from: B 200, to: B 300}",
        ),
    ),
    good=(
        Good("fits:\n  - serials: {from: 419000, to: 500000}\n", file=_OTHER),
        Good("fits:\n  - years: [1970, 1977]\n    serials: {from: 100100, to: 300100}\n", file=_OTHER),
        Good("fits:\n  - serials: {from: B 300100, to: B 418999}\n", file=_OTHER),
        Good("fits:\n  - years: [1978, 1981]\n", file=_OTHER),
    ),
    check=check,
    extract_facts=extract_facts,
)
