"""A serial number leads to one family, so the ranges of two families of one maker must not hold the same number in
the same years; neither must two ranges of one family. Families that give no serial numbers are told apart by name
alone and are not compared. Mend the end that is wrong, or, where a maker did count anew, give both families the
years in which each series was stamped."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from kb.book.engines import SerialKey, serial_key, years_meet
from kb.book.records import Range
from kb.finding import Severity, Slip
from kb.intake.desk import Case, Desk
from kb.intake.rules import Bad, Good, Rule

_End = tuple[int, SerialKey]
_Fit = tuple[_End, _End, str, dict[str, Any]]


def gather(case: Case) -> Any:
    """The ranges of serial numbers of one family, with their years."""
    found = [
        {
            "path": list(case.original(("fits", index, "serials"))),
            "serials": [fit.serials.first, fit.serials.last],
            "years": [fit.years.first, fit.years.last] if fit.years else None,
        }
        for index, fit in enumerate(case.family.fits)
        if fit.serials and (fit.serials.first or fit.serials.last)
    ]
    return found or None


def check(facts: Mapping[str, Any], _desk: Desk) -> Iterator[tuple[str, Slip]]:
    """Each range in order of its first number, against those before it that have not ended."""
    shapes: dict[tuple[bool, ...], list[_Fit]] = {}
    for file, fits in facts.items():
        for fit in fits:
            first, last = (serial_key(end) if end else None for end in fit["serials"])
            shape = tuple(isinstance(run, int) for run in first or last or ())
            low, high = (1, first) if first else (0, ()), (1, last) if last else (2, ())
            shapes.setdefault(shape, []).append((low, high, file, fit))
    for ranges in shapes.values():
        ranges.sort(key=lambda one: (one[0], one[2]))
        running: list[_Fit] = []
        for one in ranges:
            running = [other for other in running if other[1] >= one[0]]
            for other in running:
                if _same_years(one[3], other[3]):
                    earlier, later = sorted((one, other), key=lambda fit: (fit[2], fit[3]["path"]))
                    yield later[2], _slip(earlier, later)
                    break
            running.append(one)


def _same_years(one: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    years, others = one["years"], other["years"]
    return not (years and others) or years_meet(Range(*years), Range(*others))


def _slip(earlier: _Fit, later: _Fit) -> Slip:
    family = earlier[2].removeprefix("families/").removesuffix(".yaml")
    whose = "another range of this family" if earlier[2] == later[2] else family
    what = f"serial numbers {Range(*later[3]['serials'])} meet those of {whose}, {Range(*earlier[3]['serials'])}"
    years = [fit["years"] for fit in (earlier[3], later[3])]
    do = "mend the end that is wrong" + ("" if all(years) else ", or give both the years in which they were stamped")
    return Slip(tuple(later[3]["path"]), what, do)


_OTHER = "families/skerrow/other.yaml"

RULE = Rule(
    severity=Severity.ERROR,
    reads="maker",
    summary="two families of one maker claim the same engine",
    why="whoever looks an engine up by its serial number would be given two families, and set it by the wrong one",
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
    gather=gather,
)
