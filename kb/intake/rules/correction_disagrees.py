"""The cranking maximum, the running maximum and the correction depend on each other: the correction is the cranking
reading minus the running reading. If the three from one source do not add up within the digits they print, a digit, a
state or the side of the correction is wrong. Across sources it is a dispute, and a warning. A running maximum is
compared only at a speed for which the correction is known. A maximum that is superseded still adds up with the one in
the other state that took its place, unless a newer maximum of its own state did."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.citation import one_per_place, quoted, value_path
from kb.intake.facts.correction_sums import adds_up, correction_triples
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule
from kb.vocabulary.conditions import Gear


def check(case: FileCase) -> Iterator[Slip]:
    """Every cranking maximum with every running maximum and correction that hold for the same engine."""
    return one_per_place(_disagreeing(case))


def _disagreeing(case: FileCase) -> Iterator[Slip]:
    for (cranking, running, correction), one_source in correction_triples(case.family_facts):
        if not adds_up(case.family_facts, cranking, running, correction):
            maxima = f"{quoted(cranking)} while cranking and {quoted(running)} when running"
            what = f"{maxima} contradict the correction, by which the timing {quoted(correction)}"
            do = "check the pages: a digit, a state, or the side of the correction is wrong"
            yield Slip(value_path(correction), what, do, severity=None if one_source else Severity.WARNING)


_MAXIMA = """
figures:
  max-advance:
    - {btdc: 24, state: cranking, source: handbook, page: 42}
    - {btdc: 22, state: running, at: {rpm: 5000}, source: handbook, page: 42}
"""
_CORRECTION = "  cranking-correction:\n    - {at: {rpm: 5000}, source: handbook, page: 42, "
_NO_ROD = "{cycle: two-stroke, cylinders: 3, layout: in-line, firing_order: [1, 3, 2], even_fire: true}"
_UNLIKE_GEARS = ((Gear.NEUTRAL, Gear.IN_GEAR, ""), (Gear.NEUTRAL, "", Gear.IN_GEAR), ("", Gear.NEUTRAL, Gear.IN_GEAR))
"""Of the cranking maximum, the running one and a correction that does not add up with them."""


def _in_gears(cranking: str, running: str, correction: str) -> str:
    at_each = [f", gear: {gear}" if gear else "" for gear in (cranking, running, correction)]
    return (
        "figures:\n  max-advance:\n"
        f"    - {{btdc: 24, state: cranking, at: {{rpm: 300{at_each[0]}}}, source: handbook, page: 42}}\n"
        f"    - {{btdc: 22, state: running, at: {{rpm: 5000{at_each[1]}}}, source: handbook, page: 42}}\n"
        f"  cranking-correction:\n"
        f"    - {{cranking_earlier: 4, at: {{rpm: 5000{at_each[2]}}}, source: handbook, page: 42}}\n"
    )


_ENGINES = "only: {serials: {from: 350000}}, supersedes: {source: handbook, page: 42}"
_LATER = f"""
figures:
  max-advance:
    - {{btdc: 24, state: cranking, source: handbook, page: 42}}
    - {{btdc: 22, state: running, at: {{rpm: 5000}}, source: leaflet, page: 2,
       {_ENGINES}}}
"""
_NEWER = f"    - {{btdc: 24, state: cranking, source: leaflet, page: 2, {_ENGINES}}}\n"

RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="cranking and running maximum do not differ by the correction",
    why="one of the three sets the maximum too early, which can hole a piston",
    bad=(
        Bad(f"{_MAXIMA}{_CORRECTION}cranking_later: 2}}\n", where="2"),
        Bad(f"{_MAXIMA.replace('24', '27')}{_CORRECTION}cranking_earlier: 2}}\n", where="2"),
        Bad(
            f"{_MAXIMA.replace('24', '[24, 26]').replace('22', '[22, 23]')}{_CORRECTION}cranking_earlier: 2}}\n",
            where="2",
        ),
        Bad(
            f"{_MAXIMA}  cranking-correction:\n    - source: handbook\n      page: 42\n"
            "      by_rpm: [{rpm: 1000, cranking_earlier: 1}, {rpm: 6000, cranking_later: 4}]\n",
            where="[{rpm: 1000, cranking_earlier: 1}, {rpm: 6000, cranking_later: 4}]",
        ),
        Bad(
            f"{_MAXIMA}{_CORRECTION.replace('handbook', 'manual')}cranking_earlier: 3}}\n",
            where="3",
            severity=Severity.WARNING,
        ),
        Bad(f"{_LATER}{_CORRECTION}cranking_later: 2}}\n", where="2", severity=Severity.WARNING),
        Bad(
            f"{_LATER.replace('btdc: 24', 'btdc: 27')}{_CORRECTION}cranking_earlier: 2}}\n",
            where="2",
            severity=Severity.WARNING,
        ),
    ),
    good=(
        Good(f"{_MAXIMA}{_CORRECTION}cranking_earlier: 2}}\n"),
        Good(f"{_MAXIMA.replace('22', '22.4')}{_CORRECTION}cranking_earlier: 2}}\n"),
        Good(f"{_MAXIMA.replace('24', '[24, 26]').replace('22', '23')}{_CORRECTION}cranking_earlier: 2}}\n"),
        Good(f"{_MAXIMA}{_CORRECTION.replace('5000', '3000')}cranking_earlier: 1}}\n"),
        *(Good(_in_gears(*gears)) for gears in _UNLIKE_GEARS),
        Good(
            f"{_MAXIMA.replace('btdc: 22', 'btdc: {mm: 4.1}')}{_CORRECTION}cranking_earlier: 2}}\nengine: {_NO_ROD}\n"
        ),
        Good(f"{_LATER}{_CORRECTION}cranking_earlier: 2}}\n"),
        Good(f"{_LATER.replace('btdc: 24', 'btdc: 27')}{_NEWER}{_CORRECTION}cranking_earlier: 2}}\n"),
    ),
    check=check,
    may_warn=True,
)
